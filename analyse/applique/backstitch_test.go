package applique

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// A line sewn forward two stitches and back one is one line, also where it goes round a
// sharp corner and its stitches cross there. A longer zigzag ends it.
func TestLineSewnForwardTwoAndBackOne(t *testing.T) {
	for _, c := range []struct {
		crossing int // stitches to and fro across the way, at the right corner
		want     bool
	}{{0, true}, {4, true}, {7, true}, {8, false}, {12, false}} {
		b := new(st.Builder)
		tree := st.Path{{X: 0, Y: 30}, {X: -12, Y: 6}, {X: -6, Y: 6}, {X: -20, Y: -20}, {X: 20, Y: -20}, {X: 6, Y: 6}, {X: 12, Y: 6}, {X: 0, Y: 30}}
		var way st.Path
		for s := 0.0; s <= tree.Length(); s += 1.9 {
			q, _ := tree.At(s)
			way = append(way, q)
		}
		way = append(way, way[0])
		b.Run(way[:2], 3)
		for i := 2; i < len(way); i++ {
			b.StitchTo(way[i])
			if c.crossing > 0 && i == len(way)/2 {
				for k := range c.crossing {
					b.StitchTo(st.Point{X: way[i].X + 0.8*float64(k), Y: way[i].Y + 2*float64(k%2)})
				}
			}
			if i+1 < len(way) {
				b.StitchTo(way[i-1])
			}
		}
		rec := recognised(t, b.TieOff().Design())
		closed := len(rec.Traces) == 1 && rec.Traces[0].Closed && rec.Traces[0].Kind == report.KindTripleRun
		if closed != c.want {
			t.Errorf("with %d stitches across it: %d traces, one closed line: %v", c.crossing, len(rec.Traces), closed)
			for i := range rec.Traces {
				k := &rec.Traces[i]
				t.Log(k.Kind, k.Closed, k.Length)
			}
		}
	}
}
