package analyse_test

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

// tackedInside is an applique disc whose tack-down lies so far inside its line.
func tackedInside(inside float64) *stitchfile.Design {
	tack := st.Circle(st.Point{}, 25-inside)
	return new(st.Builder).Run(st.Circle(st.Point{}, 25), 2.5).Stop().Run(tack, 2.5).Stop().Satin(tack, st.SatinAlong{Width: 4, Pitch: 0.4}).Design()
}

// plant is a design whose figure for a rule is known.
type plant struct {
	rule, limit string
	figure      float64
	above       bool // told above the limit, not below it
	least       report.Severity
	design      *stitchfile.Design

	// Where the limit is none of the named ones: the settings, or the design, that make
	// the figure so much of it.
	settings func(s *report.Settings, share float64)
	graded   func(share float64) *stitchfile.Design
	told     func(*report.Report) bool // where no finding tells it
}

// graded are plants of stitches; gradedCovers those of covers, gradedHands those of hand
// work.
func graded(*testing.T) []plant {
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
	untied := new(st.Builder).StitchTo(st.Point{}).StitchTo(st.Point{X: 2}).Run(line(2, 0, 40), 2.5).StitchTo(st.Point{X: 44}).Design()
	return []plant{
		{rule: "thin-cover", limit: "thin-cover", figure: 1 - math.Pow(1-w/0.5, 2), above: false, least: report.Caution, design: satin(8, 0.5)},
		{rule: "thin-cover", limit: "thin-cover-stretch", figure: 1 - math.Pow(1-w/0.5, 2), above: false, least: report.Caution, design: satin(8, 0.5)},
		{rule: "narrow-satin", limit: "narrow-satin", figure: 1.2, above: false, least: report.Caution, design: satin(1.2, 0.4)},
		{rule: "wide-satin", limit: "wide-satin", figure: 8, above: true, least: report.Caution, design: satin(8, 0.4)},
		{rule: "long-stitch", limit: "long-stitch", figure: 10, above: true, least: report.Caution, design: new(st.Builder).Run(line(0, 0, 20), 2.5).StitchTo(st.Point{X: 30}).Run(line(30, 0, 20), 2.5).Design()},
		{rule: "short-stitch", limit: "short-stitch", figure: 0.4, above: false, least: report.Caution, design: new(st.Builder).Run(line(0, 0, 20), 0.4).Design()},
		{rule: "short-stitch", limit: "short-stitch-share", figure: 1.0 / 6, above: true, least: report.Caution, design: shorts.Design()},
		{rule: "crowded-needle", limit: "crowded-needle", figure: 4, above: true, least: report.Caution, design: lattice(40, 40, 0.5, 0.5)},
		{rule: "stacked-layers", limit: "stacked-layers", figure: w / 0.1, above: true, least: report.Caution, design: lattice(11, 120, 2.5, 0.1)},
		{rule: "untrimmed-jump", limit: "untrimmed-jump", figure: 12.5, above: true, least: report.Caution, design: new(st.Builder).Run(line(0, 0, 20), 2.5).JumpTo(st.Point{X: 30}).Run(line(30, 0, 20), 2.5).Design()},
		{rule: "tack-down-astray", limit: "tack-down-astray", figure: 2, above: true, least: report.Caution, design: tackedInside(-2)},
		{rule: "header-disagrees", limit: "header-disagrees", figure: 2, above: true, least: report.Note, design: wrong},
		{rule: "no-tie", limit: "no-tie", figure: 2, above: true, least: report.Note, design: untied},
		{rule: "crowded-needle", limit: "crowded-needle-close", figure: 0.5, above: false, least: report.Note, design: lattice(40, 40, 0.5, 0.5),
			told: func(r *report.Report) bool { return r.Density.CloseNeedles > 0 }},
		{rule: "outside-hoop", above: true, least: report.Fault, design: satin(8, 0.4), // 60 mm long
			settings: func(s *report.Settings, share float64) { s.HoopWidthMM, s.HoopHeightMM = 60/share, 60/share }},
		// The upper ends of what is usual, so many times over as the rule lets pass, and more.
		{rule: "stretched-copy", above: true, least: report.Note, graded: func(share float64) *stitchfile.Design {
			f := 1.12 * share
			return new(st.Builder).Run(line(0, 10, 400), 2.8*f).Trim().Satin(line(0, 0, 60), st.SatinAlong{Width: 4, Pitch: 0.43 * f}).Design()
		}},
	}
}

// Plants whose figure is known are told on the right side of a limit: it is set so
// that the figure is the given share of it.
func TestGradedPlants(t *testing.T) {
	for _, c := range slices.Concat(graded(t), gradedCovers(t), gradedHands(t)) {
		for _, share := range []float64{0.8, 0.95, 1.05, 1.2} {
			s := report.DefaultSettings()
			s.Only, s.Limits = []string{c.rule}, map[string]float64{}
			if c.rule == "thin-cover" { // its other limit stays out of it
				s.Limits["thin-cover"], s.Limits["thin-cover-stretch"] = 0, 0
			}
			if c.limit != "" {
				s.Limits[c.limit] = c.figure / share
			}
			if c.settings != nil {
				c.settings(&s, share)
			}
			d := c.design
			if c.graded != nil {
				d = c.graded(share)
			}
			r := mustRun(d, s)
			told := slices.ContainsFunc(r.Findings, func(f report.Finding) bool { return f.Rule == c.rule && f.Severity.AtLeast(c.least) })
			if c.told != nil {
				told = c.told(r)
			}
			if told != (share > 1 == c.above) {
				t.Errorf("%s: %.3g is %.2f of the limit %s, told: %v", c.rule, c.figure, share, c.limit, told)
			}
		}
	}
}

// withoutFigure are the rules that hold stitches against no figure: there it is, or it is
// not. They have tests of their own.
var withoutFigure = []string{"damaged-file", "empty-stop", "cover-missing", "wrong-order", "no-pause-to-trim", "same-colour-pause", "tack-down-missing", "set-disagrees"}

// Each rule with a limit has plants on each side of each of its limits.
func TestEveryLimitHasGradedPlants(t *testing.T) {
	plants := map[string]bool{}
	for _, c := range slices.Concat(graded(t), gradedCovers(t), gradedHands(t)) {
		plants[c.rule+" "+c.limit] = true
	}
	for _, r := range rules.All() {
		for _, l := range r.Limits {
			if !plants[r.ID+" "+l.Name] {
				t.Errorf("%s: no graded plant for its limit %s", r.ID, l.Name)
			}
		}
		if none := slices.Contains(withoutFigure, r.ID); len(r.Limits) == 0 && none == plants[r.ID+" "] {
			t.Errorf("%s: it has no named limit, so it needs a graded plant for its bounds, or to be among those without a figure", r.ID)
		} else if none && len(r.Limits) > 0 {
			t.Errorf("%s has limits", r.ID)
		}
	}
}
