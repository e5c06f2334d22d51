package satin

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
)

// Coverage of satin rings in exact geometry, before any file rounds its points:
// the integral along the stroke and the union of polygons, which agree to 0.0003
// with one another, by radius, width, pitch and laid width.
func TestCoverageOfExactRings(t *testing.T) {
	for _, c := range []struct{ radius, width, pitch, laid, whole, inner, outer float64 }{
		{20, 4, 0.4, 0.3, 0.932, 0.974, 0.894},
		{20, 4, 0.4, 0.2, 0.748, 0.811, 0.691},
		{25, 3.5, 0.4, 0.3, 0.936, 0.965, 0.909},
		{10, 3.5, 0.4, 0.3, 0.920, 0.993, 0.859},
		{5, 4, 0.4, 0.3, 0.851, 1.000, 0.752},
	} {
		n := int(math.Round(2 * math.Pi * c.radius / c.pitch))
		at := func(i, r float64) geom.Point {
			s, cos := math.Sincos(2 * math.Pi * i / float64(n))
			return geom.Point{X: r * cos, Y: r * s}
		}
		var x []crossing
		for i := range n {
			in, out := at(float64(i), c.radius-c.width/2), at(float64(i)+0.5, c.radius+c.width/2)
			x = append(x, crossing{a: in, b: out}, crossing{a: out, b: at(float64(i)+1, c.radius-c.width/2)})
		}
		w := columnWork{laid: c.laid, scale: 1}
		col := w.measure(x)
		for _, v := range []struct {
			what      string
			got, want float64
		}{{"whole", col.Coverage, c.whole}, {"inner half", col.CoverageIn, c.inner}, {"outer half", col.CoverageOut, c.outer}} {
			if math.Abs(v.got-v.want) > 0.004 {
				t.Errorf("radius %v, laid %v, %s: %.4f, want %.3f", c.radius, c.laid, v.what, v.got, v.want)
			}
		}
		if math.Abs(col.LengthMM/(2*math.Pi*c.radius)-1) > 0.01 || math.Abs(col.Width.Median-c.width) > 0.02 || math.Abs(col.Pitch.Median-c.pitch) > 0.005 {
			t.Errorf("radius %v: %.2f mm long, %.3f wide, pitch %.4f", c.radius, col.LengthMM, col.Width.Median, col.Pitch.Median)
		}
	}
}

// straightColumn crosses to and fro; on the way across a stroke goes so much of the pitch
// along, and on the way back the rest.
func straightColumn(width, pitch, lean float64) (x []crossing) {
	for i := range 200 {
		from := float64(i) * pitch
		over := geom.Point{X: from + lean*pitch, Y: width}
		x = append(x, crossing{a: geom.Point{X: from}, b: over}, crossing{a: over, b: geom.Point{X: from + pitch}})
	}
	return x
}

// A wide column at pitch p covers 1 - (1 - w/p)^2; a narrow one more, because its
// strokes lean: put w sqrt(1 + (p/2W)^2) for w.
func TestCoverageOfExactColumns(t *testing.T) {
	for _, c := range []struct{ width, pitch, laid, want float64 }{
		{20, 0.4, 0.3, 0.9375}, {4, 0.4, 0.3, 0.9380}, {4, 0.4, 0.2, 0.7506}, {2, 0.4, 0.3, 0.9394}, {1, 0.4, 0.3, 0.9447},
		{1, 0.6, 0.2, 0.5749}, {0.8, 0.4, 0.2, 0.7652}, {0.4, 0.4, 0.2, 0.8055}, {0.4, 0.6, 0.2, 0.6597},
	} {
		w := columnWork{laid: c.laid, scale: 1}
		if got := w.measure(straightColumn(c.width, c.pitch, 0.5)).Coverage; math.Abs(got-c.want) > 0.004 {
			t.Errorf("width %v, pitch %v, laid %v: %.4f, want %.4f", c.width, c.pitch, c.laid, got, c.want)
		}
	}
}

// Strokes that go straight across and slant back: put w (1 + sqrt(1 + (p/W)^2)) / 2 for w.
// Lanes are a share of the width, which shows in columns as narrow as their pitch.
func TestCoverageOfExactSlantingColumns(t *testing.T) {
	for _, c := range []struct{ width, pitch, laid, want float64 }{
		{20, 0.4, 0.3, 0.9375}, {4, 0.4, 0.3, 0.9384}, {4, 0.4, 0.2, 0.7512}, {2, 0.4, 0.3, 0.9412}, {1, 0.4, 0.3, 0.9511},
		{1, 0.6, 0.2, 0.5917}, {0.8, 0.4, 0.2, 0.7786}, {0.4, 0.4, 0.2, 0.8428}, {0.4, 0.6, 0.2, 0.7160},
	} {
		w := columnWork{laid: c.laid, scale: 1}
		if got := w.measure(straightColumn(c.width, c.pitch, 0)).Coverage; math.Abs(got-c.want) > 0.01 {
			t.Errorf("width %v, pitch %v, laid %v: %.4f, want %.4f", c.width, c.pitch, c.laid, got, c.want)
		}
	}
}

// Satin 3.5 mm wide at 0.4 mm that is resized with its stitches kept, for thread of 0.3 mm
// and of 0.2 mm.
func TestCoverageOfResizedColumns(t *testing.T) {
	for _, c := range []struct{ scale, thick, thin float64 }{
		{1, 0.9375, 0.75}, {0.7, 1, 0.9184}, {0.8, 0.9961, 0.8594}, {0.9, 0.9722, 0.8025}, {1.1, 0.8988, 0.7025}, {1.2, 0.8594, 0.6597}, {1.3, 0.8210, 0.6213}, {1.5, 0.75, 0.5556},
	} {
		for laid, want := range map[float64]float64{0.3: c.thick, 0.2: c.thin} {
			var x []crossing
			p, width := 0.4*c.scale, 3.5*c.scale
			for i := range 200 {
				s := float64(i) * p
				x = append(x, crossing{a: geom.Point{X: s, Y: 0}, b: geom.Point{X: s + p/2, Y: width}}, crossing{a: geom.Point{X: s + p/2, Y: width}, b: geom.Point{X: s + p, Y: 0}})
			}
			w := columnWork{laid: laid, scale: c.scale}
			if got := w.measure(x).Coverage; math.Abs(got-want) > 0.004 {
				t.Errorf("%v times, laid %v: %.4f, want %.4f", c.scale, laid, got, want)
			}
		}
	}
}
