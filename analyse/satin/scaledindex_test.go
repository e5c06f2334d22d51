package satin

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/stitches"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// An index over bands that were scaled, which goes by that over the design as it is, finds
// what one laid over them alone does.
func TestIndexOfScaledBands(t *testing.T) {
	b := new(st.Builder)
	for i := range 5 {
		y := 9 * float64(i)
		b.Satin(st.Path{{X: -20, Y: y}, {X: 5, Y: y + 6}, {X: 25, Y: y - 3}}, st.SatinAlong{Width: 4, Pitch: 0.3 + 0.1*float64(i)}).Trim()
	}
	sewn, err := stitches.Sew(t.Context(), b.Design())
	if err != nil {
		t.Fatal(err)
	}
	f, err := Find(t.Context(), sewn)
	if err != nil {
		t.Fatal(err)
	}
	laid := func() float64 { s := report.DefaultSettings(); return s.LaidWidth() }()
	none := func(int) bool { return false }
	all := func(int32) bool { return true }
	r := rand.New(rand.NewPCG(7, 8))
	for _, k := range []float64{0.5, 0.83, 1.4, 2} {
		_, bands, err := f.Measure(t.Context(), sewn.At(k), laid, none)
		if err != nil {
			t.Fatal(err)
		}
		own, shared := NewBandIndex(bands), f.IndexScaled(bands, k)
		for cell := range shared.Nx * shared.Ny {
			if items := shared.At(cell); len(items) > 0 && &items[0] != &f.toScale.At(cell)[0] {
				t.Fatalf("%g: the lists are not shared", k)
			}
		}
		hit := 0
		for range 2000 {
			q := geom.Point{X: k * (60*r.Float64() - 30), Y: k * (60*r.Float64() - 10)}
			sin, cos := math.Sincos(2 * math.Pi * r.Float64())
			u := geom.Point{X: cos, Y: sin}
			a, okA := own.Along(q, u, all)
			b, okB := shared.Along(q, u, all)
			if max(-a.Lo, a.Hi, -b.Lo, b.Hi) > rayReach {
				continue // how far satin goes on past what is looked at
			}
			if okA != okB || a != b {
				t.Fatalf("%g: along %v from %v lies satin at %v, by the index that is shared at %v", k, u, q, a, b)
			}
			if okA {
				hit++
			}
		}
		if hit < 150 {
			t.Errorf("%g: %d rays hit satin", k, hit)
		}
	}
}
