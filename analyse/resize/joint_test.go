package resize

import (
	"fmt"
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// endsAtAnother is a circle of applique under another, so far to the right of it and up,
// whose satin ends so many mm inside the line of the upper one, or outside it where that
// is below 0.
func endsAtAnother(right, up, under float64) *stitchfile.Design {
	upper := st.Point{X: right, Y: up}
	const radius, over = 22, 15
	lower, above := st.Circle(st.Point{}, radius), st.Circle(upper, over)
	var satin st.Path
	for i := range 2000 {
		sin, cos := math.Sincos(math.Atan2(up, right) + 2*math.Pi*float64(i)/2000)
		if q := (st.Point{X: radius * cos, Y: radius * sin}); math.Hypot(q.X-upper.X, q.Y-upper.Y) > over-under {
			satin = append(satin, q)
		}
	}
	b := &st.Builder{}
	for _, line := range []st.Path{lower, above} {
		b.Run(line, 2.5).TieOff().Stop()
		b.Run(line, 2).TieOff().Stop()
	}
	b.Satin(satin, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Stop()
	b.Satin(above, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
	return b.Design()
}

// Where the cover of a piece ends at another piece, the edge may come to show between the
// two at another size.
func TestLimitsAgreeWithBruteForceWhereCoversMeet(t *testing.T) {
	wholeOnly(t)
	n := 0
	for _, c := range []struct{ right, up, under float64 }{
		{19, 4, -2}, {22, 5, -2}, {26, 5, -2}, {26, 5, -1}, {27, 4, -1.75}, {22, 5, 0},
	} {
		n += agreesWithBruteForce(t, fmt.Sprint(c), endsAtAnother(c.right, c.up, c.under), report.DefaultSettings())
	}
	if n == 0 {
		t.Error("no limit was met")
	}
}

func TestWhereCoversMayPart(t *testing.T) {
	edges, columns := &check{pieces: true}, &check{pieces: true, columns: true}
	for _, c := range []struct {
		joint float64
		check *check
		parts bool
	}{
		{0, edges, true},
		{jointLeast - 0.01, edges, true},
		{jointLeast, edges, false},
		{math.Inf(1), edges, false},
		{0, columns, false}, // no edge is asked for
	} {
		s := &search{resizer: &resizer{joint: map[int]float64{1: c.joint}}, c: c.check}
		if got := s.parts(spot{column: -1, piece: 1}); got != c.parts {
			t.Errorf("%g mm hidden by both: parts %v", c.joint, got)
		}
	}
}
