package geom

import "math"

// LineGrid finds the parts of a polyline near a place: a grid of cells, each
// with the segments that touch it.
type LineGrid struct {
	Cells
	line []Point
	ends []int32 // the last points of its segments; nil where every point but the first is one
}

const lineCell = 3.0 // mm

// NewLineGrid lays a grid over a polyline, which it keeps.
func NewLineGrid(line []Point) *LineGrid {
	return &LineGrid{line: line, Cells: NewLineCells(lineCell, line)}
}

// NewBrokenLineGrid lays a grid over several lines, all of whose points stand in one
// slice: joined tells of each point but the first whether its line comes from the point
// before it.
func NewBrokenLineGrid(pts []Point, joined func(i int) bool) *LineGrid {
	ends := []int32{}
	for i := 1; i < len(pts); i++ {
		if joined(i) {
			ends = append(ends, int32(i))
		}
	}
	return &LineGrid{line: pts, ends: ends, Cells: NewSegmentCells(lineCell, pts, ends, 0)}
}

// Within reports whether the line comes no further than reach from q.
func (g *LineGrid) Within(q Point, reach float64) bool {
	return math.Sqrt(g.search(q, reach, reach*reach)) <= reach
}

// Nearest is the distance from q to the line, or more than reach if none of it
// is within reach.
func (g *LineGrid) Nearest(q Point, reach float64) float64 {
	return math.Sqrt(g.search(q, reach, 0))
}

// search is the square of the distance from q to the line, or that of some of it that
// lies nearer than enough; more than reach squared where none is within reach.
func (g *LineGrid) search(q Point, reach, enough float64) float64 {
	if !g.reaches(Box{q, q}.Grown(reach)) {
		return math.Inf(1)
	}
	// What lies in the cell of q, or next to it, tells how far to look.
	x, y := g.columnRow(q)
	best := g.nearestOf(q, g.At(y*g.Nx+x), math.Inf(1))
	if best <= enough {
		return best
	}
	near := min(reach, math.Sqrt(best))*(1+1e-9) + 1e-9 // none is lost to rounding
	x0, y0, x1, y1 := g.span(Box{q, q}.Grown(near))
	for v := y0; v <= y1; v++ {
		if v != y {
			best = g.nearestOf(q, g.Row(v, x0, x1), best)
		} else {
			if x0 < x {
				best = g.nearestOf(q, g.Row(v, x0, x-1), best)
			}
			if x < x1 {
				best = g.nearestOf(q, g.Row(v, x+1, x1), best)
			}
		}
		if best <= enough {
			return best
		}
	}
	return best
}

// nearestOf is the least of best and the squares of the distances from q to some segments.
func (g *LineGrid) nearestOf(q Point, items []int32, best float64) float64 {
	line, ends := g.line, g.ends
	for _, i := range items {
		k := i + 1
		if ends != nil {
			k = ends[i]
		}
		if d := squareToSegment(q, line[k-1], line[k]); d < best {
			best = d
		}
	}
	return best
}
