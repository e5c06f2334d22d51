package geom

import (
	"math"
	"math/bits"
	"slices"
)

// contourPoint is a point of a contour and what of the lines is nearest to it: a
// side, or the corner at its beginning.
type contourPoint struct {
	at     Point
	side   int32
	corner bool
}

// crossing is a contourPoint on an edge of the grid, which goes from a node to the right
// or up.
type crossing struct {
	at     Point
	side   int32
	next   int32 // in crossed, along the contour; -1 where it leaves what is known
	other  int32 // in crossed, that of the node's other edge; -1 where there is none
	corner bool
	up     bool
}

// contour follows the line at which the field has a value, by marching squares,
// with what is less on the left hand, and calls do for each loop of it. Loops are not to
// be kept.
func (f *field) contour(level float64, do func(loop []contourPoint)) {
	// Each edge that the contour crosses leads to one next edge.
	f.where = unset(f.where, len(f.dist), -1) // by known node: in crossed
	where := f.where
	// Nodes are known two or three abreast, and each crosses an edge or so.
	crossed, order := slices.Grow(f.crossed[:0], len(f.dist)/2), slices.Grow(f.order[:0], len(f.dist)/2)
	cross := func(i, j int, up bool) int32 {
		a, k, l := f.node(i, j), i+1, j
		if up {
			k, l = i, j+1
		}
		c := where[a]
		if c >= 0 && crossed[c].up != up {
			c = crossed[c].other
		}
		if c >= 0 {
			return c
		}
		b := f.node(k, l)
		from, to := rooted(f.dist[a]), rooted(f.dist[b])
		t := (level - from) / (to - from)
		p := f.nearest(Lerp(f.place(i, j), f.place(k, l), t), f.near[a], f.near[b])
		c = int32(len(crossed))
		crossed = append(crossed, crossing{at: p.at, side: p.side, next: -1, other: -1, corner: p.corner, up: up})
		if first := where[a]; first >= 0 {
			crossed[first].other = c
		} else {
			where[a] = c
		}
		return c
	}
	f.belowLevel(level)
	for t, n := range f.tile {
		if n == 0 {
			continue
		}
		rows, known := f.bitsOf(f.below, t), f.bitsOf(f.known, t)
		for y := range tileSide {
			// Most squares lie on one side.
			low, high := rows[y], rows[y+1]
			mixed := (low ^ low>>1) | (high ^ high>>1) | (low ^ high)
			mixed &= known[y] & (known[y] >> 1) & known[y+1] & (known[y+1] >> 1)
			for ; mixed != 0; mixed &= mixed - 1 {
				x := bits.TrailingZeros32(mixed)
				i, j := t%f.nx*tileSide+x, t/f.nx*tileSide+y
				code := low>>x&1 | low>>(x+1)&1<<1 | high>>(x+1)&1<<2 | high>>x&1<<3
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
	f.crossed, f.order = crossed, order
	f.loop = slices.Grow(f.loop[:0], len(order))
	for _, at := range order {
		loop := f.loop[:0]
		first := at
		for crossed[at].next >= 0 {
			c := &crossed[at]
			loop = append(loop, contourPoint{c.at, c.side, c.corner})
			at, c.next = c.next, -1
		}
		if len(loop) > 2 && at == first {
			do(loop)
		}
	}
}

// belowLevel notes which of the known nodes lie below a level, by row of a tile.
func (f *field) belowLevel(level float64) {
	square := level * math.Abs(level)
	f.below = slices.Grow(f.below[:0], len(f.known))[:len(f.known)]
	m := 0
	for r, known := range f.known {
		row := uint16(0)
		for ; known != 0; known &= known - 1 {
			if f.dist[m] < square {
				row |= known & -known
			}
			m++
		}
		f.below[r] = row
	}
}

// bitsOf gives the rows of a tile and the one above, each with the first node of the tile
// to the right, where there are those tiles.
func (f *field) bitsOf(all []uint16, t int) (rows [tileSide + 1]uint32) {
	of := func(t int, there bool) []uint16 {
		if !there || f.tile[t] == 0 {
			return nil
		}
		first := int(f.tile[t]-1) * tileSide
		return all[first : first+tileSide]
	}
	left, top := t%f.nx+1 < f.nx, t/f.nx+1 < f.ny
	right, above, corner := of(t+1, left), of(t+f.nx, top), of(t+f.nx+1, left && top)
	for y, row := range of(t, true) {
		rows[y] = uint32(row)
		if right != nil {
			rows[y] |= uint32(right[y]&1) << tileSide
		}
	}
	if above != nil {
		rows[tileSide] = uint32(above[0])
	}
	if corner != nil {
		rows[tileSide] |= uint32(corner[0]&1) << tileSide
	}
	return rows
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
