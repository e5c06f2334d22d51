package analyse_test

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/testdata/demo"
)

// recognised is what of a report may not depend on the scale.
type recognised struct {
	Stops   []string
	Reasons []string
	Pieces  [][3]int
	Holes   []int
	Columns [][2]int
}

func recognisedIn(r *report.Report) (out recognised) {
	for _, s := range r.Stops {
		out.Stops, out.Reasons = append(out.Stops, s.Role), append(out.Reasons, s.Reason)
	}
	for _, p := range r.Pieces {
		out.Pieces = append(out.Pieces, [3]int{p.PlacementStop, p.TackDownStop, p.CoverStop})
		out.Holes = append(out.Holes, p.Holes)
	}
	for _, c := range r.SatinColumns {
		out.Columns = append(out.Columns, [2]int{c.First, c.Last})
	}
	return out
}

// allDesigns calls f for the demo designs and, where they are at hand, for real
// ones.
func allDesigns(t *testing.T, f func(name string, d *stitchfile.Design)) {
	t.Helper()
	entries, err := demo.Files.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		f(e.Name(), demoBlock(e.Name()))
	}
	paths, err := filepath.Glob(filepath.Join("..", "..", "shared", "designs", "*", "*"))
	if err != nil {
		t.Fatal(err)
	}
	if len(paths) == 0 {
		t.Log("no real designs at hand: only the demo was looked at")
	}
	for _, path := range paths {
		file, err := os.Open(path)
		if err != nil {
			t.Fatal(err)
		}
		d, _ := (&stitchfile.Decoder{Name: path}).Decode(file)
		file.Close()
		if d != nil {
			f(path, d)
		}
	}
}

// A design at any scale has the same pieces, roles, columns and kinds of stitches,
// and its lengths go with the scale.
func TestRecognitionKnowsNoScale(t *testing.T) {
	wholeOnly(t)
	ctx := context.Background()
	allDesigns(t, func(name string, d *stitchfile.Design) {
		rec, err := analyse.Recognise(ctx, d, analyse.Options{})
		if err != nil {
			t.Fatal(err)
		}
		base, err := analyse.Measure(ctx, rec, analyse.Options{}, 1)
		if err != nil {
			t.Fatal(err)
		}
		for _, scale := range []float64{0.5, 0.8, 1.25, 1.5, 2} {
			r, err := analyse.Measure(ctx, rec, analyse.Options{}, scale)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(recognisedIn(base), recognisedIn(r)); diff != "" {
				t.Errorf("%s at %v: %s", name, scale, diff)
			}
			if !slices.Equal(base.Kinds, r.Kinds) {
				t.Errorf("%s at %v: stitches changed their kinds", name, scale)
			}
			for i, p := range r.Pieces {
				if q := base.Pieces[i]; math.Abs(p.PerimeterMM/q.PerimeterMM/scale-1) > 1e-9 || math.Abs(p.AreaMM2/q.AreaMM2/scale/scale-1) > 1e-9 {
					t.Errorf("%s at %v: piece %d of %v mm and %v mm2 was %v and %v", name, scale, p.Number, p.PerimeterMM, p.AreaMM2, q.PerimeterMM, q.AreaMM2)
				}
			}
			for i, c := range r.SatinColumns {
				if was := base.SatinColumns[i].Width.Median; math.Abs(c.Width.Median/scale-was) > 1e-9*(1+was) {
					t.Errorf("%s at %v: column %d is %v mm wide, was %v", name, scale, i, c.Width.Median, was)
				}
			}
		}
	})
}

// Scales that are no scales, and rules that cannot run, are errors.
func TestMeasureRefuses(t *testing.T) {
	ctx := context.Background()
	rec, err := analyse.Recognise(ctx, demoBlock("kettle-100.pes"), analyse.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, scale := range []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1)} {
		if r, err := analyse.Measure(ctx, rec, analyse.Options{}, scale); err == nil || r != nil {
			t.Errorf("scale %v: %v", scale, err)
		}
	}
}
