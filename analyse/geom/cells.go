package geom

import (
	"math"
	"slices"
	"sync"
)

// LineGrid finds the parts of a polyline near a place: a grid of cells, each
// with the segments that touch it.
type LineGrid struct {
	Cells
	line []Point
	side []int32 // the first points of its sides; nil where every point but the last is one
}

// mostInCell bounds what is looked at in one cell. No cloth takes as much
// stitching on a few mm2; a file that claims so must not stall us.
const mostInCell = 256

// Cells is a grid of lists, all lists in one slice.
type Cells struct {
	Size   float64
	Lo     Point
	Nx, Ny int
	per    float64 // 1/Size
	start  []int32
	item   []int32
}

// mostTouched bounds the cells that boxes touch, for each box on average. Boxes of one
// kind touch four or so; where a few are as large as all the rest together, cells grow.
const mostTouched = 32

// cellSpan are the columns and rows that a box touches.
type cellSpan struct{ x0, y0, x1, y1 int32 }

var spanBuffers = sync.Pool{New: func() any { return new([]cellSpan) }}

// NewCells lays a grid over n boxes; its cells number at most a few for each
// box, and so do the entries in them, whatever the extent.
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
	size = roomyCells(size, n, all)
	c := Cells{Lo: all.Lo}
	buffer := spanBuffers.Get().(*[]cellSpan)
	defer spanBuffers.Put(buffer)
	spans := slices.Grow((*buffer)[:0], n)[:n]
	*buffer = spans
	touched := 0
	for {
		c.Size, c.Nx, c.Ny, c.per = size, int(all.Width()/size)+1, int(all.Height()/size)+1, 1/size
		touched = 0
		for i := range spans {
			x0, y0, x1, y1 := c.span(boxAt(i))
			spans[i] = cellSpan{int32(x0), int32(y0), int32(x1), int32(y1)}
			touched += (x1 - x0 + 1) * (y1 - y0 + 1)
		}
		if touched <= 1024+mostTouched*n || c.Nx*c.Ny == 1 {
			break
		}
		size *= 2
	}
	// Lists are counted, and then filled from their ends.
	c.start = make([]int32, c.Nx*c.Ny+1)
	nx := int32(c.Nx)
	for _, s := range spans {
		for row := s.y0 * nx; row <= s.y1*nx; row += nx {
			for x := s.x0; x <= s.x1; x++ {
				c.start[row+x]++
			}
		}
	}
	c.sumUp()
	c.item = make([]int32, touched)
	for i := int32(n) - 1; i >= 0; i-- {
		s := spans[i]
		for row := s.y0 * nx; row <= s.y1*nx; row += nx {
			for x := s.x0; x <= s.x1; x++ {
				at := &c.start[row+x]
				*at--
				c.item[*at] = i
			}
		}
	}
	return c
}

// roomyCells is the size of cells, at least the one given, with which no more of them
// lie over a box than a few for each of n items.
func roomyCells(size float64, n int, all Box) float64 {
	most := float64(256 + 4*n)
	if want := (all.Width()/size + 1) * (all.Height()/size + 1); want > most {
		size *= math.Sqrt(want / most)
		// A long thin box has more cells on one side than the root tells.
		size = max(size, max(all.Width(), all.Height())/most)
	}
	return size
}

// NewPointCells is NewCells for n points.
func NewPointCells(size float64, n int, point func(int) Point) Cells {
	if n == 0 {
		return Cells{Size: size}
	}
	all := Box{point(0), point(0)}
	for i := range n {
		q := point(i)
		all.Lo.X, all.Lo.Y = min(all.Lo.X, q.X), min(all.Lo.Y, q.Y)
		all.Hi.X, all.Hi.Y = max(all.Hi.X, q.X), max(all.Hi.Y, q.Y)
	}
	size = roomyCells(size, n, all)
	c := Cells{Lo: all.Lo, Size: size, Nx: int(all.Width()/size) + 1, Ny: int(all.Height()/size) + 1, per: 1 / size}
	cell := func(i int) int {
		q := point(i)
		return cellAt((q.Y-c.Lo.Y)*c.per, c.Ny)*c.Nx + cellAt((q.X-c.Lo.X)*c.per, c.Nx)
	}
	c.start = make([]int32, c.Nx*c.Ny+1)
	for i := range n {
		c.start[cell(i)]++
	}
	c.sumUp()
	c.item = make([]int32, n)
	for i := n - 1; i >= 0; i-- {
		from := &c.start[cell(i)]
		*from--
		c.item[*from] = int32(i)
	}
	return c
}

// sumUp turns counts into where each list ends.
func (c *Cells) sumUp() {
	sum := int32(0)
	for i, k := range c.start {
		sum += k
		c.start[i] = sum
	}
}

// span is the range of cells that a box touches.
func (c *Cells) span(b Box) (x0, y0, x1, y1 int) {
	return cellAt((b.Lo.X-c.Lo.X)*c.per, c.Nx), cellAt((b.Lo.Y-c.Lo.Y)*c.per, c.Ny),
		cellAt((b.Hi.X-c.Lo.X)*c.per, c.Nx), cellAt((b.Hi.Y-c.Lo.Y)*c.per, c.Ny)
}

func cellAt(k float64, n int) int {
	switch {
	case !(k > 0):
		return 0
	case k >= float64(n-1):
		return n - 1
	default:
		return int(k)
	}
}

// Each calls f for the items near b, some of them more than once.
func (c *Cells) Each(b Box, f func(i int32)) {
	c.Until(b, func(i int32) bool { f(i); return false })
}

// EachCell calls f for the cells that a box touches.
func (c *Cells) EachCell(b Box, f func(cell int)) {
	if !c.reaches(b) {
		return
	}
	x0, y0, x1, y1 := c.span(b)
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			f(y*c.Nx + x)
		}
	}
}

// Range is the columns and rows of the cells that a box touches, if it reaches the grid.
func (c *Cells) Range(b Box) (x0, y0, x1, y1 int, ok bool) {
	if !c.reaches(b) {
		return 0, 0, 0, 0, false
	}
	x0, y0, x1, y1 = c.span(b)
	return x0, y0, x1, y1, true
}

// Last is the last cell that two boxes both touch, if they do.
func (c *Cells) Last(a, b Box) int {
	_, _, ax, ay := c.span(a)
	_, _, bx, by := c.span(b)
	return min(ay, by)*c.Nx + min(ax, bx)
}

// Until calls f for the items near b, some of them more than once, until one of the
// calls gives true, and reports whether one did.
func (c *Cells) Until(b Box, f func(i int32) bool) bool {
	if !c.reaches(b) {
		return false
	}
	x0, y0, x1, y1 := c.span(b)
	for y := y0; y <= y1; y++ {
		for _, i := range c.Row(y, x0, x1) {
			if f(i) {
				return true
			}
		}
	}
	return false
}

// UntilIn is Until for the items from first to last, last excluded.
func (c *Cells) UntilIn(b Box, first, last int32, f func(i int32) bool) bool {
	if first >= last || !c.reaches(b) {
		return false
	}
	x0, y0, x1, y1 := c.span(b)
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			items := c.At(y*c.Nx + x) // in order
			from := 0
			if len(items) > 0 && items[0] < first {
				from, _ = slices.BinarySearch(items, first)
			}
			for _, i := range items[from:] {
				if i >= last {
					break
				}
				if f(i) {
					return true
				}
			}
		}
	}
	return false
}

// reaches reports whether a box reaches the grid.
func (c *Cells) reaches(b Box) bool {
	return c.Nx != 0 && b.Hi.X >= c.Lo.X && b.Hi.Y >= c.Lo.Y &&
		b.Lo.X <= c.Lo.X+float64(c.Nx)*c.Size && b.Lo.Y <= c.Lo.Y+float64(c.Ny)*c.Size
}

// At lists the items of a cell.
func (c *Cells) At(cell int) []int32 {
	lo, hi := c.start[cell], c.start[cell+1]
	return c.item[lo:min(hi, lo+mostInCell)]
}

// Row lists the items of the cells of a row from column x0 to x1, cell after cell.
func (c *Cells) Row(y, x0, x1 int) []int32 {
	lo, hi := c.start[y*c.Nx+x0], c.start[y*c.Nx+x1+1]
	return c.item[lo:min(hi, lo+int32(x1-x0+1)*mostInCell)]
}

// NewLineGrid lays a grid over a polyline, which it keeps.
func NewLineGrid(line []Point) *LineGrid {
	g := &LineGrid{line: line}
	g.Cells = NewCells(lineCell, max(0, len(line)-1), func(i int) Box { return BoxOf(line[i : i+2]) })
	return g
}

const lineCell = 3.0 // mm

// NewBrokenLineGrid lays a grid over several lines, all of whose points stand in one
// slice: joined tells of each point but the first whether its line comes from the point
// before it.
func NewBrokenLineGrid(pts []Point, joined func(i int) bool) *LineGrid {
	g := &LineGrid{line: pts, side: []int32{}}
	for i := 1; i < len(pts); i++ {
		if joined(i) {
			g.side = append(g.side, int32(i-1))
		}
	}
	g.Cells = NewCells(lineCell, len(g.side), func(i int) Box { return BoxOf(pts[g.side[i] : g.side[i]+2]) })
	return g
}

// Nearest is the distance from q to the line, or more than reach if none of it
// is within reach.
func (g *LineGrid) Nearest(q Point, reach float64) float64 {
	// Most lines that are asked for lie near, if they do at all.
	if reach > 2*nearFirst {
		if d := g.within(q, nearFirst); d <= nearFirst {
			return d
		}
	}
	return g.within(q, reach)
}

const nearFirst = 1.5 // mm

func (g *LineGrid) within(q Point, reach float64) float64 {
	best := math.Inf(1)
	x0, y0, x1, y1, ok := g.Range(Box{q, q}.Grown(reach))
	for y := y0; ok && y <= y1; y++ {
		for _, i := range g.Row(y, x0, x1) {
			if g.side != nil {
				i = g.side[i]
			}
			best = min(best, squareToSegment(q, g.line[i], g.line[i+1]))
		}
	}
	return math.Sqrt(best)
}
