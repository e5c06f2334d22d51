package satin_test

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// bars sews bars across a line, each of two stitches, joined along the edges.
func bars(width, spacing float64, n int) *stitchfile.Design {
	b := new(st.Builder).As(st.Satin)
	for i := range n {
		x, side := spacing*float64(i), 1-2*float64(i%2)
		b.StitchTo(st.Point{X: x, Y: -side * width / 2}).StitchTo(st.Point{X: x}).StitchTo(st.Point{X: x, Y: side * width / 2})
	}
	return b.Design()
}

// Bars side by side whose stitches are split in the middle are satin, and open:
// thread 0.30 mm wide every 0.4 mm hides three quarters.
func TestSplitBarsAreSatin(t *testing.T) {
	for _, width := range []float64{1.4, 2.4, 4} {
		cols := columns(bars(width, 0.4, 60))
		if len(cols) != 1 {
			t.Fatalf("%.1f mm: %d columns, want 1", width, len(cols))
		}
		c := &cols[0]
		if !c.Split || math.Abs(c.Width.Median-width) > 0.1 || math.Abs(c.Pitch.Median-0.4) > 0.02 || math.Abs(c.Coverage-0.75) > 0.03 {
			t.Errorf("%.1f mm: split %v, width %.2f, pitch %.2f, coverage %.2f", width, c.Split, c.Width.Median, c.Pitch.Median, c.Coverage)
		}
	}
}

// A line that wavers by less than a needle's thickness is no satin.
func TestWaveringLineIsNoSatin(t *testing.T) {
	b := new(st.Builder)
	for i := range 60 {
		x, y := 0.4*float64(i), 0.4*float64(i%2)
		b.StitchTo(st.Point{X: x, Y: y}).StitchTo(st.Point{X: x, Y: 0.4 - y})
	}
	if cols := columns(b.Design()); len(cols) != 0 {
		t.Errorf("%d columns, the first %.2f mm wide", len(cols), cols[0].Width.Median)
	}
}

// A zigzag that leads out and the satin that comes back over it are two, and the
// satin is measured without the zigzag.
func TestZigzagOutAndSatinBack(t *testing.T) {
	line := st.Line(st.Point{}, st.Point{X: 40})
	for _, out := range []float64{0.7, 0.9, 1.05} {
		cols := columns(new(st.Builder).Satin(line, st.SatinAlong{Width: 3, Pitch: out}).Satin(line.Reverse(), st.SatinAlong{Width: 3, Pitch: 0.4}).Design())
		found := false
		for i := range cols {
			c := &cols[i]
			if math.Abs(c.Pitch.Median-0.4) < 0.03 {
				found = true
				if math.Abs(c.LengthMM-40) > 0.5 || math.Abs(c.Width.Median-3) > 0.1 || math.Abs(c.Coverage-0.94) > 0.02 || c.Pitch.Max > 0.5 {
					t.Errorf("out at %.2f: the satin is %.1f mm long, %.2f wide, pitch to %.2f, coverage %.3f", out, c.LengthMM, c.Width.Median, c.Pitch.Max, c.Coverage)
				}
			}
		}
		if !found || len(cols) != 2 {
			t.Errorf("out at %.2f: %d columns, the satin among them: %v", out, len(cols), found)
		}
	}
}
