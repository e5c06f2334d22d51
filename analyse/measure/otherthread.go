package measure

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
)

// otherThread finds the thread that lies over a place, apart from some stitches, of thread
// that is laid out at the scale at which it is looked at.
type otherThread struct {
	*Thread
	first, last int32 // those, in stitch; last excluded
	lately      int32 // of those, the one that was met last
}

// nextTo are the stitches that are looked at first, as they follow the one that was met
// last: mostly one of them lies over the next place.
var nextTo = [...]int32{0, 1, -1, 2, -2}

// besides makes it the thread apart from the stitches that end at the points from from to
// to, to excluded.
func (x *otherThread) besides(from, to int) {
	x.first, x.last = x.among(from, to)
	x.lately = x.first
}

// among gives the stitches that end at the points from from to to, to excluded, as they
// stand in stitch; last excluded.
func (x *Thread) among(from, to int) (first, last int32) {
	i, _ := slices.BinarySearch(x.stitch, int32(from))
	j, _ := slices.BinarySearch(x.stitch, int32(to))
	return int32(i), int32(j)
}

// alone reports whether other thread lies over q, but none of those stitches.
func (x *otherThread) alone(q geom.Point) bool {
	cell, ok := x.cells.Of(q) // boxes of threads are laid out as wide as they lie
	if !ok {
		return false
	}
	// Lists are in order: what comes before those stitches, they, what comes after. Mostly
	// those lie over q, and they are looked at first, unless there is no other.
	items, half := x.cells.At(cell), x.half
	if n := len(items); n == 0 || items[0] >= x.first && items[n-1] < x.last {
		return false
	}
	for _, by := range nextTo {
		if i := x.lately + by; i >= x.first && i < x.last && x.passes(i, q, half*half) {
			x.lately = i
			return false
		}
	}
	for _, i := range items {
		if (i < x.first || i >= x.last) && x.passes(i, q, half*half) {
			return !x.own(items, q, half)
		}
	}
	return false
}

// own reports whether any of those stitches lies over q, out of a list.
func (x *otherThread) own(items []int32, q geom.Point, half float64) bool {
	for _, i := range items {
		if i >= x.last {
			break
		}
		if i >= x.first && x.passes(i, q, half*half) {
			x.lately = i
			return true
		}
	}
	return false
}

// passes reports whether a stitch passes q within reach, whose square it is given.
func (x *Thread) passes(i int32, q geom.Point, reach2 float64) bool {
	k := x.stitch[i]
	a, b := x.track.Pts[k-1], x.track.Pts[k]
	v, w := b.Sub(a), q.Sub(a)
	n, t, beside := v.Dot(v), v.Dot(w), v.Cross(w)
	if beside*beside > reach2*n {
		return false
	}
	if t > 0 && t < n {
		return true
	}
	if t >= n {
		w = q.Sub(b)
	}
	return w.Dot(w) <= reach2
}
