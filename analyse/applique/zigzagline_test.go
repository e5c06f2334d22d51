package applique

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// A zigzag that is sewn on past its seam is one line round the piece, and goes back over none
// of it.
func TestZigzagSewnOnPastItsSeam(t *testing.T) {
	for _, over := range []float64{0, 1, 2, 3, 4.5, 6} {
		ring := st.Circle(st.Point{}, 25)
		way := ring.Offset(0.5)
		var path st.Path
		for s := 0.0; s <= way.Length()+over; s += 0.5 {
			q, _ := way.At(10 + s - way.Length()*float64(int((10+s)/way.Length())))
			path = append(path, q)
		}
		b := new(st.Builder).Run(ring, 2.5).TieOff().Stop().OpenZigzag(path, 2, 2).TieOff().Stop()
		b.Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
		w := recognised(t, b.Design()).Pieces
		if len(w) != 1 || w[0].Tack.Kind != report.KindOpenZigzag || !w[0].Tack.Closed {
			t.Errorf("sewn on by %.1f mm: %d pieces, want one with a closed zigzag for a tack-down", over, len(w))
			continue
		}
		line := w[0].Tack.Line
		if l := geom.PathLength(line); l > way.Length()+1 {
			t.Errorf("sewn on by %.1f mm: its line is %.1f mm long, and %.1f mm round", over, l, way.Length())
		}
		for i := 2; i < len(line); i++ {
			if line[i-1].Sub(line[i-2]).Unit().Dot(line[i].Sub(line[i-1]).Unit()) < -0.9 {
				t.Errorf("sewn on by %.1f mm: its line turns back at %v", over, line[i-1])
			}
		}
	}
}
