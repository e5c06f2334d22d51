package analyse_test

import (
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// A tack-down that lies inside its line by the same width all round, up to 2.5 mm, is
// drawn so: only what it strays beyond that counts. Outside the line all of it counts.
func TestTackDownInsideAllRound(t *testing.T) {
	aside := func(inside, x float64) *stitchfile.Design {
		tack := st.Circle(st.Point{X: x}, 25-inside)
		return new(st.Builder).Run(st.Circle(st.Point{}, 25), 2.5).Stop().DoubleRun(tack, 2.5).Stop().Satin(tack, st.SatinAlong{Width: 5, Pitch: 0.4}).Design()
	}
	hole := func(outside float64) *stitchfile.Design {
		edge, in := st.Circle(st.Point{}, 35), st.Circle(st.Point{}, 15)
		tack := st.Circle(st.Point{}, 15+outside)
		b := new(st.Builder).Run(edge, 2.5).Trim().Run(in, 2.5).Stop()
		b.DoubleRun(edge.Offset(0.5), 2.5).Trim().DoubleRun(tack, 2.5).Stop()
		return b.Satin(edge, st.SatinAlong{Width: 5, Pitch: 0.4}).Trim().Satin(tack, st.SatinAlong{Width: 5, Pitch: 0.4}).Design()
	}
	for _, c := range []struct {
		name   string
		design *stitchfile.Design
		want   bool
	}{
		{"2.2 mm inside", aside(2.2, 0), false},
		{"3.3 mm inside", aside(3.3, 0), false}, // 0.8 mm more than 2.5
		{"3.7 mm inside", aside(3.7, 0), true},
		{"0.8 mm outside", aside(-0.8, 0), false},
		{"1.2 mm outside", aside(-1.2, 0), true},
		{"1.5 mm inside, and 0.8 mm aside", aside(1.5, 0.8), false},
		{"1.5 mm inside, and 1.3 mm aside", aside(1.5, 1.3), true},
		{"round a hole, 2 mm on the cloth", hole(2), false},
		{"round a hole, 1.3 mm off the cloth", hole(-1.3), true},
	} {
		s := report.DefaultSettings()
		s.Limits = map[string]float64{"tack-down-astray": 1}
		told := slices.ContainsFunc(mustRun(c.design, s).Findings, func(f report.Finding) bool { return f.Rule == "tack-down-astray" })
		if told != c.want {
			t.Errorf("a tack-down %s is astray: %t", c.name, told)
		}
	}
}
