package resize

import (
	"fmt"
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/internal/truth"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/rules"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// satinBar is a straight column with underlay apart, so that only its pitch
// decides.
func satinBar(length, width, pitch float64) *stitchfile.Design {
	return new(st.Builder).Satin(st.Line(st.Point{}, st.Point{X: length}), st.SatinAlong{Width: width, Pitch: pitch}).TieOff().Design()
}

func limitNamed(r *report.Resize, name string) *report.ResizeLimit {
	for i := range r.Limits {
		if r.Limits[i].Name == name {
			return &r.Limits[i]
		}
	}
	return nil
}

// TestThinCoverLimit holds the growth limit of plain satin against the closed
// form (design checks 8.9): s = (w/p)/(1-sqrt(1-c)), inverse to the pitch.
func TestThinCoverLimit(t *testing.T) {
	set := report.DefaultSettings()
	w := set.LaidWidth()
	for _, p := range []float64{0.30, 0.35, 0.40, 0.45} {
		l := limitNamed(mustLimit(mustRecognise(satinBar(120, 4, p)), set), "thin-cover")
		if l == nil {
			t.Fatalf("pitch %g: no limit", p)
		}
		want := w / p / (1 - math.Sqrt(1-set.Limit("thin-cover")))
		if math.Abs(l.Scale/want-1) > 0.02 || l.Direction != report.Growing || l.Rule != "thin-cover" || l.Already {
			t.Errorf("pitch %g: %+v, want scale %.3f", p, *l, want)
		}
		if p == 0.40 && (l.Scale < 1.10 || l.Scale > 1.30) {
			t.Errorf("the usual satin may grow to %.3f; the trade says 10 to 20 %%", l.Scale)
		}
		if c := 1 - math.Pow(1-w/p, 2); p > w && math.Abs(l.Now-c) > 0.02 {
			t.Errorf("pitch %g: cover now %.3f, want %.3f", p, l.Now, c)
		}
	}
}

// covered is an applique disc: placement line, tack-down, and a cover that reaches
// so far outside the tack-down.
func covered(outer float64) *stitchfile.Design {
	c := st.Circle(st.Point{}, 30)
	b := new(st.Builder).Run(c, 2.5).Stop().Run(c, 2.5).Stop()
	const inner = 2.5
	return b.Satin(c.Offset((inner-outer)/2), st.SatinAlong{Width: outer + inner, Pitch: 0.36}).TieOff().Design()
}

func TestEdgeLimit(t *testing.T) {
	set := report.DefaultSettings()
	for _, outer := range []float64{1.4, 1.6, 1.8} {
		d := covered(outer)
		got := mustRun(d, set).Pieces
		if len(got) != 1 {
			t.Fatalf("%d pieces", len(got))
		}
		l := limitNamed(mustLimit(mustRecognise(d), set), "edge-uncovered")
		if l == nil {
			t.Fatalf("outer cover %g: no limit", outer)
		}
		want := set.TrimAllowanceMM / got[0].OuterCoverMM.Median
		if math.Abs(l.Scale/want-1) > 0.03 || l.Direction != report.Shrinking || l.Rule != "edge-uncovered" || math.Abs(l.Limit-1) > 1e-9 {
			t.Errorf("outer cover %g: %+v, want scale %.3f", outer, *l, want)
		}
		if l.Measured <= l.Limit || l.Now > l.Limit {
			t.Errorf("outer cover %g: %.2f mm show now, %.2f at the limit", outer, l.Now, l.Measured)
		}
	}
}

// Where a limit follows from one figure, bisection on RunAt finds the same.
func TestLimitsAgreeWithBisection(t *testing.T) {
	hooped := report.DefaultSettings()
	hooped.HoopWidthMM, hooped.HoopHeightMM = 100, 130
	line := st.Line(st.Point{}, st.Point{X: 80})
	loose := new(st.Builder).Run(line, 2.5).JumpTo(st.Point{X: 80, Y: 5}).Run(st.Line(st.Point{X: 80, Y: 5}, st.Point{X: 20, Y: 5}), 2.5)
	for _, c := range []struct {
		name   string
		d      *stitchfile.Design
		rule   *rules.Rule
		s      report.Settings
		lo, hi float64
		want   float64
	}{
		{"wide", satinBar(60, 6, 0.3), &rules.WideSatinRule, report.DefaultSettings(), 1, 2, 9.0 / 6},
		{"narrow", satinBar(60, 1.6, 0.4), &rules.NarrowSatinRule, report.DefaultSettings(), 1, 0.5, 0.9 / 1.6},
		{"long", new(st.Builder).Run(line, 7).Design(), &rules.LongStitchRule, report.DefaultSettings(), 1, 2, 0},
		{"loose", loose.Design(), &rules.UntrimmedRule, report.DefaultSettings(), 1, 2, 0},
		{"short", new(st.Builder).Run(line, 0.8).Design(), &rules.ShortStitchRule, report.DefaultSettings(), 1, 0.5, 0},
		{"hoop", new(st.Builder).Run(line, 2.5).Design(), &rules.OutsideHoopRule, hooped, 1, 2, 130.0 / 80},
		{"layers", new(st.Builder).Fill(st.Rect(st.Point{}, 20, 20), 0.12, 3, 0).Design(), &rules.StackedRule, report.DefaultSettings(), 1, 0.5, 0},
		{"crowding", new(st.Builder).Fill(st.Rect(st.Point{}, 20, 20), 0.25, 1.6, 0).Design(), &rules.CrowdedRule, report.DefaultSettings(), 1, 0.5, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			in, out := c.lo, c.hi
			fails := func(s float64) bool { return failing(mustRunAt(c.d, c.s, s), c.rule.ID) }
			if fails(in) || !fails(out) {
				t.Fatalf("not between passing and failing: %v", mustRun(c.d, c.s).Findings)
			}
			for math.Abs(in-out) > 1e-4 {
				if m := (in + out) / 2; fails(m) {
					out = m
				} else {
					in = m
				}
			}
			for _, l := range mustLimit(mustRecognise(c.d), c.s).Limits {
				if l.Rule != c.rule.ID {
					continue
				}
				// The grid's cells fall differently at each scale.
				tol := 0.002
				if c.rule == &rules.CrowdedRule || c.rule == &rules.StackedRule {
					tol = 0.07
				}
				if math.Abs(l.Scale/in-1) > tol {
					t.Errorf("limit %.4f, bisection %.4f", l.Scale, in)
				}
				if c.want > 0 && math.Abs(l.Scale/c.want-1) > 0.02 {
					t.Errorf("limit %.4f, want %.4f", l.Scale, c.want)
				}
				return
			}
			t.Error("no limit")
		})
	}
}

func failing(r *report.Report, rule string) bool {
	for _, f := range r.Findings {
		if f.Rule == rule && f.Severity.AtLeast(report.Caution) {
			return true
		}
	}
	return false
}

func TestResizeNothing(t *testing.T) {
	if r := mustLimit(mustRecognise(&stitchfile.Design{}), report.DefaultSettings()); r != nil {
		t.Errorf("%+v", r)
	}
	one := &stitchfile.Design{Moves: []stitchfile.Move{{Kind: stitchfile.Stitch}}}
	if r := mustLimit(mustRecognise(one), report.DefaultSettings()); r != nil {
		t.Errorf("%+v", r)
	}
	// A line of usual stitches: nothing limits growing within the range.
	r := mustLimit(mustRecognise(new(st.Builder).Run(st.Line(st.Point{}, st.Point{X: 60}), 2.5).Design()), report.DefaultSettings())
	if r.Largest != report.ResizeTo || r.Smallest != report.ResizeFrom || len(r.Limits) != 0 {
		t.Errorf("%+v", r)
	}
}

func BenchmarkResizeLimits(b *testing.B) {
	for _, n := range []int{20_000, 100_000} {
		d := truth.Mixed(n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				mustLimit(mustRecognise(d), report.DefaultSettings())
			}
		})
	}
	d := truth.Demo(b, "kettle-150.dst")
	b.Run("demo", func(b *testing.B) {
		for b.Loop() {
			mustLimit(mustRecognise(d), report.DefaultSettings())
		}
	})
}

// Effects at another size, and the stitches of a design made anew for it.
func TestResized(t *testing.T) {
	set := report.DefaultSettings()
	d := satinBar(120, 4, 0.4)
	r := mustRun(d, set)
	e := atScale(mustRecognise(d), r, set, 1.4)
	if len(e.Changes) == 0 || e.Changes[0].Change != report.Appears || e.Changes[0].Rule != "thin-cover" || e.Changes[0].Before != nil {
		t.Fatalf("%+v", e.Changes)
	}
	if math.Abs(float64(e.Anew)/(1.4*float64(e.Stitches))-1) > 0.02 || math.Abs(e.WidthMM/r.WidthMM-1.4) > 1e-9 {
		t.Errorf("%+v", e)
	}
	back := atScale(mustRecognise(d), r, set, 1)
	if len(back.Changes) != 0 || back.Anew != back.Stitches {
		t.Errorf("nothing changed, yet %+v", back)
	}

	// A stretched satin is mended by shrinking it back.
	d = satinBar(120, 4, 0.56)
	e = atScale(mustRecognise(d), mustRun(d, set), set, 1/1.4)
	if len(e.Changes) == 0 || e.Changes[len(e.Changes)-1].Change != report.GoesAway {
		t.Errorf("%+v", e.Changes)
	}

	// A fill needs stitches with its area.
	d = new(st.Builder).Fill(st.Rect(st.Point{}, 40, 40), 0.4, 4, 0).Design()
	e = atScale(mustRecognise(d), mustRun(d, set), set, 1.5)
	if got := float64(e.Anew) / float64(e.Stitches); math.Abs(got-2.25) > 0.02 {
		t.Errorf("a fill at 1.5 needs %.3f times the stitches, want 2.25", got)
	}
	d = new(st.Builder).Fill(st.Rect(st.Point{}, 60, 60), 0.4, 4, 0).Design()
	if n := d.Counts().Stitches; math.Abs(float64(n)/float64(e.Anew)-1) > 0.06 {
		t.Errorf("%d stitches foretold, %d when made", e.Anew, n)
	}
}

func ExampleLimits() {
	d := new(st.Builder).Satin(st.Line(st.Point{}, st.Point{X: 100}), st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Design()
	r := mustLimit(mustRecognise(d), report.DefaultSettings())
	for _, l := range r.Limits {
		if l.Rule == "thin-cover" && l.Name == "thin-cover" {
			fmt.Printf("%s stops at %s: cover %.2f now, %.2f there\n", l.Direction, Percent(l.Scale), l.Now, l.Measured)
		}
	}
	// Output: growing stops at 122 %: cover 0.94 now, 0.85 there
}

// Limits that a person sets, sensible or not, lead to an answer.
func TestLimitsUnderAnySettings(t *testing.T) {
	designs := []*stitchfile.Design{truth.Blocks()[0].Design, truth.Demo(t, "snail-130.dst")}
	if testing.Short() {
		designs = designs[:1]
	}
	for _, d := range designs {
		rec := mustRecognise(d)
		for _, l := range report.Limits() {
			for _, v := range []float64{-1, 0, 1, 1e9} {
				s := report.DefaultSettings()
				s.Limits = map[string]float64{l.Name: v}
				z := mustLimit(rec, s)
				if !(z.Smallest >= report.ResizeFrom && z.Smallest <= 1 && z.Largest >= 1 && z.Largest <= report.ResizeTo) {
					t.Errorf("%s %g: from %g to %g", l.Name, v, z.Smallest, z.Largest)
				}
			}
		}
	}
}
