package render

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
)

func length(loop []geom.Point) (l float64) {
	for i := 1; i < len(loop); i++ {
		l += math.Hypot(loop[i].X-loop[i-1].X, loop[i].Y-loop[i-1].Y)
	}
	return l
}

// Steiner: a convex outline of area A and perimeter P pushed out by r has area
// A + Pr + pi r^2 and perimeter P + 2 pi r. The figures are worked examples of
// that formula: a 100 mm square by 6.35 mm, a 60-80-100 triangle by 5 mm.
func TestOffset(t *testing.T) {
	pt := func(x, y float64) geom.Point { return geom.Point{X: x, Y: y} }
	for _, c := range []struct {
		name            string
		line            []geom.Point
		margin          float64
		area, perimeter float64
	}{
		{"square", []geom.Point{pt(0, 0), pt(100, 0), pt(100, 100), pt(0, 100), pt(0, 0)}, 6.35, 12666.677, 439.898},
		{"square, the other way, not closed", []geom.Point{pt(0, 100), pt(100, 100), pt(100, 0), pt(0, 0)}, 6.35, 12666.677, 439.898},
		{"triangle", []geom.Point{pt(-30, 7), pt(50, 7), pt(-30, 67)}, 5, 3678.540, 271.416},
	} {
		got := offset(c.line, c.margin)
		if len(got) != 1 {
			t.Errorf("%s: %d outlines", c.name, len(got))
			continue
		}
		if a := signedArea(got[0]); math.Abs(a-c.area) > 0.0005*c.area {
			t.Errorf("%s: area %.3f, want %.3f", c.name, a, c.area)
		}
		if p := length(got[0]); math.Abs(p-c.perimeter) > 0.001*c.perimeter {
			t.Errorf("%s: perimeter %.3f, want %.3f", c.name, p, c.perimeter)
		}
	}
}

// Circles whose corners lie on tenths of a millimetre, as stitches do, in many
// places: (R + r)^2 pi, and one outline each.
func TestOffsetOfRoundedCircles(t *testing.T) {
	for k := range 60 {
		radius := 8 + 0.37*float64(k)
		var line []geom.Point
		for i := range 90 {
			s, c := math.Sincos(float64(i) / 90 * 2 * math.Pi)
			line = append(line, geom.Point{X: math.Round(radius*c*10)/10 + 0.05*float64(k), Y: math.Round(radius*s*10) / 10})
		}
		got := offset(line, 5)
		want := math.Pi * (radius + 5) * (radius + 5)
		if len(got) != 1 || math.Abs(signedArea(got[0])-want) > 0.01*want {
			t.Errorf("radius %.2f: %d outlines", radius, len(got))
		}
	}
}

// A figure of eight crosses itself: both halves are inside, and one outline goes
// round them. A tight C closes up: the pocket it leaves is no outline.
func TestOffsetOfOddLines(t *testing.T) {
	pt := func(x, y float64) geom.Point { return geom.Point{X: x, Y: y} }
	eight := []geom.Point{pt(0, 0), pt(20, 20), pt(20, 0), pt(0, 20)}
	c := []geom.Point{pt(0, 0), pt(40, 0), pt(40, 18), pt(36, 18), pt(36, 4), pt(4, 4), pt(4, 36), pt(36, 36), pt(36, 22), pt(40, 22), pt(40, 40), pt(0, 40)}
	for name, line := range map[string][]geom.Point{"eight": eight, "c": c} {
		if got := offset(line, 3); len(got) != 1 {
			t.Errorf("%s: %d outlines", name, len(got))
		}
	}
	for _, line := range [][]geom.Point{nil, {pt(0, 0)}, {pt(0, 0), pt(1, 1)}} {
		if got := offset(line, 3); got != nil {
			t.Errorf("%v: %v", line, got)
		}
	}
	// Nothing to enclose, yet a line of cloth: a capsule, l w + pi r^2.
	same := []geom.Point{pt(0, 0), pt(10, 0), pt(0, 0)}
	if got := offset(same, 2); len(got) != 1 || math.Abs(signedArea(got[0])-(40+4*math.Pi)) > 0.1 {
		t.Errorf("a line there and back: %v", got)
	}
}

// A line of kilometres in a small place is refused, and soon.
func TestOffsetOfScribble(t *testing.T) {
	var line []geom.Point
	for i := range 8000 {
		line = append(line, geom.Point{X: float64(i%2) * 200, Y: float64(i%7) * 30})
	}
	if got := offset(line, 6); got != nil {
		t.Errorf("%d outlines", len(got))
	}
}

func BenchmarkOffset(b *testing.B) {
	var circle []geom.Point
	for i := range 300 {
		s, c := math.Sincos(float64(i) / 300 * 2 * math.Pi)
		circle = append(circle, geom.Point{X: 50 * c, Y: 50 * s})
	}
	for b.Loop() {
		offset(circle, CutMargin)
	}
}
