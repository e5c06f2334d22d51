package analyse

import (
	"math"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// Wide satin beside itself: layers of thread are 2w/p, penetrations 2/(pW) to the
// mm2 where columns lie edge to edge. W 3, p 0.4 at a laid width of 0.3 give 1.5
// layers and 1.667; a fill of rows s apart with stitches of length l has w/s and
// 1/(sl).
func TestDensityOfKnownGround(t *testing.T) {
	satin := new(st.Builder)
	for i := range 7 {
		y := float64(i) * 3
		satin.Satin(st.Line(st.Point{Y: y}, st.Point{X: 30, Y: y}), st.SatinAlong{Width: 3, Pitch: 0.4}).Trim()
	}
	fill := new(st.Builder).Fill(st.Rect(st.Point{}, 40, 30), 0.5, 4, 0)
	s := report.DefaultSettings()
	s.Flattening = 0.3 / report.Diameter(s.ThreadWeight)
	for _, c := range []struct {
		name            string
		b               *st.Builder
		layers, needles float64
	}{
		{"satin", satin, 1.5, 2 / (0.4 * 3)},
		{"fill", fill, 0.3 / 0.5, 1 / (0.5 * 4)},
	} {
		p := mustPass(mustRecognise(c.b.Design()), s, 1)
		p.Do(measure.DensityGrid)
		g := p.Report.Density.Grid
		// The mean away from all borders, over whole columns of 3 mm.
		var layers, needles, n float64
		for y := 4; y < 16; y++ {
			for x := g.NX / 3; x < 2*g.NX/3; x++ {
				layers += float64(g.Layers[y*g.NX+x])
				needles += float64(g.Crowding()[y*g.NX+x])
				n++
			}
		}
		if layers /= n; math.Abs(layers/c.layers-1) > 0.03 {
			t.Errorf("%s: %.3f layers, want %.3f", c.name, layers, c.layers)
		}
		// Each cell has the most of its quarters, a little more than their mean.
		if needles /= n; needles < c.needles || needles > 1.15*c.needles {
			t.Errorf("%s: %.3f holes to the mm2, want %.3f", c.name, needles, c.needles)
		}
	}
}

// All thread lies in some cell, however lines run across the grid.
func TestGridLosesNoThread(t *testing.T) {
	b := new(st.Builder).Run(st.Path{{X: 0, Y: 0}, {X: 33.3, Y: 7.1}, {X: -12.4, Y: 21.9}, {X: -12.4, Y: -8}, {X: 5, Y: -8}}, 9)
	p := mustPass(mustRecognise(b.Design()), report.DefaultSettings(), 1)
	p.Do(measure.Cost)
	p.Do(measure.DensityGrid)
	var area float64
	for _, v := range p.Report.Density.Grid.Layers {
		area += float64(v)
	}
	if want := p.Report.Stops[0].SewnMM * p.Settings.LaidWidth(); math.Abs(area/want-1) > 1e-4 {
		t.Errorf("%.4f mm2 of thread in the grid, want %.4f", area, want)
	}
}

// The peak names the stops that make it.
func TestDensityPeakNamesStops(t *testing.T) {
	c := st.Circle(st.Point{}, 6)
	b := new(st.Builder).Run(st.Rect(st.Point{X: 40}, 10, 10), 2.5).Stop()
	b.Fill(c, 0.4, 2, 0).Stop().Fill(c, 0.3, 2, 1)
	d := mustRun(b.Design(), report.DefaultSettings()).Density
	if !slices.Equal(d.MaxPenetStops, []int{2, 3}) || !slices.Equal(d.MaxLayersStops, []int{2, 3}) {
		t.Errorf("stops %v and %v, want 2 and 3", d.MaxPenetStops, d.MaxLayersStops)
	}
}
