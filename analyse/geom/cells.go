package geom

import (
	"math"
	"slices"
	"sync"
)

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

// cellSpan are the cells that a box touches: the first one, and how many more there are
// to the right and above.
type cellSpan struct {
	cell      int32
	right, up uint16
}

// mostAcross bounds the columns and the rows of a grid, so that spans are small.
const mostAcross = 1 << 16

// spansAtOnce is how many spans of boxes are held that are soon worked out anew.
const spansAtOnce = 2048

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
		all = all.With(b)
	}
	return fileSpans(size, n, n, all, sides, func(c Cells, first int, spans []cellSpan) {
		for i := range spans {
			b := boxAt(first + i)
			x0, y0 := c.columnRow(b.Lo)
			x1, y1 := c.columnRow(b.Hi)
			spans[i] = c.spanFrom(x0, y0, x1, y1)
		}
	})
}

// NewLineCells is NewCells for the boxes around the segments of a polyline.
func NewLineCells(size float64, line []Point) Cells {
	return segmentCells(size, line, nil, max(0, len(line)-1), 0)
}

// NewSegmentCells is NewCells for the boxes around segments from one point of a slice to the
// next, each box grown by a distance: item i is the segment that ends at point ends[i].
func NewSegmentCells(size float64, pts []Point, ends []int32, grown float64) Cells {
	return segmentCells(size, pts, ends, len(ends), grown)
}

// segmentCells has for item i the segment that ends at point i+1 where ends is nil.
func segmentCells(size float64, line []Point, ends []int32, n int, grown float64) Cells {
	if n == 0 {
		return Cells{Size: size, Nx: 0, Ny: 0}
	}
	all := segmentBox(line, ends, 0).Grown(grown)
	var sides float64
	for i := range n {
		b := segmentBox(line, ends, i).Grown(grown)
		sides += max(b.Width(), b.Height())
		all = all.With(b)
	}
	return fileSpans(size, n, min(n, spansAtOnce), all, sides, func(c Cells, first int, spans []cellSpan) {
		if grown != 0 {
			for i := range spans {
				b := segmentBox(line, ends, first+i).Grown(grown)
				x0, y0 := c.columnRow(b.Lo)
				x1, y1 := c.columnRow(b.Hi)
				spans[i] = c.spanFrom(x0, y0, x1, y1)
			}
			return
		}
		// Most segments begin where the one before ends.
		last, x0, y0 := -1, 0, 0
		for i := range spans {
			k := first + i + 1
			if ends != nil {
				k = int(ends[first+i])
			}
			if last != k-1 {
				x0, y0 = c.columnRow(line[k-1])
			}
			x1, y1 := c.columnRow(line[k])
			spans[i] = c.spanFrom(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))
			last, x0, y0 = k, x1, y1
		}
	})
}

// segmentBox is the box around item i of segmentCells.
func segmentBox(line []Point, ends []int32, i int) Box {
	k := i + 1
	if ends != nil {
		k = int(ends[i])
	}
	b := Box{line[k-1], line[k]}
	if b.Lo.X > b.Hi.X {
		b.Lo.X, b.Hi.X = b.Hi.X, b.Lo.X
	}
	if b.Lo.Y > b.Hi.Y {
		b.Lo.Y, b.Hi.Y = b.Hi.Y, b.Lo.Y
	}
	return b
}

// fileSpans makes the lists of n boxes, whose longer sides are so long in sum, that lie
// in one around all. Which cells some of them touch, from the first of them on, spans
// fills in: for so many at once, and again where not all fit.
func fileSpans(size float64, n, atOnce int, all Box, sides float64, spans func(c Cells, first int, spans []cellSpan)) Cells {
	size = max(size, sides/float64(n)) // so that a box touches a few cells, however large boxes are
	size = roomyCells(size, n, all)
	c := Cells{Lo: all.Lo}
	buffer := spanBuffers.Get().(*[]cellSpan)
	defer spanBuffers.Put(buffer)
	held := slices.Grow((*buffer)[:0], atOnce)[:atOnce]
	*buffer = held
	touched := 0
	// Lists are counted, and then filled from their ends.
	for {
		c.Size, c.Nx, c.Ny, c.per = size, int(all.Width()/size)+1, int(all.Height()/size)+1, 1/size
		c.start = slices.Grow(c.start[:0], c.Nx*c.Ny+1)[:c.Nx*c.Ny+1]
		clear(c.start)
		touched = 0
		for first := 0; first < n; first += atOnce {
			part := held[:min(atOnce, n-first)]
			spans(c, first, part)
			touched += c.count(part)
		}
		if touched <= 1024+mostTouched*n || c.Nx*c.Ny == 1 {
			break
		}
		size *= 2
	}
	c.sumUp()
	c.item = make([]int32, touched)
	for first := (n - 1) / atOnce * atOnce; first >= 0; first -= atOnce {
		part := held[:min(atOnce, n-first)]
		if atOnce < n {
			spans(c, first, part)
		}
		c.fill(first, part)
	}
	return c
}

// spanFrom are the cells from one column and row to another.
func (c *Cells) spanFrom(x0, y0, x1, y1 int) cellSpan {
	return cellSpan{int32(y0*c.Nx + x0), uint16(x1 - x0), uint16(y1 - y0)}
}

// count counts one item more in all cells of each span, and gives how many that are.
func (c *Cells) count(spans []cellSpan) (touched int) {
	start, nx := c.start, c.Nx
	for _, s := range spans {
		row, right := int(s.cell), int(s.right)
		touched += (right + 1) * (int(s.up) + 1)
		for up := int(s.up); up >= 0; up-- {
			start[row]++
			for x := row + 1; x <= row+right; x++ {
				start[x]++
			}
			row += nx
		}
	}
	return touched
}

// fill puts the items of spans, from first on, before what is filed in their cells.
func (c *Cells) fill(first int, spans []cellSpan) {
	start, item, nx := c.start, c.item, c.Nx
	for i := len(spans) - 1; i >= 0; i-- {
		s := spans[i]
		row, right, k := int(s.cell), int(s.right), int32(first+i)
		for up := int(s.up); up >= 0; up-- {
			for x := row; x <= row+right; x++ {
				at := start[x] - 1
				start[x], item[at] = at, k
			}
			row += nx
		}
	}
}

// columnRow are the column and the row of the cell that a point lies in, or that it lies
// nearest to.
func (c *Cells) columnRow(q Point) (x, y int) {
	return min(max(int((q.X-c.Lo.X)*c.per), 0), c.Nx-1), min(max(int((q.Y-c.Lo.Y)*c.per), 0), c.Ny-1)
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
	return max(size, max(all.Width(), all.Height())/(mostAcross-1))
}

// NewPointCells is NewCells for points.
func NewPointCells(size float64, pts []Point) Cells {
	return pointCells(size, pts, nil, len(pts))
}

// NewSomePointCells is NewCells for some of the points of a slice: item i is pts[at[i]].
func NewSomePointCells(size float64, pts []Point, at []int32) Cells {
	return pointCells(size, pts, at, len(at))
}

func pointCells(size float64, pts []Point, at []int32, n int) Cells {
	if n == 0 {
		return Cells{Size: size}
	}
	point := func(i int) Point {
		if at != nil {
			i = int(at[i])
		}
		return pts[i]
	}
	all := Box{point(0), point(0)}
	if at == nil {
		all = BoxOf(pts)
	}
	for i := range at {
		q := point(i)
		all = all.With(Box{q, q})
	}
	size = roomyCells(size, n, all)
	c := Cells{Lo: all.Lo, Size: size, Nx: int(all.Width()/size) + 1, Ny: int(all.Height()/size) + 1, per: 1 / size}
	c.start = make([]int32, c.Nx*c.Ny+1)
	for i := range n {
		x, y := c.columnRow(point(i))
		c.start[y*c.Nx+x]++
	}
	c.sumUp()
	c.item = make([]int32, n)
	for i := n - 1; i >= 0; i-- {
		x, y := c.columnRow(point(i))
		from := &c.start[y*c.Nx+x]
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

// Of is the cell that a place lies in, if it lies on the grid.
func (c *Cells) Of(q Point) (cell int, ok bool) {
	if !c.reaches(Box{q, q}) {
		return 0, false
	}
	return cellAt((q.Y-c.Lo.Y)*c.per, c.Ny)*c.Nx + cellAt((q.X-c.Lo.X)*c.per, c.Nx), true
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

// UntilIn is Until for the items from first to last, last excluded. What lies in the
// middle comes first.
func (c *Cells) UntilIn(b Box, first, last int32, f func(i int32) bool) bool {
	if first >= last || !c.reaches(b) {
		return false
	}
	x0, y0, x1, y1 := c.span(b)
	middle := (y0+y1)/2*c.Nx + (x0+x1)/2
	if c.untilAt(middle, first, last, f) {
		return true
	}
	for y := y0; y <= y1; y++ {
		for cell := y*c.Nx + x0; cell <= y*c.Nx+x1; cell++ {
			if cell != middle && c.untilAt(cell, first, last, f) {
				return true
			}
		}
	}
	return false
}

// untilAt is UntilIn for one cell.
func (c *Cells) untilAt(cell int, first, last int32, f func(i int32) bool) bool {
	items := c.At(cell) // in order
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
