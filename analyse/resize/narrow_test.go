package resize

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// waist is a column 3 mm wide that is 1.2 mm wide along so many mm in its middle.
func waist(along float64) *stitchfile.Design {
	const length = 60.0
	shape := func(t float64) float64 {
		if math.Abs(t-0.5)*length < along/2 {
			return 1.2 / 3
		}
		return 1
	}
	return new(st.Builder).Satin(st.Line(st.Point{}, st.Point{X: length}), st.SatinAlong{Width: 3, Pitch: 0.4, Shape: shape}).TieOff().Design()
}

// Satin is too narrow where so many mm of the cloth bear it, as a needle and its holes are
// of one size at every scale: what is drawn narrow along less than that is not when the
// design is smaller, either.
func TestNarrowSatinIsMeasuredOnTheCloth(t *testing.T) {
	limitOf := func(d *stitchfile.Design) float64 {
		for _, l := range mustLimit(mustRecognise(d), report.DefaultSettings()).Limits {
			if l.Rule == "narrow-satin" && !l.Already {
				return l.Scale
			}
		}
		return 0
	}
	// 1.2 mm are 0.9 mm at 75 %. Widths are evened over some 0.8 mm at either end of a waist:
	// of 8 mm there are 4.8 mm left then, and of 4.6 mm 2.3 mm.
	if got := limitOf(waist(8)); math.Abs(got-0.9/1.2) > 0.02 {
		t.Errorf("a waist of 8 mm is too narrow below %g, want %.2f", got, 0.9/1.2)
	}
	if got := limitOf(waist(4.6)); got != 0 {
		t.Errorf("a waist of 4.6 mm is too narrow below %g, where it is shorter than 3 mm", got)
	}
	// At a mitred corner two tips meet. They are as blunt on a smaller design.
	triangle := st.Polygon(st.Point{X: -35, Y: -30}, st.Point{X: 35, Y: -30}, st.Point{Y: 31})
	if got := limitOf(new(st.Builder).Mitred(triangle, 4, 0.4).TieOff().Design()); got > 0.7 {
		t.Errorf("a mitred triangle is too narrow below %g", got)
	}
}
