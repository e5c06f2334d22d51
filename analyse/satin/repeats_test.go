package satin

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
)

// A straight column hides as much as the same one whose holes lie off by so little that no
// place is taken for the one before, whatever breaks its rhythm.
func TestRepeatedPlaces(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 11))
	straight := func() []crossing { return column(120, 4, 0.3) }
	for _, c := range []struct {
		name  string
		alter func(x []crossing) []crossing
		least int // places that repeat
	}{
		{"even", func(x []crossing) []crossing { return x }, 40},
		{"one short stitch", func(x []crossing) []crossing { x[60].a = geom.Lerp(x[60].a, x[60].b, 0.3); return x }, 30},
		{"one hole further on", func(x []crossing) []crossing { x[60].b.X += 0.1; return x }, 30},
		{"another pitch from the middle on", func(x []crossing) []crossing {
			for j := 60; j < len(x); j++ {
				by := mm(0.1*float64(j-60), 0)
				x[j].a, x[j].b = x[j].a.Add(by), x[j].b.Add(by)
			}
			return x
		}, 30},
		{"wider from the middle on", func(x []crossing) []crossing {
			for j := 60; j < len(x); j++ {
				x[j].a, x[j].b = geom.Lerp(x[j].b, x[j].a, 1.4), geom.Lerp(x[j].a, x[j].b, 1.4)
			}
			return x
		}, 30},
		{"leaning, on another axis", func(x []crossing) []crossing {
			turn := func(p geom.Point) geom.Point { return mm(0.8*p.X-0.6*p.Y, 0.6*p.X+0.8*p.Y) }
			for j := range x {
				x[j].a, x[j].b = turn(x[j].a), turn(x[j].b)
			}
			return x
		}, 40},
	} {
		off := func(q geom.Point) geom.Point {
			return q.Add(mm(3e-9*(rnd.Float64()-0.5), 3e-9*(rnd.Float64()-0.5)))
		}
		x := c.alter(straight())
		var y []crossing
		for _, k := range x {
			y = append(y, crossing{a: off(k.a), b: off(k.b)})
		}
		w, v := columnWork{laid: 0.3, scale: 1}, columnWork{laid: 0.3, scale: 1}
		got, want := w.measure(x), v.measure(y)
		if again, none := repeated(&w, x), repeated(&v, y); again < c.least || none > 0 {
			t.Errorf("%s: %d places repeat, and %d of the column whose none may", c.name, again, none)
		}
		for _, p := range [][2]float64{{got.Coverage, want.Coverage}, {got.CoverageIn, want.CoverageIn}, {got.CoverageOut, want.CoverageOut}, {got.ThinCoverage, want.ThinCoverage}} {
			if math.Abs(p[0]-p[1]) > 1e-7 {
				t.Errorf("%s: %v hidden, want %v", c.name, p[0], p[1])
			}
		}
	}
}

// repeated counts the places of a column, which was turned, that repeat.
func repeated(w *columnWork, x []crossing) (n int) {
	c := w.measure(x)
	var r repeats
	for k := 1; k+2 < len(c.Centre); k++ {
		if r.at(w, x, &c, k) {
			n++
		}
	}
	return n
}

// Threads that are laid a stretch of the column at a time hide what they hide when all of
// them lie there at once.
func TestPlacesAtOnce(t *testing.T) {
	rnd := rand.New(rand.NewPCG(13, 17))
	x := column(5*placesAtOnce, 4, 0.3)
	for j := range x {
		by := mm(0.1*rnd.Float64(), 0.1*rnd.Float64())
		if j/40%2 == 0 {
			by = mm(0, 0) // stretches that repeat lie across the seams, too
		}
		x[j].a = x[j].a.Add(by)
	}
	w := columnWork{laid: 0.3, scale: 1}
	c := w.measure(x)
	area, hidden := w.area, w.hidden
	w.layThreads(x, 0, len(x))
	for k := 1; k+2 < len(c.Centre); k++ {
		at := place{c.Right[k], c.Right[k+1], c.Left[k], c.Left[k+1]}
		w.hideUnder(x, 2*k-1, at)
		g := w.groundOf(&at)
		if want := g.area[0] + g.area[1]; math.Abs(area[k]-want) > 1e-9 {
			t.Fatalf("place %d: ground of %v mm2, want %v", k, area[k], want)
		}
		if want := g.hidden[0] + g.hidden[1]; math.Abs(hidden[k]-want) > 1e-9 {
			t.Fatalf("place %d: %v mm2 hidden, want %v", k, hidden[k], want)
		}
	}
}
