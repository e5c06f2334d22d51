package analyse

import (
	"math"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/rules"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// lattice sews rows to and fro with a hole every dx mm, dy mm apart.
func lattice(nx, ny int, dx, dy float64) *stitchfile.Design {
	b := new(st.Builder).As(st.Fill)
	for j := range ny {
		for i := range nx {
			x := float64(i)
			if j%2 == 1 {
				x = float64(nx - 1 - i)
			}
			b.StitchTo(st.Point{X: dx * x, Y: dy * float64(j)})
		}
	}
	return b.Design()
}

// onePiece is an applique disc whose tack-down lies so far inside its line.
func onePiece(inside float64) *stitchfile.Design {
	tack := st.Circle(st.Point{}, 25-inside)
	return new(st.Builder).Run(st.Circle(st.Point{}, 25), 2.5).Stop().Run(tack, 2.5).Stop().Satin(tack, st.SatinAlong{Width: 4, Pitch: 0.4}).Design()
}

// Plants whose figure is known are told on the right side of a limit: it is set so
// that the figure is the given share of it.
func TestGradedPlants(t *testing.T) {
	line := func(x, y, length float64) st.Path {
		return st.Line(st.Point{X: x, Y: y}, st.Point{X: x + length, Y: y})
	}
	satin := func(width, pitch float64) *stitchfile.Design {
		return new(st.Builder).Satin(line(0, 0, 60), st.SatinAlong{Width: width, Pitch: pitch}).Design()
	}
	laid := report.DefaultSettings()
	w := laid.LaidWidth()
	shorts := new(st.Builder) // one short stitch in six
	for i := range 600 {
		shorts.StitchTo(st.Point{X: 2*float64(i-i/6) + 0.2*float64(i/6)})
	}
	wrong := satin(4, 0.4)
	wrong.Claims.Width = 600 + 20 // the satin is 60 mm long, and its header says 2 mm more
	for _, c := range []struct {
		rule, limit string
		figure      float64
		above       bool // told above the limit, not below it
		least       report.Severity
		design      *stitchfile.Design
	}{
		{"thin-cover", "thin-cover", 1 - math.Pow(1-w/0.5, 2), false, report.Caution, satin(8, 0.5)},
		{"thin-cover", "thin-cover-stretch", 1 - math.Pow(1-w/0.5, 2), false, report.Caution, satin(8, 0.5)},
		{"narrow-satin", "narrow-satin", 1.2, false, report.Caution, satin(1.2, 0.4)},
		{"wide-satin", "wide-satin", 8, true, report.Caution, satin(8, 0.4)},
		{"long-stitch", "long-stitch", 10, true, report.Caution, new(st.Builder).Run(line(0, 0, 20), 2.5).StitchTo(st.Point{X: 30}).Run(line(30, 0, 20), 2.5).Design()},
		{"short-stitch", "short-stitch", 0.4, false, report.Caution, new(st.Builder).Run(line(0, 0, 20), 0.4).Design()},
		{"short-stitch", "short-stitch-share", 1.0 / 6, true, report.Caution, shorts.Design()},
		{"crowded-needle", "crowded-needle", 4, true, report.Caution, lattice(40, 40, 0.5, 0.5)},
		{"stacked-layers", "stacked-layers", w / 0.1, true, report.Caution, lattice(11, 120, 2.5, 0.1)},
		{"untrimmed-jump", "untrimmed-jump", 12.5, true, report.Caution, new(st.Builder).Run(line(0, 0, 20), 2.5).JumpTo(st.Point{X: 30}).Run(line(30, 0, 20), 2.5).Design()},
		{"tack-down-astray", "tack-down-astray", 2, true, report.Caution, onePiece(2)},
		{"header-disagrees", "header-disagrees", 2, true, report.Note, wrong},
	} {
		for _, share := range []float64{0.8, 0.95, 1.05, 1.2} {
			s := report.DefaultSettings()
			s.Only = []string{c.rule}
			s.Limits = map[string]float64{c.limit: c.figure / share}
			for _, r := range rules.All() { // the rule's other limits stay out of it
				for _, l := range r.Limits {
					if r.ID == "thin-cover" && c.rule == r.ID && l.Name != c.limit {
						s.Limits[l.Name] = 0
					}
				}
			}
			told := slices.ContainsFunc(mustRun(c.design, s).Findings, func(f report.Finding) bool { return f.Rule == c.rule && f.Severity.AtLeast(c.least) })
			if told != (share > 1 == c.above) {
				t.Errorf("%s: %.3g is %.2f of the limit %s, told: %v", c.rule, c.figure, share, c.limit, told)
			}
		}
	}
}
