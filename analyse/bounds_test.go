package analyse_test

import (
	"strings"
	"testing"

	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// More pieces than any block has are found all the same; where a bound of the search
// is reached the report says what was not looked at.
func TestBoundsOfTheSearchAreTold(t *testing.T) {
	for _, c := range []struct {
		pieces int
		told   bool
	}{{140, false}, {450, true}} {
		centre := func(i int) st.Point { return st.Point{X: float64(i%25) * 26, Y: float64(i/25) * 26} }
		var b st.Builder
		const each = 100 // pieces placed in one stop
		for from := 0; from < c.pieces; from += each {
			to := min(c.pieces, from+each)
			for i := from; i < to; i++ {
				b.Run(st.Circle(centre(i), 9), 3).Trim()
			}
			b.Stop()
			for i := from; i < to; i++ {
				b.DoubleRun(st.Circle(centre(i), 8.6), 3).Trim()
			}
			b.Stop()
			for i := from; i < to; i++ {
				b.Satin(st.Circle(centre(i), 9), st.SatinAlong{Width: 3, Pitch: 0.8}).Trim()
			}
			b.Stop()
		}
		r := run(t, b.Design())
		told := false
		for _, w := range r.Warnings {
			told = told || strings.Contains(w.String(), "not looked at") && !strings.Contains(w.String(), "byte")
		}
		if told != c.told || !told && len(r.Pieces) != c.pieces {
			t.Errorf("%d pieces: %d found, warned: %v (%v)", c.pieces, len(r.Pieces), told, r.Warnings)
		}
	}
}
