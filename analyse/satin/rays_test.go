package satin

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
)

// A ray finds what looking at all quadrilaterals finds, whichever way it goes and however
// many bands lie beside and over one another.
func TestAlongFindsAllThatLiesThere(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	var bands []Band
	for range 12 {
		at, way := geom.Point{X: 20 * r.Float64(), Y: 20 * r.Float64()}, 2*math.Pi*r.Float64()
		width := 1 + 4*r.Float64()
		var b Band
		for range 30 {
			u := geom.Point{X: math.Cos(way), Y: math.Sin(way)}
			side := u.Left().Times(width / 2)
			b.Left, b.Centre, b.Right = append(b.Left, at.Add(side)), append(b.Centre, at), append(b.Right, at.Sub(side))
			at, way = at.Add(u.Times(0.4)), way+0.2*(r.Float64()-0.4)
		}
		bands = append(bands, b)
	}
	x := NewBandIndex(bands)
	under, beside, none := 0, 0, 0
	for i := range 4000 {
		q, way := geom.Point{X: 30*r.Float64() - 5, Y: 30*r.Float64() - 5}, 2*math.Pi*r.Float64()
		if i%4 == 0 {
			way = float64(r.IntN(4)) * math.Pi / 2
		}
		if i%5 == 0 { // on the lines between cells
			q = x.Lo.Add(geom.Point{X: x.Size * float64(r.IntN(x.Nx)), Y: x.Size * float64(r.IntN(x.Ny))})
		}
		u := geom.Point{X: math.Cos(way), Y: math.Sin(way)}
		use := func(band int32) bool { return band%3 != int32(i%3) }
		got, ok := x.Along(q, u, use)
		var all BandIndex
		for k := range x.band {
			if s, cut := x.cut(int32(k), q, u); cut && use(x.band[k]) && s.away() < rayReach-2*x.Size {
				all.spans = append(all.spans, s)
			}
		}
		want, found := all.best()
		switch {
		case !found: // what ends near the reach of a ray may be met or not
			none++
			continue
		case want.away() == 0:
			under++
		case want.away() < rayReach-2*x.Size:
			beside++
		}
		if !ok || math.Abs(got.away()-want.away()) > 1e-12 || want.away() == 0 && (got.Lo > want.Lo+1e-12 || got.Hi < want.Hi-1e-12) {
			t.Fatalf("from %v along %v: %v, %v, want %v", q, u, got, ok, want)
		}
	}
	if under < 500 || beside < 100 || none < 100 {
		t.Errorf("%d places under satin, %d beside it and %d away from all were looked at", under, beside, none)
	}
}
