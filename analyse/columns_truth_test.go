package analyse_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// laying gives settings in which thread lies w mm wide.
func laying(w float64) report.Settings {
	s := report.DefaultSettings()
	s.Flattening = w / report.Diameter(s.ThreadWeight)
	return s
}

func satin(p st.Path, width, pitch float64) *stitchfile.Design {
	return new(st.Builder).Satin(p, st.SatinAlong{Width: width, Pitch: pitch}).Design()
}

func straight(length float64) st.Path { return st.Line(st.Point{}, st.Point{X: length}) }

// oneColumn analyses d and gives its one column.
func oneColumn(t *testing.T, d *stitchfile.Design, s report.Settings) *report.SatinColumn {
	t.Helper()
	r := mustRun(d, s)
	if len(r.SatinColumns) != 1 {
		t.Fatalf("%d satin columns, want 1", len(r.SatinColumns))
	}
	return &r.SatinColumns[0]
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.4f, want %.4f within %.4f", what, got, want, within)
	}
}

// Columns whose width, pitch and length are known by how they were laid.
func TestColumnGeometry(t *testing.T) {
	for _, c := range []struct {
		name                                  string
		design                                *stitchfile.Design
		length, width, least, most, pitch     float64
		crossings                             int
		leastTol                              float64
		split                                 bool
		coverageOutIsLower, coverageIsTheSame bool
	}{
		{name: "straight, 1 mm", design: satin(straight(40), 1, 0.4), length: 40, width: 1, least: 1, most: 1, pitch: 0.4, crossings: 200, coverageIsTheSame: true},
		{name: "straight, 4 mm", design: satin(straight(40), 4, 0.4), length: 40, width: 4, least: 4, most: 4, pitch: 0.4, crossings: 200, coverageIsTheSame: true},
		{name: "straight, 9 mm", design: satin(straight(60), 9, 0.6), length: 60, width: 9, least: 9, most: 9, pitch: 0.6, crossings: 200, coverageIsTheSame: true},
		{name: "straight, 3 mm at 0.3", design: satin(straight(45), 3, 0.3), length: 45, width: 3, least: 3, most: 3, pitch: 0.3, crossings: 300, coverageIsTheSame: true},
		{name: "ladder, 4 mm", design: new(st.Builder).Ladder(straight(40), 4, 0.2).Design(), length: 40, width: 4, least: 4, most: 4, pitch: 0.2, crossings: 201, coverageIsTheSame: true},
		{name: "straight and slant", design: new(st.Builder).Satin(straight(40), st.SatinAlong{Width: 4, Pitch: 0.4, Slant: true}).Design(), length: 40, width: 4, least: 4, most: 4, pitch: 0.4, crossings: 200, coverageIsTheSame: true},
		{name: "split, 12 mm", design: new(st.Builder).Satin(straight(50), st.SatinAlong{Width: 12, Pitch: 0.4, Split: 7}).Design(), length: 50, width: 12, least: 12, most: 12, pitch: 0.4, crossings: 250, split: true},
		{name: "ring, R 20", design: satin(st.Circle(st.Point{}, 20), 4, 0.4), length: 40 * math.Pi, width: 4, least: 4, most: 4, pitch: 0.4, crossings: 628, coverageOutIsLower: true},
		{name: "ring, R 10", design: satin(st.Circle(st.Point{}, 10), 3.5, 0.4), length: 20 * math.Pi, width: 3.5, least: 3.5, most: 3.5, pitch: 0.4, crossings: 314, coverageOutIsLower: true},
		{name: "ring the other way", design: satin(st.Circle(st.Point{}, 20).Reverse(), 4, 0.4), length: 40 * math.Pi, width: 4, least: 4, most: 4, pitch: 0.4, crossings: 628, coverageOutIsLower: true},
		{name: "half ring, R 15", design: satin(st.Arc(st.Point{}, 15, 0, math.Pi), 4, 0.4), length: 15 * math.Pi, width: 4, least: 4, most: 4, pitch: 0.4, crossings: 236, coverageOutIsLower: true},
		{name: "tapering from 6 to 2", design: new(st.Builder).Rails(st.Line(st.Point{Y: 3}, st.Point{X: 60, Y: 1}), st.Line(st.Point{Y: -3}, st.Point{X: 60, Y: -1}), 0.4, 0).Design(),
			length: 60, width: 4, least: 2, most: 6, pitch: 0.4, crossings: 300},
	} {
		t.Run(c.name, func(t *testing.T) {
			col := oneColumn(t, c.design, report.DefaultSettings())
			near(t, "length", col.LengthMM, c.length, 0.01*c.length)
			near(t, "median width", col.Width.Median, c.width, 0.1)
			// Both points of a place are off by up to 0.07 mm each.
			near(t, "least width", col.Width.P5, c.least+0.05*(c.most-c.least), 0.15)
			near(t, "greatest width", col.Width.P95, c.most-0.05*(c.most-c.least), 0.15)
			near(t, "median pitch", col.Pitch.Median, c.pitch, 0.02)
			near(t, "crossings", float64(col.Crossings), float64(c.crossings), 2)
			if col.Split != c.split {
				t.Errorf("split is %v", col.Split)
			}
			if c.coverageOutIsLower && col.CoverageOut >= col.CoverageIn {
				t.Errorf("outer half %.3f, inner half %.3f", col.CoverageOut, col.CoverageIn)
			}
			if c.coverageIsTheSame {
				near(t, "outer half's cover", col.CoverageOut, col.Coverage, 0.015)
				near(t, "inner half's cover", col.CoverageIn, col.Coverage, 0.015)
			}
		})
	}
}

// A plain zigzag of pitch p, thread w wide, much wider than p, leaves (1 - w/p)
// squared of its area bare: between two strokes of one direction the strokes of
// the other cross at every place alike often.
func TestCoverageOfAZigzag(t *testing.T) {
	for _, w := range []float64{0.2, 0.25, 0.3, 0.35} {
		for _, p := range []float64{0.5, 0.6, 0.8, 1.0} {
			t.Run(fmt.Sprintf("laid %.2f at %.1f", w, p), func(t *testing.T) {
				col := oneColumn(t, satin(straight(60), 9, p), laying(w))
				near(t, "cover", col.Coverage, 1-(1-w/p)*(1-w/p), 0.01)
			})
		}
	}
}

// Ladder crossings are parallel: w/p is covered, and all from w = p.
func TestCoverageOfALadder(t *testing.T) {
	for _, c := range []struct{ w, p float64 }{{0.2, 0.4}, {0.3, 0.4}, {0.3, 0.5}, {0.3, 0.3}, {0.35, 0.3}} {
		t.Run(fmt.Sprintf("laid %.2f at %.1f", c.w, c.p), func(t *testing.T) {
			col := oneColumn(t, new(st.Builder).Ladder(straight(60), 6, c.p).Design(), laying(c.w))
			near(t, "cover", col.Coverage, min(1, c.w/c.p), 0.02) // stitches along the rails cover a little more
		})
	}
}

// Rings, worked by an integral along the stroke and by a union of polygons,
// which agree to 0.0003.
func TestCoverageOfARing(t *testing.T) {
	for _, c := range []struct{ radius, width, laid, whole, inner, outer float64 }{
		{20, 4, 0.3, 0.932, 0.974, 0.894},
		{20, 4, 0.2, 0.748, 0.811, 0.691},
		{25, 3.5, 0.3, 0.936, 0.965, 0.909},
		{10, 3.5, 0.3, 0.920, 0.993, 0.859},
		{5, 4, 0.3, 0.851, 1.000, 0.752},
	} {
		for _, way := range []string{"counter-clockwise", "clockwise"} {
			t.Run(fmt.Sprintf("R %.0f, W %.1f, laid %.1f, %s", c.radius, c.width, c.laid, way), func(t *testing.T) {
				p := st.Circle(st.Point{}, c.radius)
				if way == "clockwise" {
					p = p.Reverse()
				}
				d := satin(p, c.width, 0.4)
				col := oneColumn(t, d, laying(c.laid))
				// Rounding to 0.1 mm spoils the even pitch: it costs up to 0.0125
				// of the cover of these very rings, as the raster shows.
				near(t, "whole", col.Coverage, c.whole, 0.015)
				near(t, "inner half", col.CoverageIn, c.inner, 0.015)
				near(t, "outer half", col.CoverageOut, c.outer, 0.015)
				if way == "clockwise" {
					return
				}
				mid, in, out := st.Circle(st.Point{}, c.radius), st.Circle(st.Point{}, c.radius-c.width/2), st.Circle(st.Point{}, c.radius+c.width/2)
				at := penetrations(d)
				inner, outer := raster([]st.Path{in, mid}, at, c.laid), raster([]st.Path{mid, out}, at, c.laid)
				// The halves' areas are as R - W/4 to R + W/4.
				share := 0.5 - c.width/8/c.radius
				near(t, "whole, against a raster", col.Coverage, inner*share+outer*(1-share), 0.01)
				near(t, "inner half, against a raster", col.CoverageIn, inner, 0.01)
				near(t, "outer half, against a raster", col.CoverageOut, outer, 0.01)
			})
		}
	}
}

// 40 wt at 0.4 mm is what the trade calls covered; at 0.9 mm cloth shows.
func TestThinCoverOfFortyWeight(t *testing.T) {
	for _, c := range []struct {
		pitch float64
		thin  bool
	}{{0.3, false}, {0.4, false}, {0.9, true}} {
		for _, p := range []st.Path{straight(50), st.Circle(st.Point{}, 25)} {
			found := 0
			for _, f := range mustRun(satin(p, 3.5, c.pitch), report.DefaultSettings()).Findings {
				if f.Rule == "thin-cover" {
					found++
				}
			}
			if (found > 0) != c.thin {
				t.Errorf("pitch %.1f on %d points: %d findings of thin cover", c.pitch, len(p), found)
			}
		}
	}
}

// The thinnest stretch is found where it was laid.
func TestThinnestStretch(t *testing.T) {
	var b st.Builder
	x := 0.0
	for i := 0; x <= 60; i++ {
		b.StitchTo(st.Point{X: x, Y: 2 - 4*float64(i%2)})
		if x >= 35 && x < 45 {
			x += 0.4
		} else {
			x += 0.2
		}
	}
	col := oneColumn(t, b.Design(), laying(0.3))
	near(t, "thinnest cover", col.ThinCoverage, 1-(1-0.3/0.8)*(1-0.3/0.8), 0.03)
	near(t, "place of it along the column", col.ThinnestAt[0], 40-30, 3)
	near(t, "place of it across", col.ThinnestAt[1], 0, 2)
}

// Underlay is told by its kinds; none is made up.
func TestUnderlayKinds(t *testing.T) {
	p := st.Line(st.Point{}, st.Point{X: 50})
	ring := st.Circle(st.Point{}, 22)
	sa := st.SatinAlong{Width: 4, Pitch: 0.4}
	for _, c := range []struct {
		name string
		b    *st.Builder
		want []report.Kind
	}{
		{"none", new(st.Builder).Satin(p, sa), nil},
		{"centre run", new(st.Builder).Run(p, 2.5).Satin(p.Reverse(), sa), []report.Kind{report.KindRun}},
		{"zigzag", new(st.Builder).OpenZigzag(p, 2.6, 2).Satin(p.Reverse(), sa), []report.Kind{report.KindOpenZigzag}},
		{"edge run", new(st.Builder).EdgeRun(p, 4, 0.7, 2.5).Satin(p, sa), []report.Kind{report.KindRun}},
		{"ring over an edge run", new(st.Builder).EdgeRun(ring, 4, 0.7, 2.5).Satin(ring, sa), []report.Kind{report.KindRun}},
		{"ring over a zigzag", new(st.Builder).OpenZigzag(ring, 2.6, 2).Satin(ring, sa), []report.Kind{report.KindOpenZigzag}},
		{"a run beside it is none", new(st.Builder).Run(st.Line(st.Point{Y: 6}, st.Point{X: 50, Y: 6}), 2.5).Trim().Satin(p, sa), nil},
		{"a run in another stop is none", new(st.Builder).Run(p, 2.5).Stop().Satin(p, sa), nil},
	} {
		col := oneColumn(t, c.b.Design(), report.DefaultSettings())
		got := slices.Clone(col.Underlay)
		// The needle's way back to the start of a column is travel, and lies under it too.
		got = slices.DeleteFunc(got, func(k report.Kind) bool { return k == report.KindTravel })
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: underlay %v, want %v", c.name, got, c.want)
		}
	}
}

// moved gives d with every place put through f.
func moved(d *stitchfile.Design, f func(x, y int32) (int32, int32)) *stitchfile.Design {
	e := *d
	e.Moves = slices.Clone(d.Moves)
	for i := range e.Moves {
		m := &e.Moves[i]
		m.X, m.Y = f(m.X, m.Y)
	}
	return &e
}

// Moving, turning by quarters and mirroring keep to the grid, and so change
// no figure at all.
func TestColumnsKeepOnTheGrid(t *testing.T) {
	for name, d := range map[string]*stitchfile.Design{
		"straight": satin(straight(40), 4, 0.4),
		"ring":     satin(st.Circle(st.Point{}, 20), 4, 0.4),
		"curve":    satin(st.Arc(st.Point{}, 12, 0.3, 2.4), 3, 0.45),
		"taper":    new(st.Builder).Satin(straight(40), st.SatinAlong{Width: 6, Pitch: 0.4, Shape: func(t float64) float64 { return 1 - 0.8*t }}).Design(),
		"split":    new(st.Builder).Satin(straight(50), st.SatinAlong{Width: 12, Pitch: 0.4, Split: 7}).Design(),
	} {
		want := oneColumn(t, d, report.DefaultSettings())
		for how, f := range map[string]func(x, y int32) (int32, int32){
			"moved":              func(x, y int32) (int32, int32) { return x + 1237, y - 489 },
			"turned by a fourth": func(x, y int32) (int32, int32) { return -y, x },
			"turned by a half":   func(x, y int32) (int32, int32) { return -x, -y },
			"mirrored":           func(x, y int32) (int32, int32) { return -x, y },
			"upside down":        func(x, y int32) (int32, int32) { return x, -y },
		} {
			t.Run(name+", "+how, func(t *testing.T) {
				got := oneColumn(t, moved(d, f), report.DefaultSettings())
				near(t, "length", got.LengthMM, want.LengthMM, 1e-6)
				near(t, "width", got.Width.Median, want.Width.Median, 1e-6)
				near(t, "pitch", got.Pitch.Median, want.Pitch.Median, 1e-6)
				// A raster laid elsewhere sees the same thread a little otherwise.
				near(t, "cover", got.Coverage, want.Coverage, 0.005)
				near(t, "outer half's cover", got.CoverageOut, want.CoverageOut, 0.005)
				near(t, "inner half's cover", got.CoverageIn, want.CoverageIn, 0.005)
				if got.Crossings != want.Crossings {
					t.Errorf("%d crossings, want %d", got.Crossings, want.Crossings)
				}
			})
		}
	}
}

// Turning by any angle changes figures by what the grid of 0.1 mm adds.
func TestColumnsTurned(t *testing.T) {
	for _, degrees := range []float64{7, 17, 30, 45, 61, 80, 133} {
		t.Run(fmt.Sprintf("%.0f degrees", degrees), func(t *testing.T) {
			sin, cos := math.Sincos(degrees * math.Pi / 180)
			turn := func(p st.Point) st.Point { return st.Point{X: p.X*cos - p.Y*sin, Y: p.X*sin + p.Y*cos} }
			for _, c := range []struct {
				path         st.Path
				width, pitch float64
				cover        float64
			}{
				{straight(60), 4, 0.4, 0.938},
				{straight(60), 9, 0.8, 0.609},
				{st.Circle(st.Point{}, 20), 4, 0.4, 0.932},
			} {
				col := oneColumn(t, satin(c.path.Map(turn), c.width, c.pitch), laying(0.3))
				near(t, "length", col.LengthMM, c.path.Length(), 0.01*c.path.Length())
				near(t, "width", col.Width.Median, c.width, 0.1)
				near(t, "pitch", col.Pitch.Median, c.pitch, 0.05)
				near(t, "cover", col.Coverage, c.cover, 0.015)
			}
		})
	}
}
