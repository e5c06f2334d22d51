package geom_test

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
)

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
		got := geom.Offset([][]geom.Point{c.line}, c.margin, geom.RoundCorners)
		if len(got) != 1 {
			t.Errorf("%s: %d outlines", c.name, len(got))
			continue
		}
		if a := geom.PolygonArea(got[0]); math.Abs(a-c.area) > 0.0005*c.area {
			t.Errorf("%s: area %.3f, want %.3f", c.name, a, c.area)
		}
		if p := geom.PathLength(got[0]); math.Abs(p-c.perimeter) > 0.001*c.perimeter {
			t.Errorf("%s: perimeter %.3f, want %.3f", c.name, p, c.perimeter)
		}
	}
}

// Pushed out with sharp corners the area has r^2 times the tangents of half the
// turns more than Ar + Pr; pulled in by r a polygon round a circle of radius 2A/P
// keeps its shape. Corners of less than 60 degrees are snipped off at the offset:
// with h the height of what falls off and a the corner's angle, h^2 tan(a/2) is lost. 100 mm square by 6.35 mm: 112.7^2 and 87.3^2; the triangle of
// 60, 80 and 100 mm pulled in by 5 mm: 1350.
func TestOffsetWithSharpCorners(t *testing.T) {
	square := []geom.Point{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 100}, {X: 0, Y: 100}}
	triangle := []geom.Point{{X: -30, Y: 7}, {X: 50, Y: 7}, {X: -30, Y: 67}}
	turned := make([]geom.Point, 4)
	for i, q := range square {
		s, c := math.Sincos(0.3)
		turned[i] = geom.Point{X: c*q.X - s*q.Y, Y: s*q.X + c*q.Y}
	}
	// A notch 20 mm deep and wide in the upper side.
	notched := []geom.Point{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 100}, {X: 60, Y: 100}, {X: 60, Y: 80}, {X: 40, Y: 80}, {X: 40, Y: 100}, {X: 0, Y: 100}}
	for _, c := range []struct {
		name            string
		line            []geom.Point
		d               float64
		area, perimeter float64
	}{
		{"square", square, 6.35, 112.7 * 112.7, 4 * 112.7},
		{"square, turned", turned, 6.35, 112.7 * 112.7, 4 * 112.7},
		{"square, a millimetre", turned, 1, 102 * 102, 4 * 102},
		{"square, pulled in", square, -6.35, 7621.29, 4 * 87.3},
		{"triangle", triangle, 1, 2400*1.05*1.05 - 0.764 - 1.558, 240*1.05 - 1.528 - 3.117},
		{"60 degrees", []geom.Point{{X: 0, Y: 0}, {X: 60, Y: 0}, {X: 30, Y: 30 * math.Sqrt(3)}}, 1, math.Sqrt(3) / 4 * math.Pow(60+2*math.Sqrt(3), 2), 3 * (60 + 2*math.Sqrt(3))},
		{"triangle, pulled in", triangle, -5, 1350, 240 * 0.75},
		{"notch", notched, 1, 102*102 - 20*18, 4*102 + 2*20},
		{"notch, pulled in", notched, -1, 98*98 - 20*22, 4*98 + 2*20},
	} {
		got := geom.Offset([][]geom.Point{c.line}, c.d, geom.SharpCorners)
		if len(got) != 1 {
			t.Errorf("%s: %d outlines", c.name, len(got))
			continue
		}
		if a := geom.PolygonArea(got[0]); math.Abs(a-c.area) > 0.0005*c.area {
			t.Errorf("%s: area %.3f, want %.3f", c.name, a, c.area)
		}
		if p := geom.PathLength(got[0]); math.Abs(p-c.perimeter) > 0.002*c.perimeter {
			t.Errorf("%s: perimeter %.3f, want %.3f", c.name, p, c.perimeter)
		}
	}
	// A needle of a corner, 10 degrees, is snipped off.
	needle := []geom.Point{{X: 0, Y: 0}, {X: 100, Y: 100 * math.Tan(5*math.Pi/180)}, {X: 100, Y: -100 * math.Tan(5*math.Pi/180)}}
	if got := geom.Offset([][]geom.Point{needle}, 1, geom.SharpCorners); len(got) != 1 || math.Abs(geom.BoxOf(got[0]).Lo.X+1) > 0.02 {
		t.Errorf("needle: %v", got)
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
		got := geom.Offset([][]geom.Point{line}, 5, geom.RoundCorners)
		want := math.Pi * (radius + 5) * (radius + 5)
		if len(got) != 1 || math.Abs(geom.PolygonArea(got[0])-want) > 0.01*want {
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
		outer, pockets := 0, 0
		for _, ring := range geom.Offset([][]geom.Point{line}, 3, geom.RoundCorners) {
			if geom.PolygonArea(ring) > 0 {
				outer++
			} else {
				pockets++
			}
		}
		if want := map[string]int{"c": 1}[name]; outer != 1 || pockets != want {
			t.Errorf("%s: %d outlines, %d pockets", name, outer, pockets)
		}
	}
	for _, line := range [][]geom.Point{nil, {pt(0, 0)}, {pt(0, 0), pt(1, 1)}} {
		if got := geom.Offset([][]geom.Point{line}, 3, geom.RoundCorners); got != nil {
			t.Errorf("%v: %v", line, got)
		}
	}
	// Nothing to enclose, yet a line of cloth: a capsule, l w + pi r^2.
	same := []geom.Point{pt(0, 0), pt(10, 0), pt(0, 0)}
	if got := geom.Offset([][]geom.Point{same}, 2, geom.RoundCorners); len(got) != 1 || math.Abs(geom.PolygonArea(got[0])-(40+4*math.Pi)) > 0.1 {
		t.Errorf("a line there and back: %v", got)
	}
}

// A line of kilometres in a small place is refused, and soon.
func TestOffsetOfScribble(t *testing.T) {
	var line []geom.Point
	for i := range 8000 {
		line = append(line, geom.Point{X: float64(i%2) * 200, Y: float64(i%7) * 30})
	}
	if got := geom.Offset([][]geom.Point{line}, 6, geom.RoundCorners); got != nil {
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
		geom.Offset([][]geom.Point{circle}, 1, geom.SharpCorners)
	}
}
