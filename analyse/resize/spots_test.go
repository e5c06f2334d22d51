package resize

import (
	"context"
	"math"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/internal/truth"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/testdata/demo"
)

// A spot that is said to pass surely up to a scale passes at every scale before it.
func TestSpotsHoldAsFarAsIsSaid(t *testing.T) {
	wholeOnly(t)
	s := report.DefaultSettings()
	for _, name := range []string{demo.Shown, demo.Another, "kettle-100.dst", "kettle-135-stretched.dst"} {
		rec := mustRecognise(truth.Demo(t, name))
		looked, held := 0, 0
		for i := range checks {
			c := &checks[i]
			if c.outlook == nil {
				continue
			}
			z := newResizer(context.Background(), mustPass(rec, s))
			spots := z.spots(c)
			for x := 1.03; x < 1.7; x *= 1.07 {
				scale := x
				if c.way == report.Shrinking {
					scale = 1 / x
				}
				p, err := measure.NewPass(context.Background(), rec, s, scale)
				if err == nil {
					err = p.Do(measure.Roles)
				}
				if err != nil {
					t.Fatal(err)
				}
				failing := c.ask(p, false)
				for _, at := range spots {
					looked++
					if !(&search{resizer: z, c: c}).holds(at, scale) {
						continue
					}
					held++
					k := key{}
					if at.piece == 0 {
						k.stop = p.Report.SatinColumns[at.column].Stop
						z.note(p, at, coverStops(p))
						last := z.known[at][len(z.known[at])-1]
						z.known[at] = z.known[at][:1]
						if c.outlook(&s, &last).sure == 0 {
							t.Errorf("%s: column %d is said to hold at %.2f", name, at.column, scale)
						}
						continue
					}
					k = key{p.Report.Piece(at.piece).CoverStop, at.piece}
					if _, fails := failing[k]; fails {
						t.Errorf("%s, %s: piece %d is said to hold at %.2f", name, c.name(), at.piece, scale)
					}
				}
			}
		}
		if held*6 < looked {
			t.Errorf("%s: %d of %d spots are said to hold, too few to be of use", name, held, looked)
		}
	}
}

// What is foretold of cover and of edges closes in from the figures at hand.
func TestOutlooks(t *testing.T) {
	s := report.DefaultSettings()
	for _, c := range []struct {
		name           string
		outlook        func(*report.Settings, *figures) outlook
		f              figures
		sureLo, sureHi float64
		foretold       float64 // 0 for never
	}{
		{"thick cover", ofWholeColumns, figures{all: 0.95}, 1.05, 1.15, 1.267},
		{"cover at its limit", ofWholeColumns, figures{all: 0.85}, 1, 1, 1},
		{"thin cover", ofWholeColumns, figures{all: 0.8}, 0, 0, 0.902},
		{"thick stretch", ofThinnest, figures{least: 0.95}, 1.1, 1.2, 1.553},
		{"thin stretch", ofThinnest, figures{least: 0.7}, 0, 0, 0.905},
		{"no gap", ofSlots, figures{}, 4, 4.2, (knownGap + s.LaidWidth()) / s.LaidWidth()},
		{"a gap that is told of", ofSlots, figures{slots: []float64{0.8}}, 1.1, 1.14, (knownGap + s.LaidWidth()) / (0.8 + s.LaidWidth())},
		{"two gaps that nearly are", ofSlots, figures{slots: []float64{0.7, 0.7}}, 0, 0, (knownGap + s.LaidWidth()) / (0.7 + s.LaidWidth())},
		{"reach enough", ofReach, figures{allow: 1, reach: 1.6}, 0.6, 0.65, 0.6},
		{"reach to spare by little", ofReach, figures{allow: 1, reach: 0.98}, 0, 0, 0.96 / 0.98},
		{"no edge in sight", ofReach, figures{allow: 1, reach: math.Inf(1)}, math.SmallestNonzeroFloat64, math.SmallestNonzeroFloat64, 0},
		{"cut to the line", ofReach, figures{reach: 0.1}, math.SmallestNonzeroFloat64, math.SmallestNonzeroFloat64, 0},
	} {
		o := c.outlook(&s, &c.f)
		if o.sure < c.sureLo || o.sure > c.sureHi || math.Abs(o.foretold-c.foretold) > 0.002 {
			t.Errorf("%s: %+v, want %.3f to %.3f and %.3f", c.name, o, c.sureLo, c.sureHi, c.foretold)
		}
	}
}

const knownGap = 0.75 // mm: the shortest gap that is told of

// How many measurings of the whole the limits of resizing cost, beside the one that they
// go on from.
func BenchmarkLimitsInMeasurings(b *testing.B) {
	for _, name := range []string{demo.Shown, demo.Another, "kettle-150-faulty.dst"} {
		b.Run(name, func(b *testing.B) { inMeasurings(b, map[string]*stitchfile.Design{name: truth.Demo(b, name)}) })
	}
	b.Run("real files", func(b *testing.B) {
		designs := map[string]*stitchfile.Design{}
		paths, _ := filepath.Glob("../../../shared/designs/*/*.*")
		for _, path := range paths {
			if d, err := stitchfile.Open(path); err == nil {
				designs[path] = d
			}
		}
		if len(designs) == 0 {
			b.Skip("the real designs are not here; they are not part of the repository")
		}
		inMeasurings(b, designs)
	})
}

// inMeasurings reports the median over the designs, and the most.
func inMeasurings(b *testing.B, designs map[string]*stitchfile.Design) {
	limits, whole := map[string]time.Duration{}, map[string]time.Duration{}
	known := map[string]*applique.Recognised{}
	for name, d := range designs {
		known[name] = mustRecognise(d)
	}
	for b.Loop() {
		for name, rec := range known {
			start := time.Now()
			p, err := analyse.MeasurePass(context.Background(), rec, analyse.Options{}, 1)
			if err != nil {
				b.Fatal(err)
			}
			whole[name] += time.Since(start)
			start = time.Now()
			if _, err := Limits(context.Background(), p); err != nil {
				b.Fatal(err)
			}
			limits[name] += time.Since(start)
		}
	}
	var all []float64
	for name := range known {
		all = append(all, limits[name].Seconds()/whole[name].Seconds())
	}
	slices.Sort(all)
	b.ReportMetric(all[len(all)/2], "measurings")
	b.ReportMetric(all[len(all)-1], "most-measurings")
}
