package applique

import (
	"testing"

	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// A line that the stop of a cover sews first is a tack-down whose pause was lost where the
// thread is cut or tied off after it, and an underlay where the satin goes on from it.
func TestTackDownInTheStopOfItsCover(t *testing.T) {
	ring, in := st.Circle(st.Point{}, 30), st.Circle(st.Point{}, 29.5)
	satin := st.SatinAlong{Width: 4, Pitch: 0.4}
	for _, c := range []struct {
		name string
		sew  func(b *st.Builder)
		want bool
	}{
		{"cut", func(b *st.Builder) { b.Run(in, 2).Trim() }, true},
		{"tied off", func(b *st.Builder) { b.Run(in, 2).TieOff() }, true},
		{"tied off and cut", func(b *st.Builder) { b.Run(in, 2).TieOff().Trim() }, true},
		{"neither", func(b *st.Builder) { b.Run(in, 2) }, false},
		{"tied in before", func(b *st.Builder) { b.TieOff().Run(in, 2) }, false},
	} {
		b := new(st.Builder).Run(ring, 2.5).TieOff().Stop()
		c.sew(b)
		rec := recognised(t, b.Satin(ring, satin).TieOff().Design())
		if len(rec.Pieces) != 1 || rec.Pieces[0].TackCover != c.want || rec.Pieces[0].PreCut == c.want {
			t.Errorf("%s: %d pieces, want one whose tack-down runs on into its cover: %v", c.name, len(rec.Pieces), c.want)
		}
	}
}
