package analyse_test

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// A piece that nothing tacks down is told of where others are tacked down, and not
// where pieces are cut to their line beforehand as a rule.
func TestTackDownMissing(t *testing.T) {
	pieces := func(tacked ...bool) *stitchfile.Design {
		var b st.Builder
		for i, tack := range tacked {
			ring := st.Circle(st.Point{X: 50 * float64(i)}, 15)
			b.Run(ring, 2.5).TieOff().Stop()
			if tack {
				b.DoubleRun(ring.Offset(0.5), 2.2).TieOff().Stop()
			}
			b.Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
			if i+1 < len(tacked) {
				b.Stop()
			}
		}
		return b.Design()
	}
	for _, c := range []struct {
		tacked []bool
		want   int // stop, 0: not told
	}{
		{[]bool{true, true, false}, 8},
		{[]bool{true, false}, 5},
		{[]bool{true, true, true}, 0},
		{[]bool{false, false, true}, 0},
		{[]bool{false, false}, 0},
	} {
		told := 0
		for _, f := range run(t, pieces(c.tacked...)).Findings {
			if f.Rule == "tack-down-missing" && f.Severity == report.Caution {
				told = f.Stop
			}
		}
		if told != c.want {
			t.Errorf("tacked down %v: told at stop %d, want %d", c.tacked, told, c.want)
		}
	}
}
