package rules

import (
	"math"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// A tip is where the line turns away from what shows by more than 50 degrees, within 4 mm.
func TestTipNextTo(t *testing.T) {
	// A long line that turns by an angle to the left at the origin, and goes far back.
	corner := func(turn float64) []geom.Point {
		sin, cos := math.Sincos(turn * math.Pi / 180)
		return []geom.Point{{X: -40}, {}, {X: 40 * cos, Y: 40 * sin}, {X: -40, Y: 60}}
	}
	outside := func(turn, off float64) geom.Point { // beyond the tip
		sin, cos := math.Sincos((turn/2 - 90) * math.Pi / 180)
		return geom.Point{X: off * cos, Y: off * sin}
	}
	for _, c := range []struct {
		name string
		turn float64
		at   geom.Point
		want bool
	}{
		{"45 degrees", 45, outside(45, 1.5), false},
		{"55 degrees", 55, outside(55, 1.5), true},
		{"120 degrees", 120, outside(120, 2), true},
		{"120 degrees, seen from inside", 120, outside(120, -2), false},
		{"120 degrees, beside it", 120, geom.Point{X: -0.4, Y: -1}, true},
		{"120 degrees, beside the line before it", 120, geom.Point{X: -1.2, Y: -1}, false},
		{"120 degrees, 3.6 mm beyond", 120, outside(120, 3.6), true},
		{"120 degrees, 6 mm along", 120, geom.Point{X: -6, Y: -1}, false},
	} {
		for _, scale := range []float64{1, 2} {
			line := corner(c.turn)
			for i := range line {
				line[i] = line[i].Times(scale)
			}
			tip, got := tipNextTo(line, c.at.Times(scale), scale)
			if got != c.want || got && tip.Norm() > 1.5*scale {
				t.Errorf("%s at %.0f: tip %v at %v, want %v", c.name, scale, got, tip, c.want)
			}
		}
	}
}

// Cloth that shows a little beyond its tips only can be cut blunt. Where that is more, where the
// stitching at the tip lies bare, or where a side does, it cannot.
func TestTipsThatShow(t *testing.T) {
	tri := st.Path{{X: -40}, {X: 40}, {Y: 60}, {X: -40}}
	for _, c := range []struct {
		name   string
		short  float64 // mm by which the satin of each side stops before the tips
		gaps   []report.Gap
		want   report.Severity
		advice string
	}{
		{"two tips", 0, []report.Gap{{LengthMM: 1.2, AtMM: geom.Place{40, 0}}, {LengthMM: 1.2, AtMM: geom.Place{-40, 0}}}, report.Caution, "blunt"},
		{"two tips, one longer", 0, []report.Gap{{LengthMM: 1.4, AtMM: geom.Place{40, 0}}, {LengthMM: 1.2, AtMM: geom.Place{-40, 0}}}, report.Fault, "mend"},
		{"a tip whose stitching lies bare", 2, []report.Gap{{LengthMM: 1.2, AtMM: geom.Place{40, 0}}}, report.Fault, "mend"},
		{"a side", 0, []report.Gap{{LengthMM: 1.2, AtMM: geom.Place{0, -1}}}, report.Fault, "mend"},
		{"a tip, and less than matters of a side", 0, []report.Gap{{LengthMM: 1.2, AtMM: geom.Place{40, 0}}, {LengthMM: 0.8, AtMM: geom.Place{0, -1}}}, report.Caution, "blunt"},
	} {
		s := new(st.Builder).Run(tri, 2.5).TieOff().Stop().DoubleRun(tri, 2.2).TieOff().Stop()
		for i := 1; i < len(tri); i++ {
			u := st.Point{X: tri[i].X - tri[i-1].X, Y: tri[i].Y - tri[i-1].Y}
			k := c.short / math.Hypot(u.X, u.Y)
			s.Satin(st.Line(st.Point{X: tri[i-1].X + k*u.X, Y: tri[i-1].Y + k*u.Y}, st.Point{X: tri[i].X - k*u.X, Y: tri[i].Y - k*u.Y}), st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Trim()
		}
		m := measured(t, s.Design(), 1)
		if err := m.Do(measure.Pieces); err != nil {
			t.Fatal(err)
		}
		lo := geom.BoxOf(m.Pieces[0].Tack.Line).Lo // places of a report are counted from the middle
		for i := range c.gaps {
			g := &c.gaps[i]
			g.LeastMM = -report.ReachMM
			off := 1.5 // beyond the tip, away from the middle of the side above it
			if g.AtMM[0] < 0 {
				off = -off
			}
			if g.AtMM[0] == 0 {
				off = 0
			}
			g.AtMM = geom.Place{g.AtMM[0] + 40 + lo.X + off, g.AtMM[1] + lo.Y}
		}
		m.Report.Pieces[0].Gaps = c.gaps
		f := edgeUncovered(&Pass{m, &EdgeUncoveredRule})
		if len(f) != 1 || f[0].Severity != c.want || !strings.Contains(f[0].Advice, c.advice) {
			t.Errorf("%s: %+v, want a %s", c.name, f, c.want)
		}
	}
}
