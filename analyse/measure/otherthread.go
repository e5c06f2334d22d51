package measure

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
)

// otherThread finds the thread that lies over a place, apart from some stitches.
type otherThread struct {
	*Thread
	first, last int32 // those, in stitch; last excluded
	lately      int32 // of those, the one that was met last
}

// latelyAbout is how many stitches before and after the one that was met last are looked
// at first: mostly one of them lies over the next place.
const latelyAbout = 2

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
	q, half := q.Times(1/x.scale), x.half/x.scale
	x0, y0, x1, y1, ok := x.cells.Range(x.about(q, half))
	if !ok {
		return false
	}
	// Mostly those stitches lie there, and they are looked at first, unless there is no
	// other. Lists are in order: what comes before them, they, what comes after.
	other := false
	for y := y0; y <= y1; y++ {
		for cell := y*x.cells.Nx + x0; cell <= y*x.cells.Nx+x1; cell++ {
			items := x.cells.At(cell)
			other = other || len(items) > 0 && (items[0] < x.first || items[len(items)-1] >= x.last)
		}
	}
	if !other {
		return false
	}
	for i := max(x.first, x.lately-latelyAbout); i < min(x.last, x.lately+latelyAbout+1); i++ {
		if x.passes(i, q, half*half) {
			x.lately = i
			return false
		}
	}
	for y := y0; y <= y1; y++ {
		for cell := y*x.cells.Nx + x0; cell <= y*x.cells.Nx+x1; cell++ {
			for _, i := range x.cells.At(cell) {
				if i >= x.last {
					break
				}
				if i >= x.first && x.passes(i, q, half*half) {
					x.lately = i
					return false
				}
			}
		}
	}
	for y := y0; y <= y1; y++ {
		for cell := y*x.cells.Nx + x0; cell <= y*x.cells.Nx+x1; cell++ {
			for _, i := range x.cells.At(cell) {
				if (i < x.first || i >= x.last) && x.passes(i, q, half*half) {
					return true
				}
			}
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

// about is where the stitches lie that pass q within reach, as boxes of threads are
// laid out.
func (x *Thread) about(q geom.Point, reach float64) geom.Box {
	return geom.Box{Lo: q, Hi: q}.Grown(max(0, reach-x.half))
}
