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
	*bandQuads
	spans []span   // scratch
	ray   uint32   // how many Along has followed
	met   []uint32 // by quad: the last ray that met it
}

// bandQuads is what of an index all who ask it may share.
type bandQuads struct {
	geom.Cells
	bands []Band
	band  []int32 // by quad
	first []int32 // by band: its first quad
}

// NewBandIndex lays an index over bands.
func NewBandIndex(bands []Band) *BandIndex {
	x := new(bandQuads)
	x.lay(bands)
	return &BandIndex{bandQuads: x}
}

// Index is NewBandIndex of bands that Measure gave. It is laid once over those of the
// design as it is, whoever asks for it.
func (f *Satin) Index(bands []Band) *BandIndex {
	if len(bands) == 0 || len(bands) != len(f.Bands) || &bands[0] != &f.Bands[0] {
		return NewBandIndex(bands)
	}
	f.indexing.Do(func() { f.index.lay(f.Bands) })
	return &BandIndex{bandQuads: &f.index}
}

func (x *bandQuads) lay(bands []Band) {
	x.bands, x.first = bands, make([]int32, len(bands))
	n := 0
	for i := range bands {
		x.first[i] = int32(n)
		n += max(0, len(bands[i].Centre)-1)
	}
	x.band = make([]int32, 0, n)
	for i := range bands {
		for range len(bands[i].Centre) - 1 {
			x.band = append(x.band, int32(i))
		}
	}
	x.Cells = geom.NewCells(2.5, n, func(i int) geom.Box {
		q := x.corners(int32(i))
		return geom.BoxOf(q[:])
	})
}

// station is the band of a quadrilateral and the station of it where that begins.
func (x *bandQuads) station(i int32) (b *Band, k int32) {
	band := x.band[i]
	return &x.bands[band], i - x.first[band]
}

// corners are the corners of a quadrilateral, in order round it.
func (x *bandQuads) corners(i int32) [4]geom.Point {
	b, k := x.station(i)
	return [4]geom.Point{b.Left[k], b.Right[k], b.Right[k+1], b.Left[k+1]}
}

// Near calls f for each band that q lies in, or no further than reach outside and no
// further than the given share of the band's half width, of those that use admits; nil
// admits all.
func (x *BandIndex) Near(q geom.Point, reach, share float64, use func(band int32) bool, f func(band int32)) {
	last := int32(-1)
	x.Each(geom.Box{Lo: q, Hi: q}.Grown(reach), func(i int32) {
		band := x.band[i]
		if band == last || use != nil && !use(band) {
			return
		}
		b, k := x.station(i)
		half := geom.Distance(b.Left[k], b.Right[k]) / 2
		if geom.DistanceToSegment(q, b.Centre[k], b.Centre[k+1]) <= half+min(reach, share*half) {
			last = band
			f(band)
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
	if x.met == nil {
		x.met = make([]uint32, len(x.band))
	}
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
		x.cell(last, q, u, use)
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

// cell adds the stretches of a ray that lie in the quadrilaterals of a cell. Mostly these
// follow one another along a band, and the ray passes them by on one side.
func (x *BandIndex) cell(at int, q, u geom.Point, use func(band int32) bool) {
	asked, admitted := int32(-1), false
	var b *Band
	var first int32    // quadrilateral of the band
	before := int32(0) // the quadrilateral that end is the far end of
	var end [2]float64 // how far to the left of the ray its left and its right corner lie
	for _, i := range x.At(at) {
		if band := x.band[i]; band != asked {
			asked, admitted = band, use(band)
			b, first, before = &x.bands[band], x.first[band], -2
		}
		if !admitted {
			continue
		}
		k, begin := i-first, end
		if i != before+1 {
			begin = [2]float64{u.Cross(b.Left[k].Sub(q)), u.Cross(b.Right[k].Sub(q))}
		}
		end = [2]float64{u.Cross(b.Left[k+1].Sub(q)), u.Cross(b.Right[k+1].Sub(q))}
		before = i
		if min(begin[0], begin[1], end[0], end[1]) > 0 || max(begin[0], begin[1], end[0], end[1]) < 0 || x.met[i] == x.ray {
			continue
		}
		x.met[i] = x.ray
		if s, ok := x.cut(i, q, u); ok {
			x.spans = append(x.spans, s)
		}
	}
}

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
