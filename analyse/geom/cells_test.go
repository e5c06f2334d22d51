package geom

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// wander is a line of many points, some of them in one place and some far away.
func wander(n int, wide, tall float64) []Point {
	rnd := rand.New(rand.NewPCG(3, uint64(n)))
	line := make([]Point, n)
	at := Point{}
	for i := range line {
		switch rnd.IntN(20) {
		case 0: // the needle stays
		case 1:
			at = Point{wide * rnd.Float64(), tall * rnd.Float64()}
		default:
			at = at.Add(Point{3 * rnd.NormFloat64(), 3 * rnd.NormFloat64()})
		}
		line[i] = Point{min(max(at.X, 0), wide), min(max(at.Y, 0), tall)}
	}
	return line
}

// Grids over lines and over points hold what those over their boxes do.
func TestLineCells(t *testing.T) {
	for _, c := range []struct {
		n          int
		wide, tall float64
	}{{2, 100, 100}, {50, 0, 100}, {400, 150, 150}, {3*spansAtOnce + 5, 200, 150}, {2000, 100_000, 0.5}} {
		line := wander(c.n, c.wide, c.tall)
		boxed := func(ends []int32, grown float64) Cells {
			return NewCells(2, len(ends), func(i int) Box { return BoxOf(line[ends[i]-1 : ends[i]+1]).Grown(grown) })
		}
		var all, some []int32
		for i := int32(1); i < int32(c.n); i++ {
			if all = append(all, i); i%7 != 3 {
				some = append(some, i)
			}
		}
		var picked []Point
		for _, i := range some {
			picked = append(picked, line[i])
		}
		onPoints := NewCells(2, len(picked), func(i int) Box { return Box{picked[i], picked[i]} })
		for name, pair := range map[string][2]Cells{
			"line":        {NewLineCells(2, line), boxed(all, 0)},
			"segments":    {NewSegmentCells(2, line, some, 0), boxed(some, 0)},
			"grown":       {NewSegmentCells(2, line, some, 0.2), boxed(some, 0.2)},
			"points":      {NewPointCells(2, picked), onPoints},
			"some points": {NewSomePointCells(2, line, some), onPoints},
		} {
			got, want := pair[0], pair[1]
			if got.Nx != want.Nx || got.Ny != want.Ny || got.Lo != want.Lo || !slices.Equal(got.start, want.start) || !slices.Equal(got.item, want.item) {
				t.Errorf("%d points, %s: a grid of %d x %d with %d entries, want %d x %d with %d", c.n, name, got.Nx, got.Ny, len(got.item), want.Nx, want.Ny, len(want.item))
			}
		}
	}
	for name, none := range map[string]Cells{
		"line": NewLineCells(2, []Point{{1, 1}}), "segments": NewSegmentCells(2, wander(9, 10, 10), nil, 1),
		"points": NewPointCells(2, nil), "some points": NewSomePointCells(2, wander(9, 10, 10), nil),
	} {
		none.Each(Box{Point{-9, -9}, Point{99, 99}}, func(i int32) { t.Errorf("%s: item %d of none", name, i) })
	}
}

// A line is found as near as its nearest segment, wherever one asks from.
func TestLineGrid(t *testing.T) {
	line := wander(300, 60, 60)
	joined := func(i int) bool { return i%9 != 4 }
	whole, broken := NewLineGrid(line), NewBrokenLineGrid(line, joined)
	rnd := rand.New(rand.NewPCG(5, 6))
	for range 3000 {
		q := Point{100*rnd.Float64() - 20, 100*rnd.Float64() - 20}
		all, some := math.Inf(1), math.Inf(1)
		for i := 1; i < len(line); i++ {
			d := DistanceToSegment(q, line[i-1], line[i])
			if all = min(all, d); joined(i) {
				some = min(some, d)
			}
		}
		for _, reach := range []float64{0.3, 1.5, 7, math.Inf(1)} {
			for name, c := range map[string]struct {
				grid *LineGrid
				want float64
			}{"whole": {whole, all}, "broken": {broken, some}} {
				if got := c.grid.Nearest(q, reach); got != c.want && (got <= reach || c.want <= reach) {
					t.Fatalf("%s: %v from %v within %v, want %v", name, got, q, reach, c.want)
				}
				if got := c.grid.Within(q, reach); got != (c.want <= reach) {
					t.Fatalf("%s: within %v of %v: %t, and it is %v away", name, reach, q, got, c.want)
				}
			}
		}
		if !whole.Within(q, all) || all > 0 && whole.Within(q, all*(1-1e-12)) {
			t.Fatalf("%v from %v is within %t, within less %t", all, q, whole.Within(q, all), whole.Within(q, all*(1-1e-12)))
		}
	}
}
