package analyse_test

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/internal/truth"
	"github.com/stopcard/stopcard/analyse/report"
)

// Designs that put together what others have apart are told right: roles, pieces, hand
// work, flaws, and no alarm where a design is sound.
func TestCompounds(t *testing.T) {
	wholeOnly(t)
	seeds := []uint64{9001}
	if os.Getenv("STOPCARD_EVERY_DESIGN") != "" {
		seeds = []uint64{9001, 9002, 9003, 9004, 9005, 9006}
	}
	for _, seed := range seeds {
		wrong := map[string]int{}
		designs := 0
		for _, w := range tell(append(truth.Compounds(seed), truth.Scenes(seed)...)) {
			designs++
			if what := wronglyTold(&w); len(what) > 0 {
				name, _, _ := strings.Cut(w.Way.Name, " (")
				wrong[name]++
				t.Logf("%d: %s: %s", seed, w.Way.Name, strings.Join(what, "; "))
			}
		}
		for name, n := range wrong {
			t.Errorf("%d: %s: %d designs told wrongly", seed, name, n)
		}
		t.Logf("%d: %d designs, wrongly told: %v", seed, designs, wrong)
	}
}

// wronglyTold is all that a report says wrongly of a design, or does not say.
func wronglyTold(w *told) []string {
	if len(w.Report.Stops) != len(w.Way.Stops) {
		return []string{fmt.Sprintf("%d stops, not %d", len(w.Report.Stops), len(w.Way.Stops))}
	}
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	for i, s := range w.Report.Stops {
		if !w.right(i) {
			say("stop %d is %s, not %s", s.Number, s.Role, w.Way.Stops[i][0])
		}
	}
	if w.Way.Pieces >= 0 && len(w.Report.Pieces) != w.Way.Pieces {
		say("%d pieces, not %d", len(w.Report.Pieces), w.Way.Pieces)
	}
	hands := handsTold(w.Report)
	for _, want := range w.Hands {
		if !want.May && !slices.ContainsFunc(hands, func(h toldHand) bool { return h.fits(want) }) {
			say("no %s %s before stop %d", want.Kind, want.What, want.From)
		}
	}
	for _, h := range hands {
		if h.kind != truth.Turn && !slices.ContainsFunc(w.Hands, func(want truth.Hand) bool { return h.fits(want) }) {
			say("before stop %d: %q", h.slot, h.text)
		}
	}
	for _, m := range w.Missing {
		if !slices.ContainsFunc(w.Findings, func(f report.Finding) bool {
			return tellsOfPause(f.Rule) && f.Severity.AtLeast(report.Caution) && f.Stop >= m.From-1 && f.Stop <= m.To+1
		}) {
			say("not told: no pause to %s %s at stop %d", m.Kind, m.What, m.From)
		}
	}
	for _, flaw := range w.Wrong {
		if !slices.ContainsFunc(w.Findings, func(f report.Finding) bool { return tellsFlaw(flaw, &f) }) {
			say("not told: %s at stops %v", flaw.What, flaw.Stops)
		}
	}
	for _, f := range w.Findings {
		if w.Verdict == truth.Sound && f.Severity.AtLeast(report.Caution) {
			say("%s at stop %d: %s", f.Rule, f.Stop, f.Message)
		}
	}
	return out
}

// tellsFlaw tells whether a finding is of a flaw.
func tellsFlaw(flaw truth.Flaw, f *report.Finding) bool {
	return slices.Contains(flaw.Stops, f.Stop) && strings.Contains(f.Rule, flawRules[flaw.What]) && f.Severity.AtLeast(report.Caution)
}
