package measure

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// Roles puts what each colour stop is for into the report, and how far later
// lines round the block lie outside the first.
var Roles = &Step{
	Name:     "roles",
	Doc:      "what each colour stop is for, with a confidence and a reason",
	Requires: []*Step{Pieces},
	Run:      addRoles,
}

func addRoles(p *Pass) {
	for i := range p.Report.Stops {
		s, k := &p.Report.Stops[i], &p.Recognised.Roles[i]
		s.Role, s.Confidence, s.Reason, s.NextReading = k.Role, k.Confidence, k.Reason, k.Next
		s.Parts = append(s.Parts, k.Parts...)
	}
	p.offsets()
}

// offsets records how far later outlines lie outside the first one, by side.
func (p *Pass) offsets() {
	all := p.Recognised.Round
	if len(all) < 2 {
		return
	}
	a := p.lineBox(all[0])
	for _, t := range all[1:] {
		b := p.lineBox(t)
		side := [4]float64{a.Lo.X - b.Lo.X, b.Hi.X - a.Hi.X, a.Lo.Y - b.Lo.Y, b.Hi.Y - a.Hi.Y} // left, right, bottom, top
		if k := gapSide(t, a); k >= 0 {
			// Nothing is sewn in the gap: it is as its line beside it is.
			side[k] = math.Inf(1)
			side[k] = slices.Min(side[:])
		}
		p.Report.HoldDownOffsets = append(p.Report.HoldDownOffsets, report.HoldDownOffset{
			OutlineStop: all[0].Stop + 1, Stop: t.Stop + 1,
			Left: p.Scale * side[0], Right: p.Scale * side[1], Bottom: p.Scale * side[2], Top: p.Scale * side[3]})
	}
}

// lineBox is the box round a line, for a zigzag round the middle of its teeth: that is
// as far inside its needle points as half a tooth is long, where the middle line of
// recognition wavers at corners.
func (p *Pass) lineBox(t *applique.Trace) geom.Box {
	if t.Kind != report.KindOpenZigzag {
		return t.Box
	}
	track := &p.Recognised.Sewn.Track
	var pts []geom.Point
	var teeth []float64
	for _, s := range t.Spans {
		for i := s[0]; i < s[1]; i++ {
			if track.Kind[i] != t.Kind {
				continue
			}
			pts = append(pts, track.Pts[i])
			if i > s[0] && i+1 < s[1] {
				teeth = append(teeth, geom.DistanceToSegment(track.Pts[i], track.Pts[i-1], track.Pts[i+1]))
			}
		}
	}
	if len(teeth) == 0 {
		return t.Box
	}
	return geom.BoxOf(pts).Grown(-geom.QuantileOf(teeth, 0.5) / 2)
}

// leastGapAside is how wide in mm an opening of a line is that may take a whole side of a
// round outline: less is where its ends meet.
const leastGapAside = 10.0

// gapSide is the side of the first outline at which a line is left open, as a seam is to
// turn a block through: left, right, bottom or top; -1 where it is closed.
func gapSide(t *applique.Trace, first geom.Box) int {
	if t.Closed || t.Opening < leastGapAside {
		return -1
	}
	q := geom.Middle(t.Line[0], t.Line[len(t.Line)-1])
	off := []float64{q.X - first.Lo.X, first.Hi.X - q.X, q.Y - first.Lo.Y, first.Hi.Y - q.Y}
	return slices.Index(off, slices.Min(off))
}
