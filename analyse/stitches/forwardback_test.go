package stitches

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// Lines sewn forward and back again, further on each time, are lines as long as they get
// on well enough; the usual, forward two and back one, gets on by a quarter of its longer
// strokes. The legs are as short as the sides of small pieces, and lie on no whole tenths.
func TestForwardTwoBackOne(t *testing.T) {
	for _, c := range []struct {
		back float64 // of each stroke forward
		line bool
	}{{0.5, true}, {0.57, true}, {0.66, false}} {
		const forward = 2.57
		var pts []geom.Point
		for leg := range 4 {
			from, way := mm(3, 2), turned(31+90*float64(leg))
			for range leg {
				from = from.Add(turned(31 + 90*float64(leg-1)).Times(8.1))
			}
			for x := 0.0; x+forward < 8.1; x += forward * (1 - c.back) {
				for _, at := range []float64{x, x + forward} {
					q := from.Add(way.Times(at))
					pts = append(pts, mm(math.Round(10*q.X)/10, math.Round(10*q.Y)/10))
				}
			}
		}
		n := 0
		for _, k := range kinds(pts) {
			if k == report.KindTripleRun {
				n++
			}
		}
		if got := float64(n) > 0.9*float64(len(pts)); got != c.line {
			t.Errorf("back by %.2f of each stroke: %d of %d stitches are of a triple run", c.back, n, len(pts))
		}
	}
}
