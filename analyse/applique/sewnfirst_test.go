package applique

import (
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// Cloth that is laid after embroidery inside its line would hide it: it is laid before.
func TestEmbroideryBeforeTheTackDown(t *testing.T) {
	ring, in := st.Circle(st.Point{}, 30), st.Circle(st.Point{}, 29.5)
	block := func(between func(b *st.Builder)) *stitchfile.Design {
		b := new(st.Builder).Run(ring, 2.5).TieOff().Stop()
		between(b)
		return b.Run(in, 2).TieOff().Stop().Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Design()
	}
	emblem := func(b *st.Builder, r float64) {
		b.Fill(st.Circle(st.Point{}, r), 0.4, 4, 0).TieOff().Stop()
	}
	for _, c := range []struct {
		name  string
		sew   func(b *st.Builder)
		first int // the stop, from 0, before which its cloth is laid
	}{
		{"nothing between", func(*st.Builder) {}, 1},
		{"an emblem", func(b *st.Builder) { emblem(b, 10) }, 1},
		{"a few stitches", func(b *st.Builder) { b.Run(st.Line(st.Point{}, st.Point{X: 20}), 2).TieOff().Stop() }, 2},
		{"a fill across the line", func(b *st.Builder) { b.Fill(st.Circle(st.Point{X: 30}, 8), 0.4, 4, 0).TieOff().Stop() }, 2},
	} {
		rec := recognised(t, block(c.sew))
		if len(rec.Pieces) != 1 {
			t.Errorf("%s: %d pieces", c.name, len(rec.Pieces))
			continue
		}
		w := rec.Pieces[0]
		first := w.Tack.Stop
		if on := w.SewnFirst(); on != nil {
			first = on.Stop
		}
		if first != c.first {
			t.Errorf("%s: the cloth is laid before stop %d, want %d", c.name, first+1, c.first+1)
		}
	}
}
