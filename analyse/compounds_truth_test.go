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
		seeds = []uint64{9001, 9002, 9003, 4404, 4405, 770106}
	}
	for _, seed := range seeds {
		tellRight(t, append(truth.Compounds(seed), truth.Scenes(seed)...))
	}
}

// Blocks with pieces and embroidery side by side are told right, and where there is no
// piece nothing is asked of the hands.
func TestPiecesBesideEmbroidery(t *testing.T) {
	wholeOnly(t)
	tellRight(t, append(truth.MixedBlocks(9902, 40), truth.Medleys(9903, 40)...))
	if os.Getenv("STOPCARD_EVERY_DESIGN") == "" {
		return
	}
	for _, seed := range []uint64{9900, 9901, 12, 13} {
		tellRight(t, append(truth.MixedBlocks(seed, 60), truth.Medleys(seed, 120)...))
	}
}

// tellRight holds what is told of designs against the truth.
func tellRight(t *testing.T, ways []truth.Way) {
	t.Helper()
	wrong := 0
	for _, w := range tell(ways) {
		if what := wronglyTold(&w); len(what) > 0 {
			wrong++
			t.Errorf("%s: %s", w.Way.Name, strings.Join(what, "; "))
		}
	}
	t.Logf("%d designs, %d told wrongly", len(ways), wrong)
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

// Bean lines that no cut parts are told from one another.
func TestBeansTruth(t *testing.T) {
	tellRight(t, truth.Beans(31))
	if os.Getenv("STOPCARD_EVERY_DESIGN") != "" {
		tellRight(t, append(truth.Beans(32), truth.Beans(33)...))
	}
}

// Blocks are told right whichever manner of digitising they are made in.
func TestMannersTruth(t *testing.T) {
	wholeOnly(t)
	tellRight(t, truth.Manners(51))
	if os.Getenv("STOPCARD_EVERY_DESIGN") != "" {
		tellRight(t, append(truth.Manners(52), truth.Manners(53)...))
	}
}
