package applique

import (
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// Batting that is laid first may lie a seam's width inside the block, whose cloth is held
// outside it then.
func TestBattingLaidFirstInsideTheSeam(t *testing.T) {
	for _, c := range []struct {
		inside float64
		want   []string
	}{
		{6.5, []string{report.RoleClothOutline, report.RoleBattingHoldDown, report.RoleClothHoldDown}},
		{8, []string{report.RoleClothOutline, report.RoleBattingHoldDown, report.RoleClothHoldDown}},
		{11, []string{report.RoleClothOutline, report.RoleClothHoldDown, report.RoleDecoration}},
	} {
		b := new(st.Builder).Run(inBlock(c.inside), 2.5).TieOff().Stop().Run(inBlock(c.inside), 2.3).TieOff().Stop().Run(inBlock(0), 2.5).TieOff().Stop()
		ring := st.Circle(st.Point{}, 25)
		b.Run(ring, 2.5).TieOff().Stop().DoubleRun(ring.Offset(0.3), 2.2).TieOff().Stop().Satin(ring, st.SatinAlong{Width: 3.5, Pitch: 0.4}).TieOff()
		rec := recognised(t, b.Design())
		var got []string
		for _, r := range rec.Roles[:3] {
			got = append(got, r.Role)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("lines %.1f mm inside the third: %v, want %v", c.inside, got, c.want)
		}
	}
}
