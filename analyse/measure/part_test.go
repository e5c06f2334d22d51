package measure_test

import (
	"context"
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/internal/truth"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
	"github.com/stopcard/stopcard/testdata/demo"
)

// What a part measures is what the whole has there, and what it leaves out has the
// rails and the widths of the whole.
func TestPartAgreesWithTheWhole(t *testing.T) {
	ctx := context.Background()
	for _, name := range []string{demo.Shown, demo.Another} {
		rec, err := applique.Recognise(ctx, truth.Demo(t, name))
		if err != nil {
			t.Fatal(err)
		}
		for _, weight := range []float64{40, 30} {
			s := report.DefaultSettings()
			s.ThreadWeight = weight
			base := pass(t)(measure.NewPass(ctx, rec, s, 1))
			for _, scale := range []float64{0.6, 1.3, 1.9} {
				whole := pass(t)(measure.NewPass(ctx, rec, s, scale))
				part := pass(t)(base.PartAt(scale, &measure.Part{
					Columns: func(i int) bool { return i%3 == 0 },
					Pieces:  func(number int) bool { return number%2 == 1 },
				}))
				for _, p := range []*measure.Pass{whole, part} {
					if err := p.Do(measure.Roles); err != nil {
						t.Fatal(err)
					}
				}
				compareParts(t, whole.Report, part.Report)
			}
		}
	}
}

// What is told of other thread over a column at a larger scale, out of one look at the
// design as it is, is what a look at that scale finds.
func TestOtherThreadOverAColumnAtLargerScales(t *testing.T) {
	ctx := context.Background()
	b := new(st.Builder).Fill(st.Rect(st.Point{}, 60, 14), 0.45, 4, 0.4).TieOff().Stop()
	for _, y := range []float64{-4, 4, 12} { // two on the fill, one beside it
		b.Satin(st.Line(st.Point{X: -25, Y: y}, st.Point{X: 25, Y: y}), st.SatinAlong{Width: 4, Pitch: 0.5}).TieOff()
	}
	rec, err := applique.Recognise(ctx, b.Design())
	if err != nil {
		t.Fatal(err)
	}
	s := report.DefaultSettings()
	base := pass(t)(measure.NewPass(ctx, rec, s, 1))
	if err := base.Do(measure.Columns); err != nil {
		t.Fatal(err)
	}
	helped := 0
	for _, scale := range []float64{1, 1.1, 1.37, 1.8, 2} {
		whole := pass(t)(measure.NewPass(ctx, rec, s, scale))
		part := pass(t)(base.PartAt(scale, &measure.Part{Columns: func(int) bool { return true }, Others: true}))
		for _, p := range []*measure.Pass{whole, part} {
			if err := p.Do(measure.Columns); err != nil {
				t.Fatal(err)
			}
		}
		for i := range whole.Report.SatinColumns {
			a, b := &part.Report.SatinColumns[i], &whole.Report.SatinColumns[i]
			if !whole.LookedAtOthers(i) {
				continue
			}
			if math.Abs(a.UnderThread-b.UnderThread) > 1e-9 || math.Abs(a.ThinUnderThread-b.ThinUnderThread) > 1e-9 {
				t.Errorf("%g, column %d: %.6f and %.6f under thread, of the whole %.6f and %.6f", scale, i, a.UnderThread, a.ThinUnderThread, b.UnderThread, b.ThinUnderThread)
			}
			if b.UnderThread > b.Coverage+0.1 {
				helped++
			}
		}
		part.Done()
	}
	if helped < 4 {
		t.Errorf("other thread helps %d times", helped)
	}
}

func pass(t *testing.T) func(*measure.Pass, error) *measure.Pass {
	return func(p *measure.Pass, err error) *measure.Pass {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
}

func compareParts(t *testing.T, whole, part *report.Report) {
	t.Helper()
	near := func(what string, got, want float64) {
		t.Helper()
		if !(math.Abs(got-want) <= 1e-9*max(1, math.Abs(want))) {
			t.Errorf("%s: %v, of the whole %v", what, got, want)
		}
	}
	if len(part.SatinColumns) != len(whole.SatinColumns) || len(whole.SatinColumns) < 10 {
		t.Fatalf("%d columns, of the whole %d", len(part.SatinColumns), len(whole.SatinColumns))
	}
	for i := range whole.SatinColumns {
		a, b := &part.SatinColumns[i], &whole.SatinColumns[i]
		near("length", a.LengthMM, b.LengthMM)
		near("width", a.Width.P95, b.Width.P95)
		near("pitch", a.Pitch.Median, b.Pitch.Median)
		if a.First != b.First || a.Stop != b.Stop || a.Crossings != b.Crossings || len(a.Centre) != len(b.Centre) {
			t.Fatalf("column %d is another one", i)
		}
		for k := range b.Centre {
			near("width there", a.Widths[k], b.Widths[k])
			near("left rail", a.Left[k].X, b.Left[k].X)
			near("right rail", a.Right[k].Y, b.Right[k].Y)
		}
		if i%3 == 0 {
			near("coverage", a.Coverage, b.Coverage)
			near("thinnest", a.ThinCoverage, b.ThinCoverage)
			if a.UnderThread != a.Coverage || b.Coverage < 0.85 {
				near("under thread", a.UnderThread, b.UnderThread)
			}
		} else if a.Coverage != 1 || a.UnderThread != 1 || a.ThinUnderThread != 1 {
			t.Errorf("column %d was left out, yet covers %.3f", i, a.UnderThread)
		}
	}
	n := 0
	for i := range part.Pieces {
		a := &part.Pieces[i]
		b := whole.Piece(a.Number)
		if a.Number%2 == 0 || b == nil {
			t.Fatalf("piece %d was not asked for", a.Number)
		}
		n++
		near("outer cover", a.OuterCoverMM.Min, b.OuterCoverMM.Min)
		near("cover share", a.CoverShare.Min, b.CoverShare.Min)
		near("bare edge", a.UncoveredMM, b.UncoveredMM)
	}
	if want := (len(whole.Pieces) + 1) / 2; n != want {
		t.Errorf("%d pieces of %d, want %d", n, len(whole.Pieces), want)
	}
}
