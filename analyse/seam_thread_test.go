package analyse_test

import (
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
)

// A seam that holds turned-out work together is never called one for wash-away thread: the
// work would come apart in the first wash.
func TestSeamsWantAThreadThatStays(t *testing.T) {
	seams, lines := 0, 0
	for _, w := range toldOfWays() {
		for _, s := range w.Report.Stops {
			turns := slices.ContainsFunc(s.AfterSteps, func(x report.Step) bool { return x.Kind == report.StepTurnOut })
			if turns {
				seams++
			}
			if s.AnyThread {
				lines++
			}
			if turns && s.AnyThread {
				t.Errorf("%s: any thread will do for stop %d, the seam", w.Way.Name, s.Number)
			}
		}
	}
	if seams < 5 || lines < 100 {
		t.Errorf("only %d seams and %d lines for any thread", seams, lines)
	}
}
