package satin

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
)

// BandIndex finds the satin and zigzag near a place, as quadrilaterals between
// neighbouring stations of a band.
type BandIndex struct {
	*bandQuads
	spans []span    // scratch
	cells []rayCell // of the ray
	ray   uint32    // how many Along has followed
	met   []uint32  // by quad: the last ray that met it
}

// bandQuads is what of an index all who ask it may share.
type bandQuads struct {
	geom.Cells
	bands []Band
	band  []int32   // by quad
	first []int32   // by band: its first quad
	per   []float64 // by band: one over the most mm that a corner lies from the next along its rail
	inner []float64 // by band: the most mm that it does, but for the first and the last
}

// NewBandIndex lays an index over bands.
func NewBandIndex(bands []Band) *BandIndex {
	x := new(bandQuads)
	x.lay(bands, 0)
	return &BandIndex{bandQuads: x}
}

// Index is NewBandIndex of bands that Measure gave. It is laid once over those of the
// design as it is, whoever asks for it.
func (f *Satin) Index(bands []Band) *BandIndex {
	if len(bands) == 0 || len(bands) != len(f.Bands) || &bands[0] != &f.Bands[0] {
		return NewBandIndex(bands)
	}
	f.indexing.Do(func() { f.index.lay(f.Bands, 0) })
	return &BandIndex{bandQuads: &f.index}
}

// endsMove is how far in mm of the design as it is the ends of a band may lie from where
// scaling it alone puts them: they stand past its end crossings by what does not scale.
const endsMove = 0.5

// IndexScaled is NewBandIndex of bands that Measure scaled by k, none of which it measured
// anew. It goes by one index over those of the design as it is, whatever the scale.
func (f *Satin) IndexScaled(bands []Band, k float64) *BandIndex {
	for i := range bands {
		if b := &f.Bands[i]; !bands[i].endsNear(b, k) {
			return NewBandIndex(bands)
		}
	}
	f.scaling.Do(func() { f.toScale.lay(f.Bands, endsMove) })
	x := f.toScale
	x.bands, x.Cells, x.per = bands, f.toScale.Scaled(k), make([]float64, len(bands))
	for i := range bands {
		first, last := endSteps(&bands[i])
		x.per[i] = (1 - 1e-9) / max(k*x.inner[i], first, last)
	}
	return &BandIndex{bandQuads: &x}
}

// endsNear reports whether a band is as long as another that was scaled by k, and its ends
// lie near those.
func (b *Band) endsNear(from *Band, k float64) bool {
	n := len(b.Centre)
	if n != len(from.Centre) {
		return false
	}
	for _, i := range [2]int{0, n - 1} {
		if n > 0 && max(geom.Distance(b.Left[i], from.Left[i].Times(k)), geom.Distance(b.Right[i], from.Right[i].Times(k))) > endsMove*k {
			return false
		}
	}
	return true
}

// lay lays quadrilaterals of bands into cells, the first and the last of each as if they were
// larger by endsGrown mm all round.
func (x *bandQuads) lay(bands []Band, endsGrown float64) {
	x.bands, x.first, x.per, x.inner = bands, make([]int32, len(bands)), make([]float64, len(bands)), make([]float64, len(bands))
	n := 0
	for i := range bands {
		x.first[i] = int32(n)
		n += max(0, len(bands[i].Centre)-1)
		first, last := endSteps(&bands[i])
		x.inner[i] = longestStep(&bands[i])
		x.per[i] = (1 - 1e-9) / max(x.inner[i], first, last)
	}
	x.band = make([]int32, 0, n)
	for i := range bands {
		for range len(bands[i].Centre) - 1 {
			x.band = append(x.band, int32(i))
		}
	}
	// Quadrilaterals are asked for one after another, and each begins where the one before
	// ends.
	next := -1
	var end geom.Box
	x.Cells = geom.NewCells(2.5, n, func(i int) geom.Box {
		b, k := x.station(int32(i))
		if i != next || k == 0 {
			end = across(b, k)
		}
		begin := end
		end, next = across(b, k+1), i+1
		if endsGrown > 0 && (k == 0 || int(k)+2 == len(b.Centre)) {
			return begin.With(end).Grown(endsGrown)
		}
		return begin.With(end)
	})
}

// across is the box around both rails of a band at a station.
func across(b *Band, k int32) geom.Box {
	q := geom.Box{Lo: b.Left[k], Hi: b.Right[k]}
	if q.Lo.X > q.Hi.X {
		q.Lo.X, q.Hi.X = q.Hi.X, q.Lo.X
	}
	if q.Lo.Y > q.Hi.Y {
		q.Lo.Y, q.Hi.Y = q.Hi.Y, q.Lo.Y
	}
	return q
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
		if band := x.band[i]; band != last && (use == nil || use(band)) && x.reaches(i, q, reach, share) {
			last = band
			f(band)
		}
	})
}

// AnyNear reports whether Near calls f at all.
func (x *BandIndex) AnyNear(q geom.Point, reach, share float64, use func(band int32) bool) bool {
	return x.Until(geom.Box{Lo: q, Hi: q}.Grown(reach), func(i int32) bool {
		return (use == nil || use(x.band[i])) && x.reaches(i, q, reach, share)
	})
}

// reaches reports whether q lies in a quadrilateral, or as little outside as Near tells.
func (x *bandQuads) reaches(i int32, q geom.Point, reach, share float64) bool {
	b, k := x.station(i)
	half := geom.Distance(b.Left[k], b.Right[k]) / 2
	return geom.DistanceToSegment(q, b.Centre[k], b.Centre[k+1]) <= half+min(reach, share*half)
}

// longestStep is the most mm from one station of a band to the next along its rails, but for
// the first and the last.
func longestStep(b *Band) float64 {
	var most float64
	for k := 2; k+1 < len(b.Centre); k++ {
		l, r := b.Left[k].Sub(b.Left[k-1]), b.Right[k].Sub(b.Right[k-1])
		most = max(most, l.Dot(l), r.Dot(r))
	}
	return math.Sqrt(most)
}

// endSteps are the mm from the first station of a band to the next along its rails, the longer
// of both, and to the last.
func endSteps(b *Band) (first, last float64) {
	n := len(b.Centre)
	if n < 2 {
		return 0, 0
	}
	step := func(k int) float64 {
		return max(geom.Distance(b.Left[k-1], b.Left[k]), geom.Distance(b.Right[k-1], b.Right[k]))
	}
	return step(1), step(n - 1)
}
