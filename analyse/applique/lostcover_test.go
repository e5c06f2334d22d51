package applique

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
)

// ovalTrace is a closed line about a place.
func ovalTrace(x, wide, tall float64, change func(turn float64, q geom.Point) geom.Point) *Trace {
	var line []geom.Point
	for k := range 201 {
		turn := float64(k) / 200 * 2 * math.Pi
		sin, cos := math.Sincos(turn)
		q := geom.Point{X: x + wide/2*cos, Y: tall / 2 * sin}
		if change != nil {
			q = change(turn, q)
		}
		line = append(line, q)
	}
	return &Trace{Line: line, Closed: true, Box: geom.BoxOf(line), Length: geom.PathLength(line)}
}

// A satin lies aside of a line where it goes as the line does, but for its corners.
func TestLostBy(t *testing.T) {
	spike := func(out float64) func(float64, geom.Point) geom.Point { // at its right
		return func(turn float64, q geom.Point) geom.Point {
			if turn < 0.1 {
				q.X += out
			}
			return q
		}
	}
	wave := func(out float64) func(float64, geom.Point) geom.Point { // to and fro along a part of it
		return func(turn float64, q geom.Point) geom.Point {
			if turn > 1 && turn < 1+0.3*math.Pi {
				return q.Times(1 - out/20)
			}
			return q
		}
	}
	line := ovalTrace(0, 40, 40, nil)
	for _, c := range []struct {
		name  string
		satin *Trace
		like  bool
		by    float64 // 0: none
	}{
		{"the same, 8 mm aside", ovalTrace(8, 40, 40, nil), true, 8},
		{"11.8 mm aside", ovalTrace(11.8, 40, 40, nil), true, 11.8},
		{"12.2 mm aside", ovalTrace(12.2, 40, 40, nil), true, 0},
		{"with a spike of 3.8 mm", ovalTrace(8, 40, 40, spike(3.8)), true, 8},
		{"with a spike of 4.2 mm", ovalTrace(8, 40, 40, spike(4.2)), false, 8},
		{"1.8 mm wider and as much less tall", ovalTrace(8, 41.8, 38.2, nil), true, 8},
		{"3.6 mm wider and as much less tall", ovalTrace(8, 43.6, 36.4, nil), true, 0},
		{"a seventh of it 2 mm further in", ovalTrace(0, 40, 40, wave(2)), true, 0.01},
		{"a seventh of it 3.5 mm further in", ovalTrace(0, 40, 40, wave(3.5)), true, -1},
	} {
		if got := lostLike(c.satin, line); got != c.like {
			t.Errorf("%s: about as large %v", c.name, got)
		}
		by, ok := lostBy(c.satin, line)
		switch {
		case c.by == 0.01 && !ok, c.by < 0 && ok:
			t.Errorf("%s: %.2f, %v", c.name, by, ok)
		case c.by == 0 && ok, c.by > 1 && (!ok || math.Abs(by-c.by) > 0.5):
			t.Errorf("%s: %.2f, %v, want %.1f", c.name, by, ok, c.by)
		}
	}
}
