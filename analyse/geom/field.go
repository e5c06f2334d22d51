package geom

import (
	"cmp"
	"math"
	"math/bits"
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
// of a square grid that lie about as far from the lines as its contour is to: one crosses
// its way only between such nodes. Those are known by bits, in tiles of which only some
// exist, and stand row by row, tile after tile.
type field struct {
	lo     Point
	cell   float64
	nx, ny int // tiles
	tile   []int32
	known  []uint16  // by row of a tile: its nodes that are known
	in     []uint16  // by row of a tile: its nodes inside the lines
	first  []int32   // by row of a tile: the first of its known nodes
	dist   []float64 // by known node
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
	knownHeld []uint16
	inHeld    []uint16
	firstHeld []int32
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
	pts       []Point
}

var fieldPool = sync.Pool{New: func() any { return new(fieldBuffers) }}

// done gives the buffers of a field back: it is not looked at any more.
func (f *field) done() {
	b := f.fieldBuffers
	b.distHeld, b.nearHeld, b.tileHeld, b.sidesHeld = f.dist, f.near, f.tile, f.sides
	b.knownHeld, b.inHeld, b.firstHeld = f.known, f.in, f.first
	fieldPool.Put(b)
}

// unset are n numbers all alike, in the place of v.
func unset[T int32 | uint16 | float64](v []T, n int, to T) []T {
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
	f.known, f.in, f.first = f.knownHeld[:0], f.inHeld, f.firstHeld
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
	// No corner of a square that the contour crosses lies further than its diagonal from it.
	slack := 1.5 * f.cell
	if !f.mark(math.Abs(d)-slack, math.Abs(d)+slack) {
		return false
	}
	f.findInside()
	if math.Abs(d) > slack {
		// What lies on the other side of the lines is no part of the contour.
		for r, in := range f.in {
			if d > 0 {
				in = ^in
			}
			f.known[r] &= in
		}
	}
	f.first = slices.Grow(f.first[:0], len(f.known))[:len(f.known)]
	n := int32(0)
	for r, known := range f.known {
		f.first[r] = n
		n += int32(bits.OnesCount16(known))
	}
	f.dist, f.near = unset(f.dist, int(n), math.Inf(1)), unset(f.near, int(n), -1)
	if !f.lower(math.Abs(d) + slack) {
		return false
	}
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

// node gives the place in dist of a node that is known.
func (f *field) node(i, j int) int {
	r := int(f.tile[j/tileSide*f.nx+i/tileSide]-1)*tileSide + j%tileSide
	return int(f.first[r]) + bits.OnesCount16(f.known[r]&(1<<(i%tileSide)-1))
}

func (f *field) place(i, j int) Point {
	return Point{f.lo.X + float64(i)*f.cell, f.lo.Y + float64(j)*f.cell}
}

// lower lowers the distances of known nodes to those from the sides that lie within reach of
// them. It gives false where that is too much work.
func (f *field) lower(reach float64) bool {
	reach += 1e-6
	per := 1 / f.cell
	steps := 0
	for k := range f.sides {
		s := &f.sides[k]
		lo, hi := Point{min(s.a.X, s.b.X) - reach, min(s.a.Y, s.b.Y) - reach}, Point{max(s.a.X, s.b.X) + reach, max(s.a.Y, s.b.Y) + reach}
		i0, i1 := max(0, int((lo.X-f.lo.X)*per)), min(int((hi.X-f.lo.X)*per), f.nx*tileSide-1)
		j0, j1 := max(0, int((lo.Y-f.lo.Y)*per)), min(int((hi.Y-f.lo.Y)*per), f.ny*tileSide-1)
		for ty := j0 / tileSide; ty <= j1/tileSide; ty++ {
			for tx := i0 / tileSide; tx <= i1/tileSide; tx++ {
				if t := f.tile[ty*f.nx+tx]; t != 0 {
					from, to := max(i0-tx*tileSide, 0), min(i1-tx*tileSide, tileSide-1)
					columns := uint16(1<<(to+1)-1) &^ (1<<from - 1)
					steps += f.lowerTile(int32(k), int(t-1), tx*tileSide, ty*tileSide, max(j0-ty*tileSide, 0), min(j1-ty*tileSide, tileSide-1), columns)
				}
			}
		}
		if steps > mostSteps {
			return false
		}
	}
	return true
}

// lowerTile is lower for one side and the rows of a tile from one to another, both
// included, and some of its columns; it begins at column i and row j. It gives the number
// of nodes that it looked at, and one for each row.
func (f *field) lowerTile(side int32, tile, i, j, from, to int, columns uint16) (steps int) {
	s := &f.sides[side]
	v := s.b.Sub(s.a)
	for row := from; row <= to; row++ {
		r := tile*tileSide + row
		known := f.known[r]
		some := known & columns
		steps++
		if some == 0 {
			continue
		}
		y := f.lo.Y + float64(j+row)*f.cell - s.a.Y
		yv := y * v.Y
		m := int(f.first[r]) + bits.OnesCount16(known&(some&-some-1))
		steps += bits.OnesCount16(some)
		for ; some != 0; some &= some - 1 {
			x := f.lo.X + float64(i+bits.TrailingZeros16(some))*f.cell - s.a.X
			t := (x*v.X + yv) * s.per
			if t < 0 {
				t = 0
			} else if t > 1 {
				t = 1
			}
			if p, q := x-t*v.X, y-t*v.Y; p*p+q*q < f.dist[m] {
				f.dist[m], f.near[m] = p*p+q*q, side
			}
			m++
		}
	}
	return steps
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

// findInside finds the nodes inside any of the lines, by the nonzero rule for each line,
// in the tiles that there are.
func (f *field) findInside() {
	f.in = unset(f.in, len(f.known), 0)
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
			tile := f.tile[j/tileSide*f.nx+tx]
			if tile == 0 {
				continue
			}
			if k == len(row) && in == 0 {
				break
			}
			inside := &f.in[int(tile-1)*tileSide+j%tileSide]
			if last := f.lo.X + float64(tx*tileSide+tileSide-1)*f.cell; k == len(row) || row[k].x > last {
				if in > 0 {
					*inside = math.MaxUint16
				}
				continue
			}
			for i := range tileSide {
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
					*inside |= 1 << i
				}
			}
		}
	}
}

// sign turns the distances inside any of the lines negative.
func (f *field) sign() {
	m := 0
	for r, known := range f.known {
		in := f.in[r]
		for ; known != 0; known &= known - 1 {
			if in&(known&-known) != 0 {
				f.dist[m] = -f.dist[m]
			}
			m++
		}
	}
}
