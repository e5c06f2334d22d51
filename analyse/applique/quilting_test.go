package applique

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// Lines all over the batting, sewn before the pieces, quilt it; those of a corner of it
// are something else.
func TestLinesAllOverTheBattingQuiltIt(t *testing.T) {
	square := func(width float64) st.Path { return st.Rect(st.Point{}, width, width) }
	for _, c := range []struct {
		width, height float64 // of the lines, of batting 136 mm wide
		want          string
	}{
		{132, 132, report.RoleQuilting},
		{112, 112, report.RoleQuilting},
		{104, 132, report.RoleDecoration},
		{132, 104, report.RoleDecoration},
	} {
		var b st.Builder
		b.Run(square(140), 3).TieOff().Trim().Stop()
		b.Run(square(136), 3).TieOff().Trim().Stop()
		b.Run(square(142), 3).TieOff().Trim().Stop()
		for row := range 12 {
			var line st.Path
			for x := -c.width / 2; x <= c.width/2; x++ {
				line = append(line, st.Point{X: x, Y: (float64(row)/11-0.5)*(c.height-4) + 2*math.Sin(x/4)})
			}
			b.Run(line, 2.5).TieOff().Trim()
		}
		heart := st.Circle(st.Point{}, 30)
		b.Stop().Run(heart, 2.5).TieOff().Trim().Stop()
		b.Run(heart, 2).TieOff().Trim().Stop()
		b.Satin(heart, st.SatinAlong{Width: 3.5, Pitch: 0.4}).TieOff()
		roles := recognised(t, b.Design()).Roles
		if got := roles[3].Role; roles[1].Role != report.RoleBattingHoldDown || got != c.want {
			t.Errorf("lines over %.0f x %.0f mm: %s after %s, want %s", c.width, c.height, got, roles[1].Role, c.want)
		}
	}
}
