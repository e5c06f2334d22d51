package geom

import (
	"math"
	"math/bits"
	"slices"
	"sync"
)

// fieldSide is one side of a line that is pushed out.
type fieldSide struct {
	a, b       Point
	prev, next int32 // the sides before and after it
	line       int32
}

// field holds squared distances to closed lines, negative inside them, at the nodes
// of a square grid near the lines: in tiles, of which only those near a line exist.
type field struct {
	lo      Point
	cell    float64
	nx, ny  int // tiles
	tile    []int32
	dist    []float64 // by node, tile after tile
	near    []int32   // the nearest side
	sides   []fieldSide
	lines   int
	buffers *fieldBuffers // which dist and near are in
}

// fieldBuffers are used again from outline to outline.
type fieldBuffers struct {
	dist  []float64
	near  []int32
	where []int32
}

var fieldPool = sync.Pool{New: func() any { return new(fieldBuffers) }}

// done gives the buffers of a field back: it is not looked at any more.
func (f *field) done() {
	f.buffers.dist, f.buffers.near = f.dist, f.near
	fieldPool.Put(f.buffers)
}

// unset are n numbers all alike, in the place of v.
func unset[T int32 | float64](v []T, n int, to T) []T {
	v = slices.Grow(v[:0], n)[:n]
	for i := range v {
		v[i] = to
	}
	return v
}

const (
	tileSide  = 16
	tileNodes = tileSide * tileSide
)

func newField(lines [][]Point, d float64) *field {
	f := &field{cell: max(fieldCell, math.Abs(d)/cellShare)}
	var all []Point // of the outlines
	for _, l := range lines {
		if l = outlineOf(l); len(l) == 0 {
			continue
		}
		first := int32(len(f.sides))
		n := int32(len(l))
		for i, a := range l {
			i := int32(i)
			f.sides = append(f.sides, fieldSide{a, l[(i+1)%n], first + (i+n-1)%n, first + (i+1)%n, int32(f.lines)})
		}
		f.lines++
		all = append(all, l...)
	}
	if len(f.sides) < 2 {
		return nil
	}
	reach := math.Abs(d) + 2*f.cell
	b := BoxOf(all).Grown(reach + f.cell)
	across := f.cell * tileSide
	if most := math.Sqrt(mostNodes) * f.cell * 4; !(b.Width() < most && b.Height() < most) {
		return nil
	}
	f.lo, f.nx, f.ny = b.Lo, int(b.Width()/across)+1, int(b.Height()/across)+1
	f.tile = make([]int32, f.nx*f.ny)
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
		return nil
	}
	f.buffers = fieldPool.Get().(*fieldBuffers)
	f.dist, f.near = unset(f.buffers.dist, int(tiles)*tileNodes, math.Inf(1)), unset(f.buffers.near, int(tiles)*tileNodes, -1)
	f.eachRow(reach, func(side int32, j, i0, i1 int) bool {
		f.lower(side, j, i0, i1)
		return true
	})
	f.sign()
	return f
}

// outlineOf is a line without its closing point and without points that tell nothing.
func outlineOf(l []Point) []Point {
	if len(l) < 3 {
		return nil
	}
	if n := len(l); l[0] == l[n-1] {
		l = l[:n-1]
	}
	if step := (len(l) + mostCorners - 1) / mostCorners; step > 1 {
		var few []Point
		for i := 0; i < len(l); i += step {
			few = append(few, l[i])
		}
		l = few
	}
	l = Simplify(append(slices.Clone(l), l[0]), offsetGrain)
	return l[:len(l)-1]
}

// eachRow calls do for the nodes within reach of each side, and a few beyond: those of
// a row from one column to another, both included. It gives false where do does.
func (f *field) eachRow(reach float64, do func(side int32, j, i0, i1 int) bool) bool {
	reach += 1e-6
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
		j0, j1 := max(0, int((a.Y-reach-f.lo.Y)/f.cell)), min(int((b.Y+reach-f.lo.Y)/f.cell), f.ny*tileSide-1)
		for j := j0; j <= j1; j++ {
			// Only the part of the side within reach of the row's height counts.
			y := f.lo.Y + float64(j)*f.cell
			from, to := lo, hi
			if slope != 0 {
				from, to = a.X+slope*(max(a.Y, y-reach)-a.Y), a.X+slope*(min(b.Y, y+reach)-a.Y)
				from, to = max(lo, min(from, to)), min(hi, max(from, to))
			}
			i0, i1 := max(0, int((from-reach-f.lo.X)/f.cell)), min(int((to+reach-f.lo.X)/f.cell), f.nx*tileSide-1)
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
	per := 0.0
	if l2 := v.Dot(v); l2 > 0 {
		per = 1 / l2
	}
	y := f.lo.Y + float64(j)*f.cell - s.a.Y
	// A row of nodes is in one piece within a tile.
	for i := i0; i <= i1; {
		end := min(i1, i|(tileSide-1))
		m := f.node(i, j)
		dist, near := f.dist[m:m+end-i+1], f.near[m:m+end-i+1]
		for k := range dist {
			x := f.lo.X + float64(i+k)*f.cell - s.a.X
			t := max(0, min(1, (x*v.X+y*v.Y)*per))
			if p, q := x-t*v.X, y-t*v.Y; p*p+q*q < dist[k] {
				dist[k], near[k] = p*p+q*q, side
			}
		}
		i = end + 1
	}
}

// sign turns the distances inside any of the lines negative, by the nonzero rule
// for each line.
func (f *field) sign() {
	type crossing struct {
		x    float64
		line int32
		way  int32
	}
	rows := make([][]crossing, f.ny*tileSide)
	for i := range f.sides {
		p, q, way := f.sides[i].a, f.sides[i].b, int32(1)
		if p.Y > q.Y {
			p, q, way = q, p, -1
		}
		// Both ends are rounded alike, so that sides which meet on a row of the
		// grid cross it once between them.
		j0, j1 := int(math.Ceil((p.Y-f.lo.Y)/f.cell)), int(math.Ceil((q.Y-f.lo.Y)/f.cell))
		for j := max(0, j0); j < min(j1, len(rows)); j++ {
			y := f.lo.Y + float64(j)*f.cell
			rows[j] = append(rows[j], crossing{p.X + (q.X-p.X)*(y-p.Y)/(q.Y-p.Y), f.sides[i].line, way})
		}
	}
	wound := make([]int32, f.lines)
	for j, row := range rows {
		slices.SortFunc(row, func(a, b crossing) int {
			switch {
			case a.x < b.x:
				return -1
			case a.x > b.x:
				return 1
			}
			return 0
		})
		clear(wound)
		in, k := 0, 0
		for tx := range f.nx {
			if f.tile[j/tileSide*f.nx+tx] == 0 {
				continue
			}
			for i := tx * tileSide; i < (tx+1)*tileSide; i++ {
				x := f.lo.X + float64(i)*f.cell
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
					n := f.node(i, j)
					f.dist[n] = -f.dist[n]
				}
			}
		}
	}
}

// contourPoint is a point of a contour and what of the lines is nearest to it: a
// side, or the corner at its beginning.
type contourPoint struct {
	at     Point
	side   int32
	corner bool
}

// contour follows the line at which the field has a value, by marching squares,
// with what is less on the left hand.
func (f *field) contour(level float64) [][]contourPoint {
	// An edge of the grid is known by its node and whether it goes up; each edge
	// the contour crosses leads to one next edge.
	where := unset(f.buffers.where, 2*len(f.dist), -1) // in crossed
	f.buffers.where = where
	type crossing struct {
		at   contourPoint
		next int32 // in crossed; -1 where the contour leaves what is known
	}
	var crossed []crossing
	var order []int32
	width := f.nx * tileSide
	cross := func(i, j int, up bool) int32 {
		a := f.node(i, j)
		id, k, l := int32(2*a), i+1, j
		if up {
			id, k, l = id+1, i, j+1
		}
		if where[id] >= 0 {
			return where[id]
		}
		b := f.node(k, l)
		from, to := rooted(f.dist[a]), rooted(f.dist[b])
		t := (level - from) / (to - from)
		where[id] = int32(len(crossed))
		crossed = append(crossed, crossing{f.nearest(Lerp(f.place(i, j), f.place(k, l), t), f.near[a], f.near[b]), -1})
		return where[id]
	}
	square := level * math.Abs(level)
	for t, n := range f.tile {
		if n == 0 {
			continue
		}
		var below [tileSide]uint16 // by row, a bit for each node
		for y := range below {
			m := int(n-1)*tileNodes + y*tileSide
			for x, d := range f.dist[m : m+tileSide] {
				if d < square {
					below[y] |= 1 << x
				}
			}
		}
		for y, row := range below {
			// Most squares within a tile lie on one side.
			mixed := ^uint16(0)
			if y+1 < tileSide {
				above := below[y+1]
				mixed = (row ^ row>>1) | (above ^ above>>1) | (row ^ above) | 1<<(tileSide-1)
			}
			for ; mixed != 0; mixed &= mixed - 1 {
				x := bits.TrailingZeros16(mixed)
				i, j := t%f.nx*tileSide+x, t/f.nx*tileSide+y
				if i+1 >= width || j+1 >= f.ny*tileSide {
					continue
				}
				m := int(n-1)*tileNodes + y*tileSide + x
				corners := [4]int{m, m + 1, m + tileSide + 1, m + tileSide}
				if x+1 == tileSide || y+1 == tileSide {
					corners[1], corners[2], corners[3] = f.node(i+1, j), f.node(i+1, j+1), f.node(i, j+1)
				}
				code, known := 0, true
				for k, m := range corners {
					if m < 0 || f.near[m] < 0 {
						known = false
						break
					}
					if f.dist[m] < square {
						code |= 1 << k
					}
				}
				if !known || code == 0 || code == 15 {
					continue
				}
				edge := func(k int) int32 {
					switch k {
					case 0:
						return cross(i, j, false)
					case 1:
						return cross(i+1, j, true)
					case 2:
						return cross(i, j+1, false)
					}
					return cross(i, j, true)
				}
				for _, s := range marching[code] {
					from, to := edge(s[0]), edge(s[1])
					crossed[from].next = to
					order = append(order, from)
				}
			}
		}
	}
	var loops [][]contourPoint
	for _, at := range order {
		var loop []contourPoint
		first := at
		for crossed[at].next >= 0 {
			loop = append(loop, crossed[at].at)
			at, crossed[at].next = crossed[at].next, -1
		}
		if len(loop) > 2 && at == first {
			loops = append(loops, loop)
		}
	}
	return loops
}

// rooted is a distance of a field, which holds squares.
func rooted(d float64) float64 { return math.Copysign(math.Sqrt(math.Abs(d)), d) }

// marching gives for each set of corners below the level (lower left 1, lower
// right 2, upper right 4, upper left 8) the edges that the contour enters and
// leaves by (0 lower, 1 right, 2 upper, 3 left).
var marching = [16][][2]int{
	1: {{0, 3}}, 2: {{1, 0}}, 3: {{1, 3}}, 4: {{2, 1}}, 5: {{0, 3}, {2, 1}}, 6: {{2, 0}}, 7: {{2, 3}},
	8: {{3, 2}}, 9: {{0, 2}}, 10: {{1, 0}, {3, 2}}, 11: {{1, 2}}, 12: {{3, 1}}, 13: {{0, 1}}, 14: {{3, 0}},
}

// nearest tells which of two sides is nearer to q, and whether by its corner.
func (f *field) nearest(q Point, a, b int32) contourPoint {
	if a != b && DistanceToSegment(q, f.sides[b].a, f.sides[b].b) < DistanceToSegment(q, f.sides[a].a, f.sides[a].b) {
		a = b
	}
	s := &f.sides[a]
	v := s.b.Sub(s.a)
	switch t := q.Sub(s.a).Dot(v); {
	case t <= 0:
		return contourPoint{q, a, true}
	case t >= v.Dot(v):
		return contourPoint{q, s.next, true}
	}
	return contourPoint{q, a, false}
}
