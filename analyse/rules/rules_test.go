package rules

import (
	"context"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

func ids(all []Rule) string {
	var out []string
	for _, r := range all {
		out = append(out, r.ID)
	}
	return strings.Join(out, " ")
}

func TestChoose(t *testing.T) {
	all := []Rule{{ID: "a"}, {ID: "b"}, {ID: "c"}}
	for _, c := range []struct {
		only, skip []string
		want       string
	}{
		{nil, nil, "a b c"},
		{[]string{"c", "a"}, nil, "a c"},
		{nil, []string{"b"}, "a c"},
		{[]string{"b", "c"}, []string{"b"}, "c"},
	} {
		got, err := Choose(all, &report.Settings{Only: c.only, Skip: c.skip})
		if err != nil || ids(got) != c.want {
			t.Errorf("only %v, skip %v: %q, %v", c.only, c.skip, ids(got), err)
		}
	}
}

// What cannot run is an error that says what is wrong.
func TestRulesThatCannotRun(t *testing.T) {
	none := report.Settings{}
	for want, all := range map[string][]Rule{
		`two rules are named "a"`:                    {{ID: "a"}, {ID: "a"}},
		"rule 1 has no ID":                           {{ID: "a"}, {}},
		`its limit "b" does not begin with its own`:  {{ID: "a", Limits: []report.Limit{{Name: "b"}}}},
		`its limit "ab" does not begin with its own`: {{ID: "a", Limits: []report.Limit{{Name: "ab"}}}},
	} {
		if _, err := Choose(all, &none); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %s", err, want)
		}
	}
	for _, s := range []report.Settings{{Only: []string{"x"}}, {Skip: []string{"x"}}} {
		if _, err := Choose(All(), &s); err == nil || !strings.Contains(err.Error(), `no rule is named "x"`) {
			t.Errorf("%+v: %v", s, err)
		}
	}
	circle := &measure.Step{Name: "circle", Run: func(*measure.Pass) {}}
	circle.Requires = []*measure.Step{circle}
	for want, r := range map[string]Rule{
		"what it requires under 0 is no measuring step": {ID: "a", Requires: []*measure.Step{nil}},
		"measuring step circle requires itself":         {ID: "a", Requires: []*measure.Step{circle}},
	} {
		rec, err := applique.Recognise(context.Background(), &stitchfile.Design{})
		if err != nil {
			t.Fatal(err)
		}
		p, err := measure.NewPass(context.Background(), rec, none, 1)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := r.Findings(p); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %s", err, want)
		}
	}
}

// Every rule says all that a reader of lists wants, its limits are named after it,
// and only what compares files has no check of its own.
func TestRulesAreWhole(t *testing.T) {
	for _, r := range All() {
		if r.Doc == "" || r.Severity.Rank() == 0 || len(r.Limits) == 0 && r.Bounds == "" {
			t.Errorf("%s: %+v", r.ID, r)
		}
		if (r.Check == nil) != (r.ID == "set-disagrees") {
			t.Errorf("%s: check is nil: %v", r.ID, r.Check == nil)
		}
	}
	if _, err := Choose(All(), &report.Settings{}); err != nil {
		t.Error(err)
	}
}
