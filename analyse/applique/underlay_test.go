package applique

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// A satin whose underlay is a zigzag there and back is the cover, and the zigzags are none;
// with no satin over them in their stop they are.
func TestZigzagsUnderSatin(t *testing.T) {
	for _, c := range []struct {
		name  string
		satin bool
		want  report.Finish
	}{{"satin over them", true, report.FinishSatin}, {"nothing over them", false, report.FinishZigzag}} {
		star := star(28, 17, 9)
		b := new(st.Builder).Run(star, 2.5).TieOff().Stop().Run(star.Offset(0.3), 2.2).TieOff().Stop()
		back := star.Sample(400)
		for i, j := 0, len(back)-1; i < j; i, j = i+1, j-1 {
			back[i], back[j] = back[j], back[i]
		}
		b.OpenZigzag(star, 3, 2.4).Trim().OpenZigzag(back, 3, 2.4).Trim()
		if c.satin {
			b.Satin(star, st.SatinAlong{Width: 4.2, Pitch: 0.4})
		}
		w := recognised(t, b.TieOff().Design()).Pieces
		if len(w) != 1 || w[0].Finish != c.want || w[0].Tack.Stop != 1 {
			t.Fatalf("%s: %d pieces %+v, want one held by stop 2 and finished with %q", c.name, len(w), w, c.want)
		}
	}
}

// star is a star of so many points, from a tip on.
func star(outer, inner float64, points int) st.Path {
	o, i := st.Circle(st.Point{}, outer).Sample(2*points), st.Circle(st.Point{}, inner).Sample(2*points)
	var corners []st.Point
	for k := range 2 * points {
		if k%2 == 0 {
			corners = append(corners, o[k])
		} else {
			corners = append(corners, i[k])
		}
	}
	return st.Polygon(corners...)
}
