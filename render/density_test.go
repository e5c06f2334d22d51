package render

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
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

// The square that the report calls the most crowded holds as many holes as it
// says, and no square that is drawn holds more.
func TestMostCrowdedSquare(t *testing.T) {
	design := sampler(samplerColours...)
	r := mustRun(design, report.DefaultSettings())
	g, d := r.Density.Grid, r.Density
	holes := 0
	for i, m := range design.Moves {
		x, y := (float64(m.X)-r.CentreX)/10-d.MaxPenetAt[0], (float64(m.Y)-r.CentreY)/10-d.MaxPenetAt[1]
		reach := 1.5 * g.CellMM
		if m.Kind == stitchfile.Stitch && r.Kinds[i] != report.KindTie && x >= -reach && x < reach && y >= -reach && y < reach {
			holes++
		}
	}
	if got := float64(holes) / (9 * g.CellMM * g.CellMM); math.Abs(got-d.MaxPenetrations) > 1e-9 {
		t.Errorf("%d holes, %.3f to the mm2, in the square of %.3f", holes, got, d.MaxPenetrations)
	}
	for j := range g.NY {
		for i := range g.NX {
			if v := meanAround(g.Needles, g.NX, g.NY, i, j); v > d.MaxPenetrations+1e-4 {
				t.Fatalf("%.3f holes to the mm2 are drawn, more than the peak of %.3f", v, d.MaxPenetrations)
			}
		}
	}
}
