package satin

import (
	"cmp"
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// span is a stretch of a ray, in mm from its origin.
type span struct{ Lo, Hi float64 }

const (
	rayReach = report.ReachMM
	rayGap   = 0.3 // mm of bare cloth within satin that rounding explains
)

// Along gives the stretch of the line through q in the unit direction u that
// lies under bands which use admits: the one that holds q, or else the nearest
// to it.
func (x *BandIndex) Along(q, u geom.Point, use func(band int32) bool) (span, bool) {
	if x.met == nil {
		x.met = make([]uint32, len(x.band))
	}
	x.spans = x.spans[:0]
	x.ray++
	x.follow(q, u)
	// Mostly q lies under satin, and what lies past its ends and a gap is not asked for.
	from, _ := slices.BinarySearchFunc(x.cells, 0.0, func(c rayCell, t float64) int { return cmp.Compare(c.to, t) })
	to, seen := from, 0
	about := span{}
	for {
		switch {
		case to < len(x.cells) && x.cells[to].from <= about.Hi+rayGap:
			x.cell(x.cells[to].cell, q, u, use)
			to++
		case from > 0 && x.cells[from-1].to >= about.Lo-rayGap:
			from--
			x.cell(x.cells[from].cell, q, u, use)
		default:
			if s, ok := x.best(); ok && s.away() == 0 {
				return s, true
			}
			for _, c := range x.cells[:from] {
				x.cell(c.cell, q, u, use)
			}
			for _, c := range x.cells[to:] {
				x.cell(c.cell, q, u, use)
			}
			return x.best()
		}
		for grown := true; grown; {
			grown = false
			for i := seen; i < len(x.spans); i++ {
				if s := x.spans[i]; s.Lo <= about.Hi+rayGap && s.Hi >= about.Lo-rayGap {
					about.Lo, about.Hi = min(about.Lo, s.Lo), max(about.Hi, s.Hi)
					x.spans[i], x.spans[seen] = x.spans[seen], s
					seen++
					grown = true
				}
			}
		}
	}
}

// away is how far from the origin of its ray a stretch lies.
func (s span) away() float64 { return max(0, s.Lo, -s.Hi) }

// best is the stretch that holds the origin of the ray, or else the nearest to it, of those
// that are left when spans which touch are joined.
func (x *BandIndex) best() (best span, found bool) {
	if len(x.spans) == 0 {
		return span{}, false
	}
	slices.SortFunc(x.spans, func(a, b span) int { return cmp.Compare(a.Lo, b.Lo) })
	now := x.spans[0]
	settle := func() {
		if !found || now.away() < best.away() || now.away() == best.away() && now.Hi-now.Lo > best.Hi-best.Lo {
			best, found = now, true
		}
	}
	for _, s := range x.spans[1:] {
		if s.Lo <= now.Hi+rayGap {
			now.Hi = max(now.Hi, s.Hi)
			continue
		}
		settle()
		now = s
	}
	settle()
	return best, true
}

// rayCell is a cell that a ray crosses, and where, in mm from its origin.
type rayCell struct {
	cell     int
	from, to float64
}

// follow lists the cells along a ray, in order.
func (x *BandIndex) follow(q, u geom.Point) {
	x.cells = x.cells[:0]
	// In cells from the corner of the grid.
	at := q.Sub(x.Lo).Times(1 / x.Size)
	v := u.Times(1 / x.Size)
	lo, hi := -rayReach, rayReach
	for _, side := range [2]struct{ at, v, n float64 }{{at.X, v.X, float64(x.Nx)}, {at.Y, v.Y, float64(x.Ny)}} {
		l, h := geom.Clip(side.v, side.at, 0, side.n)
		lo, hi = max(lo, l), min(hi, h)
	}
	if !(lo < hi) {
		return
	}
	cx, stepX, nextX, eachX := alongAxis(at.X, v.X, lo, x.Nx)
	cy, stepY, nextY, eachY := alongAxis(at.Y, v.Y, lo, x.Ny)
	for t := lo; cx >= 0 && cy >= 0 && cx < x.Nx && cy < x.Ny && t < hi; {
		next := min(nextX, nextY, hi)
		x.cells = append(x.cells, rayCell{cy*x.Nx + cx, t, next})
		t = next
		if nextX <= nextY {
			cx, nextX = cx+stepX, nextX+eachX
		} else {
			cy, nextY = cy+stepY, nextY+eachY
		}
	}
}

// alongAxis is the column or row of n in which a ray is at t, which way it goes from there,
// where it comes to the next one, and how far it is from one to the next.
func alongAxis(at, v, t float64, n int) (cell, step int, next, each float64) {
	cell = max(0, min(int(math.Floor(at+v*t)), n-1))
	switch {
	case v > 0:
		return cell, 1, (float64(cell+1) - at) / v, 1 / v
	case v < 0:
		return cell, -1, (float64(cell) - at) / v, -1 / v
	}
	return cell, 0, math.Inf(1), 0
}

// cell adds the stretches of a ray that lie in the quadrilaterals of a cell. Mostly these
// follow one another along a band, and the ray passes them by on one side: how far off tells
// how many of the next it cannot come to.
func (x *BandIndex) cell(at int, q, u geom.Point, use func(band int32) bool) {
	asked, admitted := int32(-1), false
	var b *Band
	var first int32     // quadrilateral of the band
	before := int32(-2) // the quadrilateral that left and right are the far end of
	var left, right float64
	items := x.At(at)
	for k := 0; k < len(items); k++ {
		i := items[k]
		if band := x.band[i]; band != asked {
			asked, admitted = band, use(band)
			b, first, before = &x.bands[band], x.first[band], -2
		}
		if !admitted {
			continue
		}
		// How far to the left of the ray the corners lie at either end.
		l, r, n := left, right, i-first
		if i != before+1 {
			l, r = u.Cross(b.Left[n].Sub(q)), u.Cross(b.Right[n].Sub(q))
		}
		left, right = u.Cross(b.Left[n+1].Sub(q)), u.Cross(b.Right[n+1].Sub(q))
		before = i
		var off float64
		switch {
		case l > 0 && r > 0 && left > 0 && right > 0:
			off = min(left, right)
		case l < 0 && r < 0 && left < 0 && right < 0:
			off = -max(left, right)
		default:
			if x.met[i] != x.ray {
				x.met[i] = x.ray
				if s, ok := x.cut(i, q, u); ok {
					x.spans = append(x.spans, s)
				}
			}
			continue
		}
		if beyond := min(i+int32(min(off*x.per[asked], mostAhead)), first+int32(len(b.Centre))-2); beyond > i {
			if on := k + int(beyond-i); on < len(items) && items[on] == beyond {
				k = on
			} else {
				for k+1 < len(items) && items[k+1] <= beyond {
					k++
				}
			}
		}
	}
}

// mostAhead is how many quadrilaterals are passed by at once at most.
const mostAhead = 64

// cut is where the line through q along u passes through quadrilateral i.
func (x *BandIndex) cut(i int32, q, u geom.Point) (span, bool) {
	c := x.corners(i)
	var beside [4]float64
	for k := range c {
		c[k] = c[k].Sub(q)
		beside[k] = u.Cross(c[k])
	}
	s := span{math.Inf(1), math.Inf(-1)}
	for k := range c {
		n := (k + 1) % len(c)
		if beside[k]*beside[n] > 0 || beside[k] == beside[n] {
			continue
		}
		t := geom.Lerp(c[k], c[n], beside[k]/(beside[k]-beside[n])).Dot(u)
		s.Lo, s.Hi = min(s.Lo, t), max(s.Hi, t)
	}
	return s, s.Hi > s.Lo
}
