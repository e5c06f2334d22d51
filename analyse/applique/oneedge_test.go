package applique

import (
	"testing"

	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// Whatever is sewn along the edge of one piece before its cover, in stops of its own, there
// is one cloth, and the first line after its placement line holds it.
func TestOneClothUnderOneCover(t *testing.T) {
	ring := st.Circle(st.Point{}, 28)
	for _, c := range []struct {
		name string
		line func(b *st.Builder)
		rest []func(b *st.Builder)
	}{
		{"edge runs of the satin", func(b *st.Builder) { b.Run(ring, 2.5) }, []func(b *st.Builder){
			func(b *st.Builder) { b.TripleRun(ring.Offset(0.3), 2.3) },
			func(b *st.Builder) { b.Run(ring.Offset(-1.2), 2.5).TieOff().Trim().Run(ring.Offset(1.6), 2.5) },
			func(b *st.Builder) { b.Satin(ring.Offset(0.2), st.SatinAlong{Width: 4, Pitch: 0.4}) },
		}},
		{"a zigzag over the line that holds it", func(b *st.Builder) { b.DoubleRun(ring, 2.5) }, []func(b *st.Builder){
			func(b *st.Builder) { b.Run(ring.Offset(0.3), 2.3) },
			func(b *st.Builder) { b.OpenZigzag(ring.Offset(0.4), 2, 2) },
			func(b *st.Builder) {
				b.Run(ring.Offset(-1.2), 2.5).TieOff().Trim().Run(ring.Offset(1.6), 2.5).Satin(ring.Offset(0.2), st.SatinAlong{Width: 4, Pitch: 0.4})
			},
		}},
		{"a line over its tack-down, and a cover with underlay", func(b *st.Builder) { b.Run(ring, 2.5) }, []func(b *st.Builder){
			func(b *st.Builder) { b.Satin(ring.Offset(0.5), st.SatinAlong{Width: 2.2, Pitch: 1.1}) },
			func(b *st.Builder) { b.Run(ring.Offset(0.3), 2.3) },
			func(b *st.Builder) {
				b.Run(ring.Offset(0.2), 2.5).Satin(ring.Offset(0.2), st.SatinAlong{Width: 4, Pitch: 0.4})
			},
		}},
	} {
		b := new(st.Builder)
		c.line(b)
		for _, sew := range c.rest {
			sew(b.TieOff().Stop())
		}
		w := recognised(t, b.TieOff().Design()).Pieces
		if len(w) != 1 || w[0].Place.Stop != 0 || w[0].Tack.Stop != 1 {
			t.Errorf("%s: %d pieces, want one, whose line is stop 1 and whose tack-down stop 2", c.name, len(w))
			for _, k := range w {
				t.Logf("line %d, tack-down %d", k.Place.Stop+1, k.Tack.Stop+1)
			}
		}
	}
	// Two cloths with a cover each stay two.
	b := new(st.Builder)
	for i, r := range []float64{28, 25} {
		ring := st.Circle(st.Point{}, r)
		if i > 0 {
			b.Stop()
		}
		b.Run(ring, 2.5).TieOff().Stop().DoubleRun(ring.Offset(0.3), 2.2).TieOff().Stop().Satin(ring, st.SatinAlong{Width: 2.6, Pitch: 0.4}).TieOff()
	}
	if w := recognised(t, b.Design()).Pieces; len(w) != 2 {
		t.Errorf("a cloth 3 mm inside another, each with its cover: %d pieces", len(w))
	}
}

func TestWhatIsALineSewnOnceMore(t *testing.T) {
	for _, c := range []struct {
		name string
		r    *round
		want bool
	}{
		{"0.85 mm inside", at(1, single, 0.85, 0.1), true},
		{"0.95 mm inside", at(1, single, 0.95, 0.1), false},
		{"0.95 mm outside", at(1, single, -0.95, 0.1), false},
		{"wandering by 0.45 mm", at(1, double, 0.3, 0.45), true},
		{"wandering by 0.55 mm", at(1, double, 0.3, 0.55), false},
		{"a zigzag", at(1, zigzag, 0.3, 0.1), false},
	} {
		if got := c.r.goesOver(); got != c.want {
			t.Errorf("%s: the line sewn once more: %v", c.name, got)
		}
	}
}
