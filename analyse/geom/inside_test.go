package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A region must say what the plain rule says, on lines that cross themselves, repeat
// points and run level too.
func TestRegion(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	star := func(n int) (line []Point) {
		for i := range n {
			s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			r := 10 + 8*float64(i%2)
			line = append(line, Point{r * c, r * s})
		}
		return line
	}
	scribble := func(n int, grain float64) (line []Point) {
		for range n {
			line = append(line, Point{math.Round(rnd.Float64()*20/grain) * grain, math.Round(rnd.Float64()*20/grain) * grain})
		}
		return line
	}
	tall := func(n int) (line []Point) {
		for i := range n {
			line = append(line, Point{float64(i), 20 * float64(i%2)})
		}
		return line
	}
	for name, line := range map[string][]Point{
		"few": star(6), "star": star(200), "scribble": scribble(300, 1e-3), "coarse": scribble(300, 1), "tall": tall(300),
		"level": {{0, 0}, {1, 0}, {2, 0}, {3, 0}, {4, 0}, {5, 0}, {6, 0}, {7, 0}, {8, 0}, {9, 0}, {10, 0}, {11, 0}, {12, 0}, {13, 0}, {14, 0}, {15, 0}, {16, 0}},
	} {
		r := NewRegion(line)
		if n := len(r.side); n > mostFiled*len(line) {
			t.Errorf("%s: %d sides are filed for %d", name, n, len(line))
		}
		in := 0
		for i := range 4000 {
			q := Point{rnd.Float64()*40 - 20, rnd.Float64()*40 - 20}
			if i%4 == 0 {
				q.Y = line[i%len(line)].Y
			}
			want := InsidePolygon(q, line)
			if want {
				in++
			}
			if r.Has(q) != want {
				t.Fatalf("%s: %v: %v, want %v", name, q, !want, want)
			}
		}
		if in == 0 && name != "level" {
			t.Errorf("%s: no place lay inside", name)
		}
	}
	if NewRegion(nil).Has(Point{}) {
		t.Error("nothing has an inside")
	}
}

// A few boxes as large as all others together must not fill every cell.
func TestCellsTouched(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	for _, n := range []int{100, 10_000, 40_000} {
		boxes := make([]Box, n)
		for i := range boxes {
			at := Point{rnd.Float64() * 1e5, rnd.Float64() * 1e5}
			boxes[i] = Box{at, at}
			if i*i < n {
				boxes[i] = Box{Point{}, Point{1e5, 1e5}}
			}
		}
		c := NewCells(1, n, func(i int) Box { return boxes[i] })
		if got, most := len(c.item), 1024+mostTouched*n; got > most {
			t.Errorf("%d boxes have %d entries, more than %d", n, got, most)
		}
		for i := range 50 {
			found := false
			c.Until(boxes[n-1-i], func(k int32) bool { found = found || int(k) == n-1-i; return found })
			if !found && len(c.At(0)) < mostInCell {
				t.Errorf("%d boxes: box %d is not found", n, n-1-i)
			}
		}
	}
}
