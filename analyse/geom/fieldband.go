package geom

import "math"

// bandPatch is a rectangle: what lies between two bounds along a unit vector from a place,
// and between two others along its left.
type bandPatch struct {
	from, along    Point
	t0, t1, g0, g1 float64
}

const (
	smallTurn = math.Pi / 6 // radians: corners that turn no more lie in the patches of their sides
	patchTurn = math.Pi / 4 // radians that a patch round a corner takes in at most
)

// mark marks as known the nodes whose nearest place on a side lies between two distances,
// and a few more: along either side of each, and round its corners. It gives false where
// that is too much work.
func (f *field) mark(nearest, furthest float64) bool {
	tiles, steps := 0, 0
	do := func(p bandPatch) bool {
		steps += f.markPatch(&p, &tiles)
		return steps <= mostSteps && tiles*tileNodes <= mostNodes
	}
	// How near the patch of a side lies whose corners turn.
	least := func(turn float64) float64 {
		if nearest < 0 {
			return nearest
		}
		return nearest * math.Cos(turn/2)
	}
	for k := range f.sides {
		s := &f.sides[k]
		before, next := &f.sides[s.prev], &f.sides[s.next]
		u := s.b.Sub(s.a).Unit()
		l := u.Dot(s.b.Sub(s.a))
		start, end := turnBetween(before, s), turnBetween(s, next)
		for _, left := range [2]float64{1, -1} {
			// A corner that turns away from this side of the line has ground of its own.
			t0, t1, g0 := 0.0, l, nearest
			if away := -left * start; away > 0 && away <= smallTurn {
				t0, g0 = -furthest*math.Sin(away/2), min(g0, least(away))
			}
			if away := -left * end; away > 0 && away <= smallTurn {
				t1, g0 = l+furthest*math.Sin(away/2), min(g0, least(away))
			}
			if p := (bandPatch{s.a, u, t0, t1, g0, furthest}); l > 0 {
				if left < 0 {
					p.g0, p.g1 = -furthest, -g0
				}
				if !do(p) {
					return false
				}
			}
		}
		turn := start
		if l == 0 || before.per == 0 {
			turn = 2 * math.Pi // no telling where it turns
		}
		if math.Abs(turn) <= smallTurn {
			continue
		}
		// From the right of the side before to that of this one, or from left to left.
		n := math.Ceil(math.Abs(turn) / patchTurn)
		each := turn / n
		way := before.b.Sub(before.a).Unit().Left().Times(-math.Copysign(1, turn))
		if way.Dot(way) == 0 {
			way = Point{1, 0}
		}
		for i := 0.0; i < n; i++ {
			sin, cos := math.Sincos((i + 0.5) * each)
			out := Point{way.X*cos - way.Y*sin, way.X*sin + way.Y*cos}
			wide := furthest * math.Sin(math.Abs(each)/2)
			if !do(bandPatch{s.a, out, least(math.Abs(each)), furthest, -wide, wide}) {
				return false
			}
		}
	}
	return true
}

// turnBetween is the angle in radians by which a line turns left from a side to the next.
func turnBetween(a, b *fieldSide) float64 {
	u, v := a.b.Sub(a.a), b.b.Sub(b.a)
	return math.Atan2(u.Cross(v), u.Dot(v))
}

// markPatch marks the nodes in a patch, and counts the tiles that it adds. It gives the
// number of nodes, and one for each row.
func (f *field) markPatch(p *bandPatch, tiles *int) (steps int) {
	const slack = 1e-6 // none is lost to rounding
	u, n := p.along, p.along.Left()
	t0, t1, g0, g1 := p.t0-slack, p.t1+slack, p.g0-slack, p.g1+slack
	low := min(t0*u.Y, t1*u.Y) + min(g0*n.Y, g1*n.Y)
	high := max(t0*u.Y, t1*u.Y) + max(g0*n.Y, g1*n.Y)
	along, beside := bandRow(u, t0, t1), bandRow(n, g0, g1)
	per := 1 / f.cell
	x, y := (p.from.X-f.lo.X)*per, p.from.Y-f.lo.Y
	j0, j1 := max(0, int(math.Ceil((y+low)*per))), min(int((y+high)*per), f.ny*tileSide-1)
	for j := j0; j <= j1; j++ {
		dy := float64(j)*f.cell - y
		lo, hi := along.at(dy)
		if l, h := beside.at(dy); l > lo || h < hi {
			lo, hi = max(lo, l), min(hi, h)
		}
		from, to := max(0, x+lo*per), min(x+hi*per, float64(f.nx*tileSide-1))
		steps++
		if !(from <= to) {
			continue
		}
		i0, i1 := int(from), int(to)
		if float64(i0) < from {
			i0++
		}
		steps += max(0, i1-i0)
		for i := i0; i <= i1; {
			end := min(i1, i|(tileSide-1))
			t := &f.tile[j/tileSide*f.nx+i/tileSide]
			if *t == 0 {
				*tiles++
				*t = int32(*tiles)
				f.known = append(f.known, make([]uint16, tileSide)...)
			}
			f.known[int(*t-1)*tileSide+j%tileSide] |= uint16(1<<(end%tileSide+1)-1) &^ (1<<(i%tileSide) - 1)
			i = end + 1
		}
	}
	return steps
}

// rowBand is the x of a row between two bounds along a unit vector, from its place.
type rowBand struct{ lo, hi, slope float64 }

func bandRow(u Point, lo, hi float64) rowBand {
	if math.Abs(u.X) < 1e-9 {
		return rowBand{math.Inf(-1), math.Inf(1), 0} // the rows tell
	}
	if u.X < 0 {
		lo, hi = hi, lo
	}
	return rowBand{lo / u.X, hi / u.X, u.Y / u.X}
}

func (b *rowBand) at(y float64) (lo, hi float64) { return b.lo - y*b.slope, b.hi - y*b.slope }
