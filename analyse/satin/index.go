package satin

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// BandIndex finds the satin and zigzag near a place, as quadrilaterals between
// neighbouring stations of a band.
type BandIndex struct {
	geom.Cells
	bands []Band
	quad  []quad
	spans []span   // scratch
	ray   uint32   // how many Along has followed
	met   []uint32 // by quad: the last ray that met it
}

type quad struct {
	band, k int32
}

// NewBandIndex lays an index over bands.
func NewBandIndex(bands []Band) *BandIndex {
	x := &BandIndex{bands: bands}
	n := 0
	for i := range bands {
		n += max(0, len(bands[i].Centre)-1)
	}
	x.quad, x.met = make([]quad, 0, n), make([]uint32, n)
	for i := range bands {
		for k := 0; k+1 < len(bands[i].Centre); k++ {
			x.quad = append(x.quad, quad{int32(i), int32(k)})
		}
	}
	x.Cells = geom.NewCells(2.5, len(x.quad), func(i int) geom.Box {
		q := x.corners(int32(i))
		return geom.BoxOf(q[:])
	})
	return x
}

// corners are the corners of a quadrilateral, in order round it.
func (x *BandIndex) corners(i int32) [4]geom.Point {
	q := x.quad[i]
	b := &x.bands[q.band]
	return [4]geom.Point{b.Left[q.k], b.Right[q.k], b.Right[q.k+1], b.Left[q.k+1]}
}

// Near calls f for each band that q lies in, or no further than reach outside and no
// further than the given share of the band's half width, of those that use admits; nil
// admits all.
func (x *BandIndex) Near(q geom.Point, reach, share float64, use func(band int32) bool, f func(band int32)) {
	last := int32(-1)
	x.Each(geom.Box{Lo: q, Hi: q}.Grown(reach), func(i int32) {
		qd := x.quad[i]
		if qd.band == last || use != nil && !use(qd.band) {
			return
		}
		b := &x.bands[qd.band]
		half := geom.Distance(b.Left[qd.k], b.Right[qd.k]) / 2
		if geom.DistanceToSegment(q, b.Centre[qd.k], b.Centre[qd.k+1]) <= half+min(reach, share*half) {
			last = qd.band
			f(qd.band)
		}
	})
}

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
	x.spans = x.spans[:0]
	x.ray++
	step, last := x.Size/2, -1
	for t := -rayReach; t <= rayReach; t += step {
		c := q.Add(u.Times(t))
		cx, cy := int(math.Floor((c.X-x.Lo.X)/x.Size)), int(math.Floor((c.Y-x.Lo.Y)/x.Size))
		if cx < 0 || cy < 0 || cx >= x.Nx || cy >= x.Ny {
			continue
		}
		if cy*x.Nx+cx == last {
			continue
		}
		last = cy*x.Nx + cx
		asked, admitted := int32(-1), false
		for _, i := range x.At(last) {
			if x.met[i] == x.ray {
				continue
			}
			x.met[i] = x.ray
			if b := x.quad[i].band; b != asked {
				asked, admitted = b, use(b)
			}
			if !admitted {
				continue
			}
			if s, ok := x.cut(i, q, u); ok {
				x.spans = append(x.spans, s)
			}
		}
	}
	if len(x.spans) == 0 {
		return span{}, false
	}
	slices.SortFunc(x.spans, func(a, b span) int {
		switch {
		case a.Lo < b.Lo:
			return -1
		case a.Lo > b.Lo:
			return 1
		}
		return 0
	})
	best, found := span{}, false
	away := func(s span) float64 { return max(0, s.Lo, -s.Hi) }
	now := x.spans[0]
	settle := func() {
		if !found || away(now) < away(best) || away(now) == away(best) && now.Hi-now.Lo > best.Hi-best.Lo {
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

// cut is where the line through q along u passes through quadrilateral i.
func (x *BandIndex) cut(i int32, q, u geom.Point) (span, bool) {
	c := x.corners(i)
	var beside [4]float64
	left, right := 0, 0
	for k := range c {
		c[k] = c[k].Sub(q)
		switch beside[k] = u.Cross(c[k]); {
		case beside[k] > 0:
			left++
		case beside[k] < 0:
			right++
		}
	}
	s := span{math.Inf(1), math.Inf(-1)}
	if left == len(c) || right == len(c) {
		return s, false // it passes by
	}
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
