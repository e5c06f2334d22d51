package satin

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// The tests of this file hold each tolerance from both sides: what lies just
// within it and what lies just beyond, in figures written out, so that a
// tolerance which moves by a fifth is noticed.

func mm(x, y float64) geom.Point { return geom.Point{X: x, Y: y} }

func along(degrees float64) geom.Point {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return mm(cos, sin)
}

// at is a crossing of the given width about a middle, square to the direction.
func at(mid geom.Point, width, degrees float64) crossing {
	half := along(degrees + 90).Times(width / 2)
	return crossing{a: mid.Sub(half), b: mid.Add(half)}
}

// column is n crossings along X.
func column(n int, width, step float64) []crossing {
	var out []crossing
	for i := range n {
		c := at(mm(step*float64(i), 0), width, 0)
		if i%2 == 1 {
			c.a, c.b = c.b, c.a
		}
		out = append(out, c)
	}
	return out
}

func TestShortStitchesAreNoTaper(t *testing.T) {
	for _, c := range []struct {
		pull float64
		want bool
	}{{0.13, false}, {0.175, true}} {
		x := column(41, 5, 0.2)
		for i := 1; i < 41; i += 2 {
			x[i].a, x[i].b = x[i].b, x[i].a // as they are when rails are looked for
		}
		for i := 4; i < 37; i += 4 {
			x[i].a = geom.Lerp(x[i].a, x[i].b, c.pull)
		}
		w := columnWork{scale: 1, laid: 0.3}
		w.layAlong(x)
		w.findRails(x)
		if got := x[16].ra+x[16].rb > 0.3; got != c.want {
			t.Errorf("a stitch short by %.3f of the width stays away from the rail: %v", c.pull, got)
		}
	}
}

func TestBarsThatCover(t *testing.T) {
	part := func(length, width float64) report.SatinColumn {
		return report.SatinColumn{LengthMM: length, Width: report.Spread{Median: width, P5: width, P95: width}, Pitch: report.Spread{Median: 0.4}}
	}
	for _, c := range []struct {
		name  string
		parts []report.SatinColumn
		want  bool
	}{
		{"12 mm across", []report.SatinColumn{part(60, 12)}, true},
		{"13.2 mm across", []report.SatinColumn{part(60, 13.2)}, false},
		{"2.2 times as long as wide", []report.SatinColumn{part(11, 5)}, true},
		{"1.8 times as long as wide", []report.SatinColumn{part(9, 5)}, false},
		{"a part 0.18 wider than the rest", []report.SatinColumn{part(60, 5), part(40, 6.7)}, true},
		{"a part 0.22 wider than the rest", []report.SatinColumn{part(60, 5), part(40, 7.15)}, false},
		{"0.84 of it even", []report.SatinColumn{part(84, 5), part(16, 9)}, true},
		{"0.76 of it even", []report.SatinColumn{part(76, 5), part(24, 9)}, false},
	} {
		if got := isBar(c.parts); got != c.want {
			t.Errorf("rows %s serve as a cover: %v", c.name, got)
		}
	}
}

// Where the middles of crossings hardly move, the column goes square to them.
func TestCrossingsThatStandStill(t *testing.T) {
	for _, c := range []struct {
		moved float64
		want  bool // they tell the way
	}{{0.053, false}, {0.069, true}} {
		x := []crossing{at(mm(0, 0), 4, 40), at(mm(c.moved, 0), 4, 40)}
		w := columnWork{scale: 1}
		w.layAlong(x)
		if got := w.back.X < -0.99; got != c.want {
			t.Errorf("crossings %.3f mm apart tell the way of the column: %v", c.moved, got)
		}
	}
}

func TestWhereAColumnEnds(t *testing.T) {
	bend := func(degrees float64) []crossing {
		x := column(12, 4, 0.4)
		last := x[11].mid()
		for i := 1; i <= 12; i++ {
			x = append(x, at(last.Add(along(degrees).Times(0.4*float64(i))), 4, degrees))
		}
		return x
	}
	// out and back again, back in the given direction, with crossings turned so far
	// from those on the way out.
	back := func(n int, step, degrees, turn float64) []crossing {
		var x []crossing
		for i := range n + 1 {
			x = append(x, at(mm(step*float64(i), 0), 4, 0))
		}
		last := x[n].mid()
		for i := 1; i <= n; i++ {
			x = append(x, at(last.Add(along(degrees).Times(step*float64(i))), 4, turn))
		}
		return x
	}
	for _, c := range []struct {
		name string
		x    []crossing
		want bool // it ends before the last crossing
	}{
		{"bends by 47 degrees", bend(47), false},
		{"bends by 53 degrees", bend(53), true},
		{"turns back after nine crossings", back(9, 0.4, 180, 0), true},
		{"turns back after seven crossings", back(7, 0.4, 180, 0), false},
		{"turns back by 124 degrees", back(9, 0.4, 124, 0), true},
		{"turns back by 116 degrees", back(9, 0.4, 116, 0), false},
		{"turns back by steps of 0.055 mm", back(9, 0.055, 180, 0), true},
		{"turns back by steps of 0.045 mm", back(9, 0.045, 180, 0), false},
		{"turns back with crossings that lean 33 degrees", back(9, 0.4, 180, 33), true},
		{"turns back with crossings that lean 40 degrees", back(9, 0.4, 180, 40), false},
	} {
		w := columnWork{cross: c.x}
		if got := w.columnEnd(0) < len(c.x); got != c.want {
			t.Errorf("a column that %s ends there: %v", c.name, got)
		}
	}
}

func TestWhatLeadsIntoAColumn(t *testing.T) {
	lead := func(n int, width, miss float64) []crossing {
		x := column(40, width, 0.3)
		for i := range n {
			// Short of one rail, which it would have reached.
			x[i].a = x[i].a.Add(x[i].b.Sub(x[i].a).Unit().Times(miss))
		}
		return x
	}
	off := func(by float64) []crossing {
		x := column(40, 4, 0.3)
		x[0].a, x[0].b = x[0].a.Add(mm(-by, 0)), x[0].b.Add(mm(-by, 0))
		return x
	}
	against := func(n int) []crossing {
		x := column(40, 4, 0.5)
		for i := range n {
			m := mm(0.5*float64(n)+0.5*float64(n-i), 0)
			x[i] = at(m, 4, 0)
		}
		return x
	}
	for _, c := range []struct {
		name string
		x    []crossing
		want int
	}{
		{"a narrow column, missed by 0.31 mm", lead(1, 2, 0.31), 0},
		{"a narrow column, missed by 0.39 mm", lead(1, 2, 0.39), 1},
		{"a wide column, missed by 0.7 mm", lead(1, 5, 0.7), 0},
		{"a wide column, missed by 0.82 mm", lead(1, 5, 0.82), 1},
		{"one stitch 0.3 mm too far out", off(0.3), 0},
		{"one stitch 0.4 mm further than a step of the rail", off(0.7), 1},
		{"one stitch to lead", lead(1, 4, 2), 1},
		{"two stitches to lead", lead(2, 4, 2), 2},
		{"three stitches in line to lead", column3(), 2},
		{"seven crossings against the column's way", against(7), 7},
		{"nine crossings against the column's way", against(9), 8},
	} {
		n := len(c.x)
		if got := leads(n, func(i int) *crossing { return &c.x[i] }); got != c.want {
			t.Errorf("%s: %d left out, want %d", c.name, got, c.want)
		}
	}
}

// column3 has three stitches before it that grow from a point.
func column3() []crossing {
	x := column(40, 5, 0.3)
	for i := range 3 {
		x[i].a = x[i].a.Add(x[i].b.Sub(x[i].a).Times(0.8 - 0.2*float64(i)))
	}
	return x
}

// Two columns side by side hide the cloth between them if rounding alone parts them.
func TestColumnsSideBySide(t *testing.T) {
	for _, c := range []struct {
		gap  float64
		want bool
	}{{0.26, true}, {0.36, false}} {
		band := func(x float64) Band { // along Y, 2 mm wide, its left rail at x
			b := Band{Kind: report.KindSatin, Width: 2}
			for y := -10.0; y <= 10; y++ {
				b.Left, b.Centre, b.Right = append(b.Left, mm(x, y)), append(b.Centre, mm(x+1, y)), append(b.Right, mm(x+2, y))
			}
			return b
		}
		x := NewBandIndex([]Band{band(-1), band(1 + c.gap)})
		s, ok := x.Along(mm(0, 0), mm(1, 0), func(int32) bool { return true })
		if !ok || (s.Hi > 2) != c.want {
			t.Errorf("columns %.2f mm apart: satin from %.2f to %.2f", c.gap, s.Lo, s.Hi)
		}
	}
}

// Crossings that hardly go on turn about one place: they are a knot.
func TestColumnsGoOn(t *testing.T) {
	for _, c := range []struct {
		pitch float64
		want  bool
	}{{0.056, true}, {0.044, false}} {
		if got := goesOn(&report.SatinColumn{Pitch: report.Spread{Median: c.pitch}}); got != c.want {
			t.Errorf("crossings %.3f mm apart make a column: %v", c.pitch, got)
		}
	}
}
