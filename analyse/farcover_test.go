package analyse_test

import (
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// A cover that goes round its piece evenly, but too far outside or inside, hides nothing of the cloth:
// that is a fault, however the line and the tack-down are sewn. A satin round a line that
// nothing follows is a frame.
func TestCoverFarOutside(t *testing.T) {
	type sew func(b *st.Builder, p st.Path)
	once := func(b *st.Builder, p st.Path) { b.Run(p, 2.5).TieOff() }
	twice := func(b *st.Builder, p st.Path) { b.DoubleRun(p, 2.4).TieOff() }
	block := func(out float64, lines ...sew) *stitchfile.Design {
		p := st.Circle(st.Point{}, 30)
		b := new(st.Builder)
		for _, line := range lines {
			line(b, p)
			b.Stop()
		}
		return b.Satin(p.Offset(-out), st.SatinAlong{Width: 3.4, Pitch: 0.4}).TieOff().Design()
	}
	for _, c := range []struct {
		name   string
		design *stitchfile.Design
		want   bool
	}{
		{"line and tack-down, 3 mm", block(3, once, once), true},
		{"line and tack-down, 4 mm", block(4, once, once), true},
		{"line sewn twice and tack-down sewn twice, 3 mm", block(3, twice, twice), true},
		{"line sewn twice and tack-down sewn twice, 4 mm", block(4, twice, twice), true},
		{"line sewn twice and tack-down sewn twice, under the cover", block(0, twice, twice), false},
		{"line and tack-down, 4 mm inside", block(-4, once, once), true},
		{"one line, 4 mm", block(4, once), false},
		{"one line, 4 mm inside", block(-4, once), false},
	} {
		r := mustRun(c.design, report.DefaultSettings())
		got := slices.ContainsFunc(r.Findings, func(f report.Finding) bool {
			return f.Rule == "edge-uncovered" && f.Severity == report.Fault
		})
		if got != c.want {
			t.Errorf("%s: fault %v, %+v", c.name, got, r.Findings)
		}
	}
}
