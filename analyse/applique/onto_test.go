package applique

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// Cloth cut beforehand lies where embroidery is sewn on it before its cover: laid after
// that, it would bury it. What goes on beyond the piece is its ground.
func TestEmbroideryOnClothCutBeforehand(t *testing.T) {
	ring := st.Circle(st.Point{}, 25)
	bar := func(from, to float64) func(b *st.Builder) {
		return func(b *st.Builder) {
			b.Satin(st.Line(st.Point{X: from}, st.Point{X: to}), st.SatinAlong{Width: 3, Pitch: 0.4})
		}
	}
	for _, c := range []struct {
		name   string
		sew    func(b *st.Builder)
		before int // the stop before which it is laid
		ask    bool
	}{
		{"a bar of satin, and underlay", bar(-4, 4), 1, true},
		{"a bar of 17 points", bar(-1.5, 1.5), 2, false},
		{"a bar of 23 points", bar(-2, 2), 1, true},
		{"a bar that goes on beyond", bar(20, 35), 2, false},
		{"a bar 2 mm from the edge", bar(14, 23), 2, false},
	} {
		b := new(st.Builder).Run(ring, 2.5).TieOff().Stop()
		c.sew(b)
		b.TieOff().Stop().Run(ring, 2.5).Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
		rec, laid := recognised(t, b.Design()), false
		for _, s := range rec.Rehearsal.Steps {
			if s.Kind == report.StepLay && s.What == report.AppliqueCloth {
				laid = true
				if s.Stop != c.before || c.ask && (!s.Ask || s.Manner != ToShape) {
					t.Errorf("%s: laid before stop %d (ask: %v), want before stop %d", c.name, s.Stop+1, s.Ask, c.before+1)
				}
			}
		}
		if !laid {
			t.Errorf("%s: no cloth is laid", c.name)
		}
	}
}

// Beside other pieces one is no surer than three quarters that there is cloth under it.
func TestHowSureClothUnderEmbroideryIs(t *testing.T) {
	b := new(st.Builder)
	for x := range 3 {
		ring := st.Circle(st.Point{X: 60 * float64(x)}, 20)
		b.Run(ring, 2.5).TieOff().Stop()
		if x == 2 {
			b.Satin(st.Line(st.Point{X: 116}, st.Point{X: 124}), st.SatinAlong{Width: 3, Pitch: 0.4}).TieOff().Stop().DoubleRun(ring, 2.5)
		} else {
			b.DoubleRun(ring, 2.2).TieOff().Stop()
		}
		b.Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
		if x < 2 {
			b.Stop()
		}
	}
	w := recognised(t, b.Design()).Pieces
	if len(w) != 3 || w[2].Confidence < 0.7 || w[2].Confidence > 0.8 || !w[2].MayBePlain() || w[0].MayBePlain() {
		t.Errorf("%d pieces, want three, the last three quarters sure", len(w))
		for _, k := range w {
			t.Log(k.Confidence, k.MayBePlain())
		}
	}
}

// A close zigzag that other stitching goes over is no cover sewn before its tack-down, where
// it is too open to hide an edge.
func TestCloseZigzagUnderAnotherLine(t *testing.T) {
	ring := st.Circle(st.Point{}, 25)
	line := func(b *st.Builder) { b.TripleRun(ring, 2.3) }
	cover := func(b *st.Builder) { b.Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4}) }
	for _, c := range []struct {
		name  string
		pitch float64
		then  []func(b *st.Builder)
		first bool // the cover is sewn first
	}{
		{"0.6 mm and a line", 0.6, []func(b *st.Builder){line}, false},
		{"0.5 mm and a line", 0.5, []func(b *st.Builder){line}, true},
		{"0.7 mm, a line and a cover", 0.7, []func(b *st.Builder){line, cover}, false},
		{"0.6 mm and a line outside", 0.6, []func(b *st.Builder){func(b *st.Builder) { b.TripleRun(ring.Offset(-0.8), 2.3) }}, true},
	} {
		b := new(st.Builder).Run(ring, 2.5).TieOff().Stop()
		b.Satin(ring.Offset(0.3), st.SatinAlong{Width: 2.4, Pitch: c.pitch}).TieOff()
		for _, sew := range c.then {
			sew(b.Stop())
			b.TieOff()
		}
		w := recognised(t, b.Design()).Pieces
		if len(w) != 1 || w[0].CoverFirst != c.first {
			t.Errorf("%s: %d pieces, want one, its cover sewn first: %v", c.name, len(w), c.first)
		} else if len(c.then) > 1 && (w[0].Tack.Stop != 1 || w[0].Covers[0] != 3) {
			t.Errorf("%s: tacked down in stop %d and covered in stop %d", c.name, w[0].Tack.Stop+1, w[0].Covers[0]+1)
		}
	}
}
