package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// licences gives the texts of the licences of all that is built into the page, the
// project's own first. They ask to go with every copy, and people give the page on.
// Go's own is word for word that of the modules under golang.org/x.
func licences(ctx context.Context) (string, error) {
	list := exec.CommandContext(ctx, "go", "list", "-deps", "-f", "{{with .Module}}{{.Path}}\t{{.Dir}}{{end}}", own+"/cmd/webapp/app")
	list.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0", "GOFLAGS=")
	said, err := list.Output()
	if err != nil {
		return "", fmt.Errorf("looking for what the page is made of: %w", err)
	}
	names := map[string][]string{} // of those that share a text
	var texts []string
	for _, m := range slices.Compact(slices.Sorted(strings.Lines(string(said)))) {
		name, dir, _ := strings.Cut(strings.TrimSpace(m), "\t")
		found, err := filepath.Glob(filepath.Join(dir, "LICENSE*"))
		if err != nil || len(found) == 0 {
			return "", fmt.Errorf("no licence is found for %s in %s", name, dir)
		}
		data, err := os.ReadFile(found[0])
		if err != nil {
			return "", err
		}
		text := strings.TrimSpace(string(data))
		switch {
		case name == own:
			names[text] = append(names[text], "Stopcard")
			texts = slices.Insert(texts, 0, text)
			continue
		case len(names[text]) == 0:
			texts = append(texts, text)
			if strings.HasPrefix(name, "golang.org/x/") {
				names[text] = []string{"Go"}
			}
		}
		names[text] = append(names[text], name)
	}
	var out strings.Builder
	for _, text := range texts {
		fmt.Fprintf(&out, "%s\n\n%s\n\n\n", strings.Join(names[text], ", "), text)
	}
	return strings.TrimSpace(out.String()), nil
}
