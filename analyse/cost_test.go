package analyse

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// Type 301, C = 2 + 2TS: T 0.01 in at 10 stitches to the inch takes 2.2 in of
// thread an inch (A. K. Das, "How to calculate the amount of sewing thread", 2015,
// textilecalculation.blogspot.com, problem 2).
func TestLockstitchThreadWorkedExample(t *testing.T) {
	needle, bobbin := measure.LockstitchThread(25.4, 10, 0.01*25.4, 0.5)
	if got := (needle + bobbin) / 25.4; math.Abs(got-2.2) > 1e-9 {
		t.Errorf("%.4f in an inch, want 2.2", got)
	}
	if needle != bobbin {
		t.Errorf("needle %v, bobbin %v: balanced threads are equal", needle, bobbin)
	}
}

// The published ratio of thread to seam for type 301 is 2.5 : 1 (Coats, "Standard
// Stitch Type Classification"), which geometry gives at 4 stitches to the cm and a
// stack of 0.625 mm. For zigzag, type 304, it is 5.5 : 1, within a quarter.
func TestThreadRatios(t *testing.T) {
	s := report.DefaultSettings()
	s.TailMM = 0
	ratio := func(b *st.Builder, seam, stack float64) float64 {
		s.StackMM = stack
		r := mustRun(b.Design(), s)
		return (r.NeedleThreadM + r.BobbinThreadM) * 1000 / seam
	}
	line := st.Line(st.Point{}, st.Point{X: 500})
	if got := ratio(new(st.Builder).Run(line, 2.5), 500, 0.625); math.Abs(got-2.5) > 0.01 {
		t.Errorf("type 301: %.3f, want 2.5", got)
	}
	// By geometry each of the two threads takes sqrt(W*W + a*a) + T a stitch, a the
	// advance of one stitch: the three cases bracket the published 5.5.
	for _, c := range []struct{ width, perCM, want float64 }{{5, 4, 4.95}, {5, 5, 5.99}, {4, 6, 5.92}} {
		advance := 10 / c.perCM
		b := new(st.Builder).OpenZigzag(line, c.width, 2*advance)
		got := ratio(b, 500, 0.6)
		if math.Abs(got-c.want) > 0.06 {
			t.Errorf("zigzag %v mm, %v to the cm: %.2f, want %.2f", c.width, c.perCM, got, c.want)
		}
		if got < 5.5*0.75 || got > 5.5*1.25 {
			t.Errorf("zigzag %v mm, %v to the cm: %.2f, outside a quarter of 5.5", c.width, c.perCM, got)
		}
	}
}

// Thread on top of satin is (2/p) sqrt(W*W + (p/2)^2) a mm of column: W 4, p 0.4
// gives 20.025; W 3.5 gives 17.529; W 3 at 0.5 gives 12.042.
func TestThreadOfSatin(t *testing.T) {
	for _, c := range []struct{ width, pitch, want float64 }{{4, 0.4, 20.025}, {3.5, 0.4, 17.529}, {3, 0.5, 12.042}} {
		off := math.Mod(c.width, 0.2) / 2 // so that both rails fall on tenths of a millimetre
		r := mustRun(new(st.Builder).Satin(st.Line(st.Point{Y: off}, st.Point{X: 100, Y: off}), st.SatinAlong{Width: c.width, Pitch: c.pitch}).Design(), report.DefaultSettings())
		if got := r.Stops[0].SewnMM / 100; math.Abs(got/c.want-1) > 0.003 {
			t.Errorf("width %v, pitch %v: %.3f mm a mm, want %.3f", c.width, c.pitch, got, c.want)
		}
	}
}

// A ring of centre radius 20, width 4 and pitch 0.4 mm has 628 penetrations, and
// 3.457 m of needle thread when balanced, through 1.5 mm.
func TestThreadOfARing(t *testing.T) {
	s := report.DefaultSettings()
	s.StackMM, s.NeedleShare, s.TailMM = 1.5, 0.5, 0
	r := mustRun(new(st.Builder).Satin(st.Circle(st.Point{}, 20), st.SatinAlong{Width: 4, Pitch: 0.4}).Design(), s)
	if math.Abs(r.NeedleThreadM/3.457-1) > 0.005 {
		t.Errorf("needle thread %.3f m, want 3.457", r.NeedleThreadM)
	}
	if r.Stitches < 628 || r.Stitches > 630 {
		t.Errorf("%d penetrations, want 628 and the closing ones", r.Stitches)
	}
}
