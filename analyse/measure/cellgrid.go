package measure

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// cellPlace is the column and the row of a cell.
type cellPlace struct{ x, y int }

// cellFinder finds the cells of places.
type cellFinder struct {
	x, y, per    float64
	lastX, lastY int
}

func cells(g *report.Grid) cellFinder { return cellFinder{g.X, g.Y, 1 / g.CellMM, g.NX - 1, g.NY - 1} }

// halfCells finds the half cells of places.
func halfCells(g *report.Grid) cellFinder {
	return cellFinder{g.X, g.Y, 2 / g.CellMM, 2*g.NX - 1, 2*g.NY - 1}
}

func (f *cellFinder) of(q geom.Point) cellPlace {
	return cellPlace{min(int((q.X-f.x)*f.per), f.lastX), min(int((q.Y-f.y)*f.per), f.lastY)}
}

// placeOf is the cell of a place.
func placeOf(g *report.Grid, q geom.Point) cellPlace {
	f := cells(g)
	return f.of(q)
}

func cellOf(g *report.Grid, q geom.Point) int {
	c := placeOf(g, q)
	return c.y*g.NX + c.x
}

// crossed is a cell that a line crosses, with the mm of the line in it.
type crossed struct {
	cell   int
	length float64
}

// cellsAlong adds to out the cells that the line from a to b crosses, walking from
// border to border; from and to are the cells of its ends.
func cellsAlong(out []crossed, g *report.Grid, a, b geom.Point, from, to cellPlace) []crossed {
	v := b.Sub(a)
	l := v.Norm()
	cell := from.y*g.NX + from.x
	if from == to {
		return append(out, crossed{cell, l})
	}
	stepX, leftX, nextX, eachX := walk(a.X-g.X, v.X, g.CellMM, from.x, to.x)
	stepY, leftY, nextY, eachY := walk(a.Y-g.Y, v.Y, g.CellMM, from.y, to.y)
	stepY *= g.NX
	var done float64
	for leftX+leftY > 0 {
		here, next := cell, nextX
		if nextX < nextY {
			cell += stepX
			nextX += eachX
			if leftX--; leftX == 0 {
				nextX = math.Inf(1)
			}
		} else {
			next = nextY
			cell += stepY
			nextY += eachY
			if leftY--; leftY == 0 {
				nextY = math.Inf(1)
			}
		}
		if next > 1 {
			next = 1
		}
		out = append(out, crossed{here, (next - done) * l})
		done = next
	}
	return append(out, crossed{cell, (1 - done) * l})
}

// walk prepares one axis of cellsAlong: the direction of steps, how many borders there
// are to cross, the share of the line up to the first of them, and from one to the next.
func walk(at, v, cell float64, from, to int) (step, left int, first, each float64) {
	switch {
	case to > from:
		return 1, to - from, (float64(from+1)*cell - at) / v, cell / v
	case to < from:
		return -1, from - to, (float64(from)*cell - at) / v, -cell / v
	}
	return 0, 0, math.Inf(1), 0
}

// peakOf is the cell in the middle of the block of three by three with the
// highest mean, and that mean. Cells that hold nothing are no middle.
func peakOf(g *report.Grid, v []float32) (cell int, mean float64) {
	const slack = 1 + 1e-5 // more than sums differ by that are summed up in another order
	n := float32(0)
	none := make([]float32, g.NX)
	row := func(y int) []float32 {
		if y < 0 || y >= g.NY {
			return none
		}
		return v[y*g.NX:][:g.NX]
	}
	column := make([]float32, g.NX+2) // three cells, from before the first column to behind the last
	for y := range g.NY {
		below, here, above := row(y-1), row(y), row(y+1)
		below, above = below[:len(here)], above[:len(here)]
		sums, top := column[1:][:len(here)], float32(0)
		for x, h := range here {
			sum := below[x] + h + above[x]
			if sum > top {
				top = sum
			}
			sums[x] = sum
		}
		if 3*top*slack <= n {
			continue
		}
		for x, h := range here {
			if h != 0 && (column[x]+column[x+1]+column[x+2])*slack > n {
				if sum := sumAbout(g, v, x, y); sum > n {
					n, cell = sum, y*g.NX+x
				}
			}
		}
	}
	return cell, float64(n) / 9
}

// sumAbout sums up the block of three by three about a cell.
func sumAbout(g *report.Grid, v []float32, x, y int) (sum float32) {
	for yy := max(0, y-1); yy <= min(g.NY-1, y+1); yy++ {
		for xx := max(0, x-1); xx <= min(g.NX-1, x+1); xx++ {
			sum += v[yy*g.NX+xx]
		}
	}
	return sum
}
