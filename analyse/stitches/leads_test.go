package stitches

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// A line that closes a little past where it began, and goes on as a zigzag over itself from
// there, is no crossing of that.
func TestLineThatLeadsIntoAZigzag(t *testing.T) {
	for _, lead := range []float64{20, 60} {
		var pts []geom.Point
		for y := -20.0; y < 0; y += 2 {
			pts = append(pts, mm(-lead, y))
		}
		first, n := len(pts), int(math.Round(lead/2.5))
		for i := range n + 1 {
			pts = append(pts, mm(-lead+lead*float64(i)/float64(n), 0))
		}
		last := len(pts)
		pts = append(pts, mm(2, 0), mm(4, 0), mm(2, 0.3))
		for i := range 60 {
			pts = append(pts, mm(float64(i), float64(1-2*(i%2))))
		}
		kind := kinds(pts)
		for i := first; i < last; i++ {
			if kind[i] != report.KindRun {
				t.Fatalf("stitch %d of a line of %.0f mm that leads into a zigzag is %s", i-first, lead, kind[i])
			}
		}
		if kind[last+30] != report.KindOpenZigzag {
			t.Errorf("a zigzag after a line is %s", kind[last+30])
		}
	}
	for _, c := range []struct {
		stitches int32
		length   float32 // mm, beside a crossing of 4 mm
		leads    bool
	}{{3, 10.4, true}, {3, 9.6, false}, {2, 10.4, false}, {6, 30, true}} {
		k := &classifier{strokes: []stroke{{from: 0, to: c.stitches, length: c.length}, {from: c.stitches, to: c.stitches + 1, length: 4}}, main: []int32{0, 1}}
		if got := k.leads(0, 1); got != c.leads {
			t.Errorf("%d stitches of %.1f mm beside a crossing of 4 mm lead to it: %v", c.stitches, c.length, got)
		}
	}
}
