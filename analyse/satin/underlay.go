package satin

import (
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/stitches"
)

const (
	underlayLooked  = 6   // passages before a column
	underlaySamples = 8   // needle points of each, most of which lie under the column
	underlayPlaces  = 200 // stations of the column they are held against
	underlaySlack   = 0.3 // mm past the rails
	underlayLeast   = 0.5 // of the length of the column
)

// underlay lists the kinds of stitching that lie under the column and were sewn
// before it in the same thread path.
func (w *columnWork) underlay(s *stitches.Sewn, passage int, c *report.SatinColumn) []report.Kind {
	out := []report.Kind{}
	g := &s.Passages[passage]
	w.ground.known = false
	for k := passage - 1; k >= 0 && k >= passage-underlayLooked; k-- {
		u := &s.Passages[k]
		if u.Stop != g.Stop {
			break
		}
		if u.Kind == report.KindTie || u.Kind == report.KindTravel || u.LengthMM < underlayLeast*c.LengthMM {
			continue
		}
		if !w.ground.known {
			w.ground.lay(c)
		}
		under := 0
		for i := range underlaySamples {
			if w.ground.holds(s.Track.Pts[u.From+(u.To-1-u.From)*i/(underlaySamples-1)]) {
				under++
			}
		}
		if 2*under > underlaySamples {
			out = append(out, u.Kind)
		}
	}
	return out
}

// ground is discs along the centre line of a column, as wide as it is.
type ground struct {
	known   bool
	box     geom.Box
	middles []geom.Point
	reach2  []float64 // mm2, squares of their radii
}

func (g *ground) lay(c *report.SatinColumn) {
	g.known, g.middles, g.reach2 = true, g.middles[:0], g.reach2[:0]
	step := 1 + len(c.Centre)/underlayPlaces
	slack := underlaySlack + float64(step-1)*c.Pitch.Median/2
	var most float64
	for j := 0; j < len(c.Centre); j += step {
		reach := geom.Distance(c.Left[j], c.Right[j])/2 + slack
		g.middles, g.reach2 = append(g.middles, c.Centre[j]), append(g.reach2, reach*reach)
		most = max(most, reach)
	}
	g.box = geom.BoxOf(g.middles).Grown(most)
}

func (g *ground) holds(q geom.Point) bool {
	if q.X < g.box.Lo.X || q.X > g.box.Hi.X || q.Y < g.box.Lo.Y || q.Y > g.box.Hi.Y {
		return false
	}
	for j, m := range g.middles {
		if v := q.Sub(m); v.Dot(v) <= g.reach2[j] {
			return true
		}
	}
	return false
}
