package stitches

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// A flat zigzag that hardly turns for a while is one zigzag; a line that leads from one
// to the next, or that wavers to one side only, is none.
func TestFlatZigzagGoesOn(t *testing.T) {
	// flat gives a zigzag whose holes turn by 80 degrees, n stitches that turn by others
	// the middle one so many times as long, and the zigzag again, or nothing.
	flat := func(n int, turn, times float64, sameSide, again bool) (pts []geom.Point, middle int) {
		at, side := mm(0, 0), 1.0
		pts = append(pts, at)
		step := func(half, length float64) {
			at = at.Add(turned(side * half).Times(length))
			pts = append(pts, at)
			side = -side
		}
		for range 20 {
			step(40, 2)
		}
		angle := 0.0
		for i := range n {
			if sameSide {
				angle += turn
				at = at.Add(turned(angle).Times(2))
				pts = append(pts, at)
				continue
			}
			length := 2.0
			if i == n/2 {
				length *= times
			}
			step(turn/2, length)
		}
		middle = len(pts) - n/2
		if again {
			for range 20 {
				step(40, 2)
			}
		}
		return pts, middle
	}
	for _, c := range []struct {
		name           string
		n              int
		turn, times    float64
		oneSide, again bool
		want           bool
	}{
		{"turns of 50 degrees", 10, 50, 1, false, true, true},
		{"turns of 24 degrees", 10, 24, 1, false, true, true},
		{"turns of 16 degrees", 10, 16, 1, false, true, false},
		{"14 stitches", 14, 50, 1, false, true, true},
		{"20 stitches", 20, 50, 1, false, true, false},
		{"one stitch 1.45 times as long", 10, 50, 1.45, false, true, true},
		{"one stitch 1.8 times as long", 10, 50, 1.8, false, true, false},
		{"a line", 10, 0, 1, false, true, false},
		{"a bend", 10, 30, 1, true, true, false},
		{"at its end", 10, 50, 1, false, false, true},
		{"a line that leaves it", 10, 0, 1, false, false, false},
	} {
		pts, middle := flat(c.n, c.turn, c.times, c.oneSide, c.again)
		if got := kinds(pts)[middle]; (got == report.KindOpenZigzag) != c.want {
			t.Errorf("a zigzag with %s: %v", c.name, got)
		}
	}
}
