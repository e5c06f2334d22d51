package analyse

import (
	"math"
	"slices"
)

// bandIndex finds the satin and zigzag near a place, as quadrilaterals between
// neighbouring stations of a band.
type bandIndex struct {
	cells
	bands []Band
	quad  []quad
	spans []span // scratch
}

type quad struct {
	band, k int32
}

// newBandIndex lays an index over bands.
func newBandIndex(bands []Band) *bandIndex {
	x := &bandIndex{bands: bands}
	for i := range bands {
		for k := 0; k+1 < len(bands[i].Centre); k++ {
			x.quad = append(x.quad, quad{int32(i), int32(k)})
		}
	}
	x.cells = newCells(2.5, len(x.quad), func(i int) box {
		q := x.corners(int32(i))
		return boxOf(q[:])
	})
	return x
}

// corners are the corners of a quadrilateral, in order round it.
func (x *bandIndex) corners(i int32) [4]Point {
	q := x.quad[i]
	b := &x.bands[q.band]
	return [4]Point{b.Left[q.k], b.Right[q.k], b.Right[q.k+1], b.Left[q.k+1]}
}

// near calls f for each band that q lies in, or no further than reach outside
// and no further than the given share of the band's half width, with the
// direction of the band there.
func (x *bandIndex) near(q Point, reach, share float64, f func(band int32, dir Point)) {
	last := int32(-1)
	x.each(box{q, q}.grown(reach), func(i int32) {
		qd := x.quad[i]
		if qd.band == last {
			return
		}
		b := &x.bands[qd.band]
		half := distance(b.Left[qd.k], b.Right[qd.k]) / 2
		if distanceToSegment(q, b.Centre[qd.k], b.Centre[qd.k+1]) <= half+min(reach, share*half) {
			last = qd.band
			f(qd.band, b.Centre[qd.k+1].sub(b.Centre[qd.k]))
		}
	})
}

// span is a stretch of a ray, in mm from its origin.
type span struct{ lo, hi float64 }

// CoverReachMM is how far from an edge in mm satin is looked for; a cover of no
// more than minus this is none at all.
const CoverReachMM = 8.0

const (
	rayReach = CoverReachMM
	rayGap   = 0.3 // mm of bare cloth within satin that rounding explains
)

// along gives the stretch of the line through q in the unit direction u that
// lies under bands which use admits: the one that holds q, or else the nearest
// to it.
func (x *bandIndex) along(q, u Point, use func(band int32) bool) (span, bool) {
	x.spans = x.spans[:0]
	step := x.size / 2
	for t := -rayReach; t <= rayReach; t += step {
		c := q.add(u.times(t))
		cx, cy := int(math.Floor((c.X-x.lo.X)/x.size)), int(math.Floor((c.Y-x.lo.Y)/x.size))
		if cx < 0 || cy < 0 || cx >= x.nx || cy >= x.ny {
			continue
		}
		for _, i := range x.at(cy*x.nx + cx) {
			if s, ok := x.cut(i, q, u); ok && use(x.quad[i].band) {
				x.spans = append(x.spans, s)
			}
		}
	}
	if len(x.spans) == 0 {
		return span{}, false
	}
	slices.SortFunc(x.spans, func(a, b span) int {
		switch {
		case a.lo < b.lo:
			return -1
		case a.lo > b.lo:
			return 1
		}
		return 0
	})
	best, found := span{}, false
	away := func(s span) float64 { return max(0, s.lo, -s.hi) }
	now := x.spans[0]
	settle := func() {
		if !found || away(now) < away(best) || away(now) == away(best) && now.hi-now.lo > best.hi-best.lo {
			best, found = now, true
		}
	}
	for _, s := range x.spans[1:] {
		if s.lo <= now.hi+rayGap {
			now.hi = max(now.hi, s.hi)
			continue
		}
		settle()
		now = s
	}
	settle()
	return best, true
}

// cut is where the line through q along u passes through quadrilateral i.
func (x *bandIndex) cut(i int32, q, u Point) (span, bool) {
	c := x.corners(i)
	s := span{math.Inf(1), math.Inf(-1)}
	for k := range c {
		a, b := c[k].sub(q), c[(k+1)%4].sub(q)
		sa, sb := u.cross(a), u.cross(b)
		if sa*sb > 0 || sa == sb {
			continue
		}
		t := lerp(a, b, sa/(sa-sb)).dot(u)
		s.lo, s.hi = min(s.lo, t), max(s.hi, t)
	}
	return s, s.hi > s.lo
}
