package resize

import (
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// A small letter that sews well as it is drawn, though its holes are past the limit, may be
// shrunk until that is an alarm, and one whose holes are below it until they are past it.
func TestLoneSpotWhenShrunk(t *testing.T) {
	letter := func(tall float64) *stitchfile.Design {
		b := new(st.Builder)
		for _, stroke := range []st.Path{{{}, {X: 0.35 * tall, Y: tall}, {X: 0.7 * tall}}, {{X: 0.14 * tall, Y: 0.4 * tall}, {X: 0.56 * tall, Y: 0.4 * tall}}} {
			b.TieIn(stroke[0], st.Point{X: 1}).Satin(stroke, st.SatinAlong{Width: 1.4, Pitch: 0.4}).TieOff().Trim()
		}
		return b.Design()
	}
	for _, c := range []struct {
		name  string
		d     *stitchfile.Design
		times float64 // the limit over the most holes of the design
		least float64 // the scale
	}{{"past the limit as it is", letter(6), 0.95, 0.85}, {"below it", letter(6), 1.1, 0.92}} {
		s := report.DefaultSettings()
		s.Limits = map[string]float64{"crowded-needle": c.times * mustRun(c.d, report.DefaultSettings()).Density.MaxPenetrations}
		r := mustRun(c.d, s)
		if i := slices.IndexFunc(r.Findings, func(f report.Finding) bool { return f.Rule == "crowded-needle" }); c.times < 1 && (i < 0 || r.Findings[i].Severity != report.Note) {
			t.Fatalf("%s: no note: %+v", c.name, r.Findings)
		}
		z := mustLimit(mustRecognise(c.d), s)
		i := slices.IndexFunc(z.Limits, func(l report.ResizeLimit) bool { return l.Rule == "crowded-needle" })
		if i < 0 {
			t.Fatalf("%s: %+v", c.name, z.Limits)
		}
		// Holes go with one over the square of the scale, and cells fall otherwise.
		if l := z.Limits[i]; l.Already || l.Scale < c.least || l.Scale > c.least+0.06 {
			t.Errorf("%s: %+v", c.name, l)
		}
	}
}
