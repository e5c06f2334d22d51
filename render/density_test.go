package render

import (
	"math"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
)

// What is drawn is what the report says: its peak of layers is the highest mean
// drawn, and it lies in the middle of that square.
func TestDensityDrawsTheReport(t *testing.T) {
	r := mustRun(sampler(samplerColours...), report.DefaultSettings())
	g, d := r.Density.Grid, r.Density
	i, j := int((d.MaxLayersAt[0]-g.X)/g.CellMM), int((d.MaxLayersAt[1]-g.Y)/g.CellMM)
	if got := meanAround(g.Layers, g.NX, g.NY, i, j); math.Abs(got-d.MaxLayers) > 1e-4 || !(got > 0) {
		t.Errorf("%.4f layers are drawn at the peak of %.4f", got, d.MaxLayers)
	}
}

// What is drawn of needle holes is what the report says: the peak is the most that is
// drawn, at its place.
func TestMostCrowdedSquare(t *testing.T) {
	r := mustRun(sampler(samplerColours...), report.DefaultSettings())
	g, d := r.Density.Grid, r.Density
	i, j := int((d.MaxPenetAt[0]-g.X)/g.CellMM), int((d.MaxPenetAt[1]-g.Y)/g.CellMM)
	if got := float64(g.Crowding()[j*g.NX+i]); math.Abs(got-d.MaxPenetrations) > 1e-4 || !(got > 0) {
		t.Errorf("%.4f holes to the mm2 are drawn at the peak of %.4f", got, d.MaxPenetrations)
	}
	if got := float64(slices.Max(g.Crowding())); math.Abs(got-d.MaxPenetrations) > 1e-4 {
		t.Errorf("%.4f holes to the mm2 are drawn, more than the peak of %.4f", got, d.MaxPenetrations)
	}
}
