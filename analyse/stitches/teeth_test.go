package stitches

import (
	"math"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// teeth are n teeth of a blanket stitch along X.
type teeth struct {
	n            int
	depth, apart float64
	lean         float64 // degrees from square to the edge
	turn         float64 // degrees from tooth to tooth
	miss         float64 // mm by which the thread misses the hole it came from
	steps        int     // stitches from tooth to tooth
}

func (w teeth) points() []geom.Point {
	var out []geom.Point
	for i := range w.n {
		at := mm(w.apart*float64(i), 0)
		out = append(out, at, at.Add(turned(90+w.lean+w.turn*float64(i)).Times(w.depth)), at.Add(mm(0, -w.miss)))
		for k := 1; k < w.steps; k++ {
			out = append(out, at.Add(mm(w.apart*float64(k)/float64(w.steps), 0)))
		}
	}
	return append(out, mm(w.apart*float64(w.n), 0), mm(w.apart*float64(w.n)+3, 0))
}

// Each tolerance of a blanket stitch, from both sides.
func TestTeethOfABlanketStitch(t *testing.T) {
	degrees := func(cos float64) float64 { return 90 - math.Acos(cos)*180/math.Pi }
	usual := teeth{n: 4, depth: 3, apart: 4, steps: 1}
	with := func(change func(w *teeth)) teeth {
		w := usual
		change(&w)
		return w
	}
	for _, c := range []struct {
		name string
		w    teeth
		want bool
	}{
		{"usual teeth", usual, true},
		{"0.87 mm deep", with(func(w *teeth) { w.depth = 0.87 }), true},
		{"0.72 mm deep", with(func(w *teeth) { w.depth = 0.72 }), false},
		{"7.5 mm deep", with(func(w *teeth) { w.depth = 7.5 }), true},
		{"8.7 mm deep", with(func(w *teeth) { w.depth = 8.7 }), false},
		{"1.6 mm apart", with(func(w *teeth) { w.apart = 1.6 }), true},
		{"1.4 mm apart", with(func(w *teeth) { w.apart = 1.4 }), false},
		{"6.6 mm apart", with(func(w *teeth) { w.apart, w.steps = 6.6, 2 }), true},
		{"7.6 mm apart", with(func(w *teeth) { w.apart, w.steps = 7.6, 2 }), false},
		{"leaning a little", with(func(w *teeth) { w.lean = degrees(0.76) }), true},
		{"leaning much", with(func(w *teeth) { w.lean = degrees(0.84) }), false},
		{"turning by 99 degrees", with(func(w *teeth) { w.n, w.turn = 3, 100 }), true},
		{"turning by 104 degrees", with(func(w *teeth) { w.n, w.turn = 3, 103.3 }), false},
		{"0.13 mm beside the hole", with(func(w *teeth) { w.miss = 0.13 }), true},
		{"0.17 mm beside the hole", with(func(w *teeth) { w.miss = 0.17 }), false},
		{"three teeth", with(func(w *teeth) { w.n = 3 }), true},
		{"two teeth", with(func(w *teeth) { w.n = 2 }), false},
		{"three stitches from tooth to tooth", with(func(w *teeth) { w.steps = 3 }), true},
		{"four stitches from tooth to tooth", with(func(w *teeth) { w.steps = 4 }), false},
	} {
		pts := c.w.points()
		kind := make([]report.Kind, len(pts))
		for i := range kind {
			kind[i] = report.KindRun
		}
		markTeeth(pts, kind, 0, len(pts))
		if got := slices.Contains(kind, report.KindOpenZigzag); got != c.want {
			t.Errorf("%s make a blanket stitch: %v", c.name, got)
		}
	}
}
