package measure_test

import (
	"context"
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/internal/truth"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/testdata/demo"
)

// A part tells the peaks of what is past a limit further down, if it is asked to look so
// far, and else need not.
func TestPeaksOfWhatIsPastALimitFurtherDown(t *testing.T) {
	ctx := context.Background()
	peaks := func(p *measure.Pass) [2]float64 {
		if err := p.Do(measure.DensityGrid); err != nil {
			t.Fatal(err)
		}
		return [2]float64{p.Report.Density.MaxPenetrations, p.Report.Density.MaxLayers}
	}
	for _, name := range []string{demo.Shown, demo.Another} {
		rec, err := applique.Recognise(ctx, truth.Demo(t, name))
		if err != nil {
			t.Fatal(err)
		}
		s := report.DefaultSettings()
		base := pass(t)(measure.NewPass(ctx, rec, s, 1))
		const scale, down = 0.8, 0.55
		const between = 0.7 // where the limit is met, by its law
		was, here := peaks(base), peaks(pass(t)(measure.NewPass(ctx, rec, s, scale)))
		for of, power := range []float64{2, 1} {
			part := func(down float64) float64 {
				ask := &measure.Part{Down: down}
				*[]*float64{&ask.Crowding, &ask.Layers}[of] = was[of] * math.Pow((1+measure.GridGrain)/between, power)
				return peaks(pass(t)(base.PartAt(scale, ask)))[of]
			}
			if got := part(down); got != here[of] {
				t.Errorf("%s, figure %d: the peak of what may fail down to %g is %g at %g, and of all %g", name, of, down, got, scale, here[of])
			}
			if got := part(0); got >= here[of] {
				t.Errorf("%s, figure %d: %g is told at %g, where nothing may fail", name, of, got, scale)
			}
		}
	}
}
