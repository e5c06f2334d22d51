package applique

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// Two lines round everything may be cloth with a raw edge; with a third that frames them later,
// outside, where no such cloth lies, they are a border.
func TestLinesFramedOutside(t *testing.T) {
	square := func(side float64) st.Path { return st.Rect(st.Point{}, side, side) }
	for _, c := range []struct {
		name string
		out  float64 // mm by which a last line lies outside the first; 0: there is none
		want int
	}{{"no line after", 0, 1}, {"a line 0.8 mm outside", 0.8, 1}, {"a line 1 mm outside", 1, 0}, {"a line 2 mm outside", 2, 0}} {
		b := new(st.Builder).Run(square(100), 2.5).TieOff().Stop().Run(square(97), 2.4).TieOff().Stop()
		b.TripleRun(st.Line(st.Point{X: -20}, st.Point{X: 20}), 2.5).TieOff()
		if c.out > 0 {
			b.Stop().Run(square(100+2*c.out), 2.5).TieOff()
		}
		if w := recognised(t, b.Design()).Pieces; len(w) != c.want {
			t.Errorf("%s: %d pieces, want %d", c.name, len(w), c.want)
		}
	}
	// A line that frames a piece among others leaves it as it is: it may be a run along a lost cover.
	c := ringChain(at(1, single, 2, 0), at(2, single, -2, 0))
	weighsMore(t, "a framed piece far from the edge of all", apart().rawEvidence(c, &option{tack: c.rounds[0]}), rawEdge+rawInside, false)
}

// Where all that is read as applique may be plain stitching, the cloth of the block is asked
// after as well.
func TestBlockClothIsAskedAfter(t *testing.T) {
	for _, covered := range []bool{false, true} {
		ring := st.Circle(st.Point{}, 20)
		rec := recognisedBlock(t, func(b *st.Builder) {})
		for _, s := range rec.Rehearsal.Steps {
			if s.Kind == report.StepLay && s.Ask {
				t.Errorf("a sure piece: what is laid at stop %d is asked after", s.Stop+1)
			}
		}
		b := new(st.Builder).Run(st.Rect(st.Point{}, 120, 120), 2.5).TieOff().Stop().DoubleRun(st.Rect(st.Point{}, 120, 120), 2.5).TieOff().Stop()
		b.Run(ring, 2.5).TieOff().Stop().Run(ring.Offset(2), 2.4).TieOff()
		if covered {
			b.Stop().Satin(ring, st.SatinAlong{Width: 6, Pitch: 0.4}).TieOff()
		}
		rec = recognised(t, b.Design())
		laid := 0
		for _, s := range rec.Rehearsal.Steps {
			if s.Kind == report.StepLay && s.What == report.BlockCloth {
				laid++
				if s.Ask == covered {
					t.Errorf("with a cover %v: block cloth is asked after: %v", covered, s.Ask)
				}
			}
		}
		if laid != 1 {
			t.Errorf("with a cover %v: block cloth is laid %d times", covered, laid)
		}
	}
}
