package analyse_test

import (
	"context"
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

const brokenRadius = 22.0 // mm, of the rings below

// brokenRing is a ring of applique whose blanket stitch leaves so many mm of edge out,
// round the point on its right, with more sewn after it.
func brokenRing(gap, pitch float64, after func(b *st.Builder)) *stitchfile.Design {
	ring := st.Circle(st.Point{}, brokenRadius)
	b := new(st.Builder).Run(ring, 2.5).TieOff().Stop().Run(ring, 2).TieOff().Stop()
	half := gap / brokenRadius / 2
	b.EStitch(st.Arc(st.Point{}, brokenRadius, half, 2*math.Pi-half), 3, pitch).TieOff()
	if after != nil {
		after(b)
	}
	return b.Design()
}

// brokenAt gives what is told of a finish that breaks off.
func brokenAt(t *testing.T, d *stitchfile.Design, scale float64) *report.Finding {
	t.Helper()
	rec, err := analyse.Recognise(context.Background(), d, analyse.Options{})
	if err != nil {
		t.Fatal(err)
	}
	r, err := analyse.Measure(context.Background(), rec, analyse.Options{}, scale)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Pieces) == 0 || !r.Pieces[0].Finish.Loose() {
		t.Fatalf("the ring is not read as a piece with a loose finish: %+v", r.Pieces)
	}
	for i := range r.Findings {
		if f := &r.Findings[i]; f.Rule == "cover-missing" {
			return f
		}
	}
	return nil
}

// A blanket stitch that leaves out more of the edge than lies between two of its stitches
// is told of, where it does; what hides that edge in another way is no flaw.
func TestBrokenFinish(t *testing.T) {
	// A short line beside the gap, so many mm outside it.
	beside := func(out float64) func(b *st.Builder) {
		return func(b *st.Builder) {
			b.Stop().Run(st.Arc(st.Point{}, brokenRadius+out, -0.2, 0.2), 1).TieOff()
		}
	}
	for _, c := range []struct {
		name  string
		d     *stitchfile.Design
		scale float64
		told  bool
	}{
		{"whole", brokenRing(0, 2.5, nil), 1, false},
		{"whole, stitches 6 mm apart", brokenRing(0, 6, nil), 1, false},
		{"the same, twice as large", brokenRing(0, 6, nil), 2, false},
		{"stitches 10 mm apart", brokenRing(0, 10, nil), 1, false},
		{"stitches 10 mm apart and 18 mm left out", brokenRing(18, 10, nil), 1, false},
		{"stitches 10 mm apart and 22 mm left out", brokenRing(22, 10, nil), 1, true},
		{"7 mm left out", brokenRing(7, 2.5, nil), 1, false},
		{"9 mm left out", brokenRing(9, 2.5, nil), 1, true},
		{"the same, half as large", brokenRing(9, 2.5, nil), 0.5, true},
		{"20 mm left out", brokenRing(20, 2.5, nil), 1, true},
		{"a line 3.5 mm from what is left out", brokenRing(9, 2.5, beside(3.5)), 1, false},
		{"a line 4.5 mm from what is left out", brokenRing(9, 2.5, beside(4.5)), 1, true},
	} {
		f := brokenAt(t, c.d, c.scale)
		if (f != nil) != c.told {
			t.Errorf("%s: told %v, want %v", c.name, f, c.told)
			continue
		}
		if f == nil {
			continue
		}
		if f.Unit != "mm" || f.Measured < f.Limit || math.Abs(f.Limit-8*c.scale) > 1e-9 {
			t.Errorf("%s: %v %s of %v", c.name, f.Measured, f.Unit, f.Limit)
		}
		if f.Severity != report.Caution || f.Stop != 3 || f.Piece != 1 {
			t.Errorf("%s: %s of stop %d, piece %d", c.name, f.Severity, f.Stop, f.Piece)
		}
		// A line outside the ring moves the middle of the design by 2.25 mm.
		if at := f.AtMM; math.Hypot(at[0]-brokenRadius*c.scale, at[1]) > 3 {
			t.Errorf("%s: told at %v", c.name, *at)
		}
	}
}

// An edge that lies under the cloth of another piece needs no finish there.
func TestBrokenFinishUnderAnotherPiece(t *testing.T) {
	over := func(at float64) *stitchfile.Design {
		ring, patch := st.Circle(st.Point{}, brokenRadius), st.Rect(st.Point{X: at}, 20, 24)
		b := new(st.Builder).Run(ring, 2.5).TieOff().Stop().Run(ring, 2).TieOff().Stop()
		b.EStitch(st.Arc(st.Point{}, brokenRadius, 0.4, 2*math.Pi-0.4), 3, 2.5).TieOff().Stop()
		b.Run(patch, 2.5).TieOff().Stop().Run(patch, 2).TieOff().Stop()
		return b.EStitch(patch, 3, 2.5).TieOff().Design()
	}
	if f := brokenAt(t, over(brokenRadius), 1); f != nil {
		t.Errorf("what lies under another piece is told: %s", f.Message)
	}
	if f := brokenAt(t, over(70), 1); f == nil || f.Stop != 3 {
		t.Errorf("what lies bare beside another piece is not told: %+v", f)
	}
}

// A bean line that finishes a raw edge, on the tack-down or inside it, is told of where it
// breaks off, and the cloth is laid all the same.
func TestBrokenBeanLine(t *testing.T) {
	ring := func(gap, in float64) *stitchfile.Design {
		const r = 40.0
		half := gap / r / 2
		b := new(st.Builder)
		for k := range 2 {
			at := st.Point{X: 100 * float64(k)}
			b.Run(st.Circle(at, r), 2.5).TieOff().Stop().Run(st.Circle(at, r-in), 2).TieOff().Stop()
			b.Bean(st.Arc(at, r-2*in, half, 2*math.Pi-half), 2.5, 3).TieOff()
			if half = 0; k == 0 {
				b.Stop()
			}
		}
		return b.Design()
	}
	for _, c := range []struct {
		gap, in float64
		told    bool
	}{{0, 0, false}, {7, 0, false}, {9, 0, true}, {30, 0, true}, {0, 1, false}, {7, 1, false}, {10, 1, true}, {30, 1, true}} {
		r := mustRun(ring(c.gap, c.in), report.DefaultSettings())
		var told *report.Finding
		for i := range r.Findings {
			if r.Findings[i].Rule == "cover-missing" {
				told = &r.Findings[i]
			}
		}
		if (told != nil) != c.told || told != nil && (told.Stop != 3 || told.Piece != 1 || told.Severity != report.Caution) {
			t.Errorf("%v mm left out of a bean line %v mm inside: %+v", c.gap, c.in, told)
		}
		if len(r.Pieces) != 2 || !hasStep(r.Stops[1].BeforeSteps, report.StepLay) {
			t.Errorf("%v mm left out of a bean line %v mm inside: %d pieces, laid %v", c.gap, c.in, len(r.Pieces), r.Stops[1].BeforeSteps)
		}
	}
}
