package render

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse"
)

// What is drawn is what the report says: its peak is the highest mean drawn, and
// it lies in the middle of that square.
func TestDensityDrawsTheReport(t *testing.T) {
	d := sampler(samplerColours...)
	r := analyse.Run(d, analyse.DefaultSettings())
	g := r.Density.Grid
	for name, c := range map[string]struct {
		cells []float32
		most  float64
		at    analyse.Place
	}{"layers": {g.Layers, r.Density.MaxLayers, r.Density.MaxLayersAt}, "needles": {g.Needles, r.Density.MaxPenetrations, r.Density.MaxPenetAt}} {
		i, j := int((c.at[0]-g.X)/g.CellMM), int((c.at[1]-g.Y)/g.CellMM)
		if got := meanAround(c.cells, g.NX, g.NY, i, j); math.Abs(got-c.most) > 1e-4 || !(got > 0) {
			t.Errorf("%s: %.4f is drawn at the peak of %.4f", name, got, c.most)
		}
	}
}
