package applique

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// Lines that one stop sews side by side round a block are a frame, or quilting in echoes;
// others hold what is laid under it.
func TestFrameRoundABlock(t *testing.T) {
	bean := func(b *st.Builder, p st.Path) { b.TripleRun(p, 2.3) }
	run := func(b *st.Builder, p st.Path) { b.Run(p, 2.3) }
	for _, c := range []struct {
		name     string
		sew      func(b *st.Builder, p st.Path)
		in       []float64 // mm inside the block's border, of each line
		outlined bool      // two lines of other stops hold the block cloth
		stops    bool      // each line has a stop of its own
		want     string
	}{
		{"bean lines 1.3 mm apart", bean, []float64{0, 1.3}, false, false, report.RoleBattingHoldDown},
		{"bean lines 1.7 mm apart", bean, []float64{0, 1.7}, false, false, report.RoleDecoration},
		{"bean lines 3 mm apart on a block", bean, []float64{0, 3}, true, false, report.RoleDecoration},
		{"single lines 1 mm apart", run, []float64{0, 1}, false, false, report.RoleBattingHoldDown},
		{"single lines 3 mm apart", run, []float64{0, 3}, false, false, report.RoleDecoration},
		{"single lines 3 mm apart on a block", run, []float64{0, 3}, true, false, report.RoleBattingHoldDown},
		{"three lines on a block", run, []float64{0, 3, 6}, true, false, report.RoleDecoration},
		{"bean lines 3 mm apart in two stops", bean, []float64{0, 3}, false, true, report.RoleDecoration},
		{"bean lines 1 mm apart in two stops", bean, []float64{0, 1}, false, true, report.RoleBackingHoldDown},
		{"bean lines 3 mm apart in two stops, on a block", bean, []float64{0, 3}, true, true, report.RoleBackingHoldDown},
		{"single lines 3 mm apart in two stops", run, []float64{0, 3}, false, true, report.RoleBackingHoldDown},
		{"three echoes 7 mm apart", run, []float64{14, 7, 0}, false, false, report.RoleDecoration},
	} {
		b := new(st.Builder)
		if c.outlined {
			b.Run(inBlock(0), 2.5).TieOff().Stop().Run(inBlock(0.4), 2.5).TieOff().Stop()
		}
		ring := st.Circle(st.Point{}, 25)
		b.Run(ring, 2.5).TieOff().Stop().DoubleRun(ring.Offset(0.3), 2.2).TieOff().Stop().Satin(ring, st.SatinAlong{Width: 3.5, Pitch: 0.4}).TieOff().Stop()
		for i, in := range c.in {
			switch {
			case i > 0 && c.stops:
				b.TieOff().Stop()
			case i > 0:
				b.TieOff().Trim()
			}
			c.sew(b, inBlock(in))
		}
		roles := recognised(t, b.TieOff().Design()).Roles
		last := roles[len(roles)-1]
		got := last.Role
		if len(last.Parts) > 0 {
			got = last.Parts[0].Role
		}
		if got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}
