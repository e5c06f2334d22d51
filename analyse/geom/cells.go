package geom

import (
	"math"
)

// LineGrid finds the parts of a polyline near a place: a grid of cells, each
// with the segments that touch it.
type LineGrid struct {
	Cells
	line []Point
}

// mostInCell bounds what is looked at in one cell. No cloth takes as much
// stitching on a few mm2; a file that claims so must not stall us.
const mostInCell = 256

// Cells is a grid of lists, all lists in one slice.
type Cells struct {
	Size   float64
	Lo     Point
	Nx, Ny int
	start  []int32
	item   []int32
}

// NewCells lays a grid over n boxes; its cells number at most a few for each
// box, whatever the extent.
func NewCells(size float64, n int, boxAt func(int) Box) Cells {
	if n == 0 {
		return Cells{Size: size, Nx: 0, Ny: 0}
	}
	all := boxAt(0)
	var sides float64
	for i := range n {
		b := boxAt(i)
		sides += max(b.Width(), b.Height())
		all.Lo.X, all.Lo.Y = min(all.Lo.X, b.Lo.X), min(all.Lo.Y, b.Lo.Y)
		all.Hi.X, all.Hi.Y = max(all.Hi.X, b.Hi.X), max(all.Hi.Y, b.Hi.Y)
	}
	size = max(size, sides/float64(n)) // so that a box touches a few cells, however large boxes are
	most := float64(256 + 4*n)
	if want := (all.Width()/size + 1) * (all.Height()/size + 1); want > most {
		size *= math.Sqrt(want / most)
		// A long thin box has more cells on one side than the root tells.
		size = max(size, max(all.Width(), all.Height())/most)
	}
	c := Cells{Size: size, Lo: all.Lo, Nx: int(all.Width()/size) + 1, Ny: int(all.Height()/size) + 1}
	c.start = make([]int32, c.Nx*c.Ny+1)
	each := func(f func(cell, i int)) {
		for i := range n {
			b := boxAt(i)
			x0, y0, x1, y1 := c.span(b)
			for y := y0; y <= y1; y++ {
				for x := x0; x <= x1; x++ {
					f(y*c.Nx+x, i)
				}
			}
		}
	}
	each(func(cell, _ int) { c.start[cell+1]++ })
	for i := 1; i < len(c.start); i++ {
		c.start[i] += c.start[i-1]
	}
	c.item = make([]int32, c.start[len(c.start)-1])
	fill := make([]int32, c.Nx*c.Ny)
	each(func(cell, i int) {
		c.item[c.start[cell]+fill[cell]] = int32(i)
		fill[cell]++
	})
	return c
}

// span is the range of cells that a box touches.
func (c *Cells) span(b Box) (x0, y0, x1, y1 int) {
	at := func(v, lo float64, n int) int {
		switch k := (v - lo) / c.Size; {
		case !(k > 0):
			return 0
		case k >= float64(n-1):
			return n - 1
		default:
			return int(k)
		}
	}
	return at(b.Lo.X, c.Lo.X, c.Nx), at(b.Lo.Y, c.Lo.Y, c.Ny), at(b.Hi.X, c.Lo.X, c.Nx), at(b.Hi.Y, c.Lo.Y, c.Ny)
}

// Each calls f for the items near b, some of them more than once.
func (c *Cells) Each(b Box, f func(i int32)) {
	c.Until(b, func(i int32) bool { f(i); return false })
}

// Until calls f for the items near b, some of them more than once, until one of the
// calls gives true, and reports whether one did.
func (c *Cells) Until(b Box, f func(i int32) bool) bool {
	if c.Nx == 0 || b.Hi.X < c.Lo.X || b.Hi.Y < c.Lo.Y ||
		b.Lo.X > c.Lo.X+float64(c.Nx)*c.Size || b.Lo.Y > c.Lo.Y+float64(c.Ny)*c.Size {
		return false
	}
	x0, y0, x1, y1 := c.span(b)
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			for _, i := range c.At(y*c.Nx + x) {
				if f(i) {
					return true
				}
			}
		}
	}
	return false
}

// At lists the items of a cell.
func (c *Cells) At(cell int) []int32 {
	lo, hi := c.start[cell], c.start[cell+1]
	return c.item[lo:min(hi, lo+mostInCell)]
}

// NewLineGrid lays a grid over a polyline, which it keeps.
func NewLineGrid(line []Point) *LineGrid {
	g := &LineGrid{line: line}
	g.Cells = NewCells(3, max(0, len(line)-1), func(i int) Box { return BoxOf(line[i : i+2]) })
	return g
}

// Nearest is the distance from q to the line, or more than reach if none of it
// is within reach.
func (g *LineGrid) Nearest(q Point, reach float64) float64 {
	best := math.Inf(1)
	g.Each(Box{q, q}.Grown(reach), func(i int32) {
		if d := DistanceToSegment(q, g.line[i], g.line[i+1]); d < best {
			best = d
		}
	})
	return best
}
