package analyse

import "math"

// lineGrid finds the parts of a polyline near a place: a grid of cells, each
// with the segments that touch it.
type lineGrid struct {
	cells
	line []Point
}

// mostInCell bounds what is looked at in one cell. No cloth takes as much
// stitching on a few mm2; a file that claims so must not stall us.
const mostInCell = 256

// cells is a grid of lists, all lists in one slice.
type cells struct {
	size   float64
	lo     Point
	nx, ny int
	start  []int32
	item   []int32
}

// newCells lays a grid over n boxes; its cells number at most a few for each
// box, whatever the extent.
func newCells(size float64, n int, boxAt func(int) box) cells {
	if n == 0 {
		return cells{size: size, nx: 0, ny: 0}
	}
	all := boxAt(0)
	var sides float64
	for i := range n {
		b := boxAt(i)
		sides += max(b.width(), b.height())
		all.lo.X, all.lo.Y = min(all.lo.X, b.lo.X), min(all.lo.Y, b.lo.Y)
		all.hi.X, all.hi.Y = max(all.hi.X, b.hi.X), max(all.hi.Y, b.hi.Y)
	}
	size = max(size, sides/float64(n)) // so that a box touches a few cells, however large boxes are
	most := float64(256 + 4*n)
	if want := (all.width()/size + 1) * (all.height()/size + 1); want > most {
		size *= math.Sqrt(want / most)
		// A long thin box has more cells on one side than the root tells.
		size = max(size, max(all.width(), all.height())/most)
	}
	c := cells{size: size, lo: all.lo, nx: int(all.width()/size) + 1, ny: int(all.height()/size) + 1}
	c.start = make([]int32, c.nx*c.ny+1)
	each := func(f func(cell, i int)) {
		for i := range n {
			b := boxAt(i)
			x0, y0, x1, y1 := c.span(b)
			for y := y0; y <= y1; y++ {
				for x := x0; x <= x1; x++ {
					f(y*c.nx+x, i)
				}
			}
		}
	}
	each(func(cell, _ int) { c.start[cell+1]++ })
	for i := 1; i < len(c.start); i++ {
		c.start[i] += c.start[i-1]
	}
	c.item = make([]int32, c.start[len(c.start)-1])
	fill := make([]int32, c.nx*c.ny)
	each(func(cell, i int) {
		c.item[c.start[cell]+fill[cell]] = int32(i)
		fill[cell]++
	})
	return c
}

// span is the range of cells that a box touches.
func (c *cells) span(b box) (x0, y0, x1, y1 int) {
	at := func(v, lo float64, n int) int { return int(max(0, min(float64(n-1), math.Floor((v-lo)/c.size)))) }
	return at(b.lo.X, c.lo.X, c.nx), at(b.lo.Y, c.lo.Y, c.ny), at(b.hi.X, c.lo.X, c.nx), at(b.hi.Y, c.lo.Y, c.ny)
}

// each calls f for the items near b, some of them more than once.
func (c *cells) each(b box, f func(i int32)) {
	if c.nx == 0 || b.hi.X < c.lo.X || b.hi.Y < c.lo.Y ||
		b.lo.X > c.lo.X+float64(c.nx)*c.size || b.lo.Y > c.lo.Y+float64(c.ny)*c.size {
		return
	}
	x0, y0, x1, y1 := c.span(b)
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			for _, i := range c.at(y*c.nx + x) {
				f(i)
			}
		}
	}
}

// at lists the items of a cell.
func (c *cells) at(cell int) []int32 {
	lo, hi := c.start[cell], c.start[cell+1]
	return c.item[lo:min(hi, lo+mostInCell)]
}

func newLineGrid(line []Point) *lineGrid {
	g := &lineGrid{line: line}
	g.cells = newCells(3, max(0, len(line)-1), func(i int) box { return boxOf(line[i : i+2]) })
	return g
}

// nearest is the distance from q to the line, or more than reach if none of it
// is within reach.
func (g *lineGrid) nearest(q Point, reach float64) float64 {
	best := math.Inf(1)
	g.each(box{q, q}.grown(reach), func(i int32) {
		if d := distanceToSegment(q, g.line[i], g.line[i+1]); d < best {
			best = d
		}
	})
	return best
}
