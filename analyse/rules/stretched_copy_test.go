package rules

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/measure"
)

// What is measured last is left unmeasured only where it could make no finding: whatever
// three figures one factor explains, the first of them alone, and the first two, let it
// be asked for. Without a factor to be found, satin as usual ends the asking at once.
func TestStretchedIsAskedAsFarAsItMayBe(t *testing.T) {
	found := 0
	for _, pitch := range []float64{0, 0.2, 0.3, 0.33, 0.37, 0.4, 0.43, 0.45, 0.5, 0.6, 0.8} {
		for _, run := range []float64{0, 1.2, 1.8, 2, 2.2, 2.5, 2.8, 3, 3.4, 4, 5} {
			for _, fill := range []float64{0, 0.2, 0.3, 0.34, 0.4, 0.45, 0.5, 0.55, 0.65, 0.8} {
				all := measure.Spacing{SatinPitchMM: pitch, RunStitchMM: run, FillSpacingMM: fill}
				lo, hi, n := stretchFactors(&all)
				factor := math.Sqrt(lo * hi)
				if n < stretchFigure || lo > hi || lo < stretchLeast && hi > 1/stretchLeast || factor < 1 && n == stretchFigure {
					continue
				}
				found++
				satin, runs := measure.Spacing{SatinPitchMM: pitch}, measure.Spacing{SatinPitchMM: pitch, RunStitchMM: run}
				if !mayBeStretched(&satin, 2) || !mayBeStretched(&runs, 1) || !mayBeStretched(&all, 0) {
					t.Errorf("satin %v, runs %v, fill %v go %.2f times the usual, and are not all measured", pitch, run, fill, factor)
				}
			}
		}
	}
	if found < 20 {
		t.Errorf("only %d of the spacings are stretched: the test proves little", found)
	}
	if usual := (measure.Spacing{SatinPitchMM: 0.4}); mayBeStretched(&usual, 2) {
		t.Error("satin 0.40 mm apart is as usual, and yet runs and fills are measured")
	}
}

// A figure in the middle of what is usual was not stretched, whatever the others are.
func TestUsualAlready(t *testing.T) {
	for _, c := range []struct {
		runs, factor float64
		want         bool
	}{{2.5, 1.13, true}, {2.59, 1.13, true}, {2.61, 1.13, false}, {2.2, 1.13, true}, {3, 1.13, false}, {2.42, 0.8, true}, {2.39, 0.8, false}, {0, 1.13, false}} {
		if got := usualAlready(&measure.Spacing{SatinPitchMM: 0.4 * c.factor, RunStitchMM: c.runs}, c.factor); got != c.want {
			t.Errorf("runs of %v mm, factor %v: %t", c.runs, c.factor, got)
		}
	}
}
