package satin

import (
	"math"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/stitches"
)

// isBar reports whether the rows of a fill make a bar: of one length, close
// together, and far longer together than they are wide. Borders are digitised so
// whose crossings are cut into short stitches. They hide what lies under them as
// satin does, but are no satin columns.
func isBar(parts []report.SatinColumn) bool {
	var length, across float64
	for i := range parts {
		c := &parts[i]
		length += c.LengthMM
		across += c.LengthMM * c.Width.Median
	}
	if length == 0 {
		return false
	}
	across /= length
	var even float64
	for i := range parts {
		c := &parts[i]
		if math.Abs(c.Width.Median-across) <= barUneven*across && c.Width.P95-c.Width.P5 <= 3*barUneven*across && c.Pitch.Median <= stitches.SatinAdvance {
			even += c.LengthMM
		}
	}
	return across <= barWidest && length >= barSlender*across && even >= barEven*length
}
