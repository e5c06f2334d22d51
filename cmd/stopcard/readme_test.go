package main

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/rules"
	"github.com/stopcard/stopcard/cmd/internal/settingsfile"
)

// The README names every verb, and has a section for every rule with its limits
// as they stand.
func TestReadme(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for _, v := range verbs() {
		if !strings.Contains(text, "\n| `"+v.name+"`") {
			t.Errorf("no row for the verb %s", v.name)
		}
	}
	sections := map[string]string{}
	for _, s := range strings.Split(text, "\n### ")[1:] {
		name, body, _ := strings.Cut(s, "\n")
		body, _, _ = strings.Cut(body, "\n## ")
		sections[name] = strings.Join(strings.Fields(body), " ")
	}
	for _, r := range rules.All() {
		body, ok := sections[r.ID]
		if !ok || !strings.Contains(body, "Limit: ") {
			t.Errorf("no section, or no limit in it, for the rule %s", r.ID)
		}
		for _, l := range r.Limits {
			if want := "`" + l.Name + "` " + settingsfile.Plain(l.Default); !strings.Contains(body, want) {
				t.Errorf("%s: no %s", r.ID, want)
			}
		}
	}
	for _, link := range regexp.MustCompile(`\]\(([^)#]+)\)`).FindAllStringSubmatch(text, -1) {
		if _, err := os.Stat(filepath.Join("..", "..", link[1])); err != nil && !strings.Contains(link[1], "://") {
			t.Errorf("the README leads to %s: %v", link[1], err)
		}
	}
	for _, l := range report.Limits() {
		if !slices.ContainsFunc(rules.All(), func(r rules.Rule) bool { return l.Of(r.ID) }) {
			t.Errorf("the limit %s is of no rule", l.Name)
		}
	}
}
