package geom

import (
	"cmp"
	"math"
	"slices"
	"sync"
)

// fieldSide is one side of a line that is pushed out.
type fieldSide struct {
	a, b       Point
	per        float64 // one over the square of its length; 0 where it has none
	prev, next int32   // the sides before and after it
	line       int32
}

// field holds squared distances to closed lines, negative inside them, at the nodes
// of a square grid near the lines: in tiles, of which only those near a line exist.
type field struct {
	lo     Point
	cell   float64
	nx, ny int // tiles
	tile   []int32
	dist   []float64 // by node, tile after tile
	near   []int32   // the nearest side
	sides  []fieldSide
	lines  int
	*fieldBuffers
}

// fieldBuffers are used again from outline to outline.
type fieldBuffers struct {
	distHeld  []float64
	nearHeld  []int32
	tileHeld  []int32
	sidesHeld []fieldSide
	where     []int32
	below     []uint16
	rowStart  []int32
	rows      []rowCrossing
	wound     []int32
	crossed   []crossing
	order     []int32
	loop      []contourPoint
	creases   []contourPoint
	tips      []contourPoint
	pts       []Point
}

var fieldPool = sync.Pool{New: func() any { return new(fieldBuffers) }}

// done gives the buffers of a field back: it is not looked at any more.
func (f *field) done() {
	b := f.fieldBuffers
	b.distHeld, b.nearHeld, b.tileHeld, b.sidesHeld = f.dist, f.near, f.tile, f.sides
	fieldPool.Put(b)
}

// unset are n numbers all alike, in the place of v.
func unset[T int32 | float64](v []T, n int, to T) []T {
	v = slices.Grow(v[:0], n)[:n]
	if n > 0 {
		v[0] = to
	}
	for done := 1; done < n; done *= 2 {
		copy(v[done:], v[:done])
	}
	return v
}

const (
	tileSide  = 16
	tileNodes = tileSide * tileSide
)

func newField(lines [][]Point, d float64) *field {
	f := &field{cell: max(fieldCell, math.Abs(d)/cellShare), fieldBuffers: fieldPool.Get().(*fieldBuffers)}
	f.dist, f.near, f.tile, f.sides = f.distHeld, f.nearHeld, f.tileHeld, f.sidesHeld[:0]
	if !f.lay(lines, d) {
		f.done()
		return nil
	}
	return f
}

// lay works out the field. It gives false where the lines enclose nothing or are too long.
func (f *field) lay(lines [][]Point, d float64) bool {
	var b Box // around the outlines
	for _, l := range lines {
		if l = outlineOf(l); len(l) == 0 {
			continue
		}
		first := int32(len(f.sides))
		n := int32(len(l))
		for i, a := range l {
			i := int32(i)
			s := fieldSide{a: a, b: l[(i+1)%n], prev: first + (i+n-1)%n, next: first + (i+1)%n, line: int32(f.lines)}
			if v := s.b.Sub(s.a); v.Dot(v) > 0 {
				s.per = 1 / v.Dot(v)
			}
			f.sides = append(f.sides, s)
		}
		if own := BoxOf(l); first == 0 {
			b = own
		} else {
			b = b.With(own)
		}
		f.lines++
	}
	if len(f.sides) < 2 {
		return false
	}
	reach := math.Abs(d) + 2*f.cell
	b = b.Grown(reach + f.cell)
	across := f.cell * tileSide
	if most := math.Sqrt(mostNodes) * f.cell * 4; !(b.Width() < most && b.Height() < most) {
		return false
	}
	f.lo, f.nx, f.ny = b.Lo, int(b.Width()/across)+1, int(b.Height()/across)+1
	f.tile = unset(f.tile, f.nx*f.ny, 0)
	// No corner of a square that the contour crosses lies further than its diagonal beyond.
	reach -= f.cell / 2
	steps, tiles := 0, int32(0)
	if !f.eachRow(reach, func(_ int32, j, i0, i1 int) bool {
		steps += i1 - i0 + 1
		for t := j/tileSide*f.nx + i0/tileSide; t <= j/tileSide*f.nx+i1/tileSide; t++ {
			if f.tile[t] == 0 {
				tiles++
				f.tile[t] = tiles
			}
		}
		return steps <= mostSteps && int(tiles)*tileNodes <= mostNodes
	}) {
		return false
	}
	f.dist, f.near = unset(f.dist, int(tiles)*tileNodes, math.Inf(1)), unset(f.near, int(tiles)*tileNodes, -1)
	f.eachRow(reach, func(side int32, j, i0, i1 int) bool {
		f.lower(side, j, i0, i1)
		return true
	})
	f.sign()
	return true
}

// outlineOf is a line without its closing point and without points that tell nothing.
func outlineOf(l []Point) []Point {
	n := len(l)
	if n < 3 {
		return nil
	}
	closed := l[0] == l[n-1]
	if closed {
		n--
	}
	if step := (n + mostCorners - 1) / mostCorners; step > 1 || !closed {
		few := make([]Point, 0, n/step+2)
		for i := 0; i < n; i += step {
			few = append(few, l[i])
		}
		l = append(few, l[0])
	}
	l = Simplify(l, offsetGrain)
	return l[:len(l)-1]
}

// eachRow calls do for the nodes within reach of each side, and a few beyond: those of
// a row from one column to another, both included. It gives false where do does.
func (f *field) eachRow(reach float64, do func(side int32, j, i0, i1 int) bool) bool {
	reach += 1e-6
	per := 1 / f.cell
	for k := range f.sides {
		a, b := f.sides[k].a, f.sides[k].b
		if a.Y > b.Y {
			a, b = b, a
		}
		slope := 0.0
		if b.Y > a.Y {
			slope = (b.X - a.X) / (b.Y - a.Y)
		}
		lo, hi := min(a.X, b.X), max(a.X, b.X)
		j0, j1 := max(0, int((a.Y-reach-f.lo.Y)*per)), min(int((b.Y+reach-f.lo.Y)*per), f.ny*tileSide-1)
		for j := j0; j <= j1; j++ {
			// Only the part of the side within reach of the row's height counts.
			y := f.lo.Y + float64(j)*f.cell
			from, to := lo, hi
			if slope != 0 {
				from, to = a.X+slope*(max(a.Y, y-reach)-a.Y), a.X+slope*(min(b.Y, y+reach)-a.Y)
				from, to = max(lo, min(from, to)), min(hi, max(from, to))
			}
			i0, i1 := max(0, int((from-reach-f.lo.X)*per)), min(int((to+reach-f.lo.X)*per), f.nx*tileSide-1)
			if i0 <= i1 && !do(int32(k), j, i0, i1) {
				return false
			}
		}
	}
	return true
}

// node gives the place in dist of a node; -1 where it has no tile.
func (f *field) node(i, j int) int {
	t := f.tile[j/tileSide*f.nx+i/tileSide]
	if t == 0 {
		return -1
	}
	return int(t-1)*tileNodes + j%tileSide*tileSide + i%tileSide
}

func (f *field) place(i, j int) Point {
	return Point{f.lo.X + float64(i)*f.cell, f.lo.Y + float64(j)*f.cell}
}

// lower lowers the distances of nodes of a row to those from a side.
func (f *field) lower(side int32, j, i0, i1 int) {
	s := &f.sides[side]
	v := s.b.Sub(s.a)
	y := f.lo.Y + float64(j)*f.cell - s.a.Y
	yv := y * v.Y
	// A row of nodes is in one piece within a tile.
	for i := i0; i <= i1; {
		end := min(i1, i|(tileSide-1))
		m := f.node(i, j)
		dist, near := f.dist[m:m+end-i+1], f.near[m:m+end-i+1]
		for k := range dist {
			x := f.lo.X + float64(i+k)*f.cell - s.a.X
			t := (x*v.X + yv) * s.per
			if t < 0 {
				t = 0
			} else if t > 1 {
				t = 1
			}
			if p, q := x-t*v.X, y-t*v.Y; p*p+q*q < dist[k] {
				dist[k], near[k] = p*p+q*q, side
			}
		}
		i = end + 1
	}
}

// rowCrossing is a place where a line crosses a row of the grid.
type rowCrossing struct {
	x    float64
	line int32
	way  int32
}

// eachCrossing calls do for the rows of the grid that each side crosses. Both ends are
// rounded alike, so that sides which meet on a row cross it once between them.
func (f *field) eachCrossing(do func(row int, c rowCrossing)) {
	for i := range f.sides {
		p, q, way := f.sides[i].a, f.sides[i].b, int32(1)
		if p.Y > q.Y {
			p, q, way = q, p, -1
		}
		j0, j1 := int(math.Ceil((p.Y-f.lo.Y)/f.cell)), int(math.Ceil((q.Y-f.lo.Y)/f.cell))
		for j := max(0, j0); j < min(j1, f.ny*tileSide); j++ {
			y := f.lo.Y + float64(j)*f.cell
			do(j, rowCrossing{p.X + (q.X-p.X)*(y-p.Y)/(q.Y-p.Y), f.sides[i].line, way})
		}
	}
}

// sign turns the distances inside any of the lines negative, by the nonzero rule
// for each line.
func (f *field) sign() {
	// Crossings are counted by row, and then filed in order.
	f.rowStart = unset(f.rowStart, f.ny*tileSide+2, 0)
	start := f.rowStart[1:]
	f.eachCrossing(func(j int, _ rowCrossing) { start[j+1]++ })
	for j := 1; j < len(start); j++ {
		start[j] += start[j-1]
	}
	n := int(start[len(start)-1])
	f.rows = slices.Grow(f.rows[:0], n)[:n]
	next := start
	f.eachCrossing(func(j int, c rowCrossing) {
		f.rows[next[j]] = c
		next[j]++
	})
	start = f.rowStart // each list ends where the next began
	f.wound = unset(f.wound, f.lines, 0)
	wound := f.wound
	for j := range f.ny * tileSide {
		row := f.rows[start[j]:start[j+1]]
		slices.SortFunc(row, func(a, b rowCrossing) int { return cmp.Compare(a.x, b.x) })
		clear(wound)
		in, k := 0, 0
		for tx := range f.nx {
			m := f.node(tx*tileSide, j)
			if m < 0 {
				continue
			}
			dist := f.dist[m : m+tileSide]
			if k == len(row) && in == 0 {
				break
			}
			if last := f.lo.X + float64(tx*tileSide+tileSide-1)*f.cell; k == len(row) || row[k].x > last {
				if in > 0 {
					for i := range dist {
						dist[i] = -dist[i]
					}
				}
				continue
			}
			for i := range dist {
				x := f.lo.X + float64(tx*tileSide+i)*f.cell
				for ; k < len(row) && row[k].x <= x; k++ {
					w := &wound[row[k].line]
					if *w != 0 {
						in--
					}
					if *w += row[k].way; *w != 0 {
						in++
					}
				}
				if in > 0 {
					dist[i] = -dist[i]
				}
			}
		}
	}
}
