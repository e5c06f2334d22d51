package measure

import (
	"math/rand/v2"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
)

// A box that meets a place of interest is always near one, and one that lies further from
// all of them than the cells are wide never is, wherever they lie and however large.
func TestNearbyMissesNoPlace(t *testing.T) {
	for _, extent := range []float64{30, 2000} {
		r := rand.New(rand.NewPCG(1, 2))
		box := func(most float64) geom.Box {
			q := geom.Point{X: extent * (r.Float64() - 0.5), Y: extent * (r.Float64() - 0.5)}
			return geom.BoxOf([]geom.Point{q, q.Add(geom.Point{X: most * r.Float64(), Y: most * r.Float64()})})
		}
		var places []geom.Box
		for range 12 {
			places = append(places, box(extent/20))
		}
		w := newNearby(func(place func(geom.Box)) {
			for _, b := range places {
				place(b)
			}
		})
		side := 1 / w.per
		met, missed := 0, 0
		for range 5000 {
			b := box(extent / 10)
			touches, close := false, false
			for _, q := range places {
				touches = touches || q.Meets(b)
				close = close || q.Grown(side+1e-9).Meets(b)
			}
			got := w.meets(b)
			if touches && !got || !close && got {
				t.Fatalf("%v: a box at %v, which meets a place: %v, lies near one: %v; told %v", extent, b, touches, close, got)
			}
			if got {
				met++
			} else {
				missed++
			}
		}
		if met == 0 || missed == 0 {
			t.Errorf("%v: %d boxes met and %d missed", extent, met, missed)
		}
	}
	if newNearby(func(func(geom.Box)) {}).meets(geom.Box{}) {
		t.Error("a box lies near no place at all")
	}
}
