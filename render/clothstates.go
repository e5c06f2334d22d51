package render

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// clothStates tells for each stop what cloth comes into the hoop and what is cut,
// as the report's rehearsal has it.
type clothStates struct{ r *report.Report }

// sameCloth reports whether two entries are of one cloth.
func sameCloth(a, b report.Lying) bool { return a.What == b.What && a.Piece == b.Piece }

// before is the stop sewn before one, nil before the first.
func (c clothStates) before(s *report.Stop) *report.Stop {
	if i := s.Number - 2; i >= 0 && i < len(c.r.Stops) {
		return &c.r.Stops[i]
	}
	return nil
}

// came is what was laid for a stop.
func (c clothStates) came(s *report.Stop) []report.Lying {
	p := c.before(s)
	var out []report.Lying
	for _, l := range s.LiesInHoop {
		if l.State == report.Hooped || p != nil && slices.ContainsFunc(p.LiesInHoop, func(q report.Lying) bool { return sameCloth(l, q) }) {
			continue
		}
		out = append(out, l)
	}
	return out
}

// untrimmed are the pieces that lie in the hoop, not yet cut, from before a stop.
func (c clothStates) untrimmed(s *report.Stop) []report.Lying {
	came := c.came(s)
	var out []report.Lying
	for _, l := range s.LiesInHoop {
		if l.What == report.AppliqueCloth && (l.State == report.Laid || l.State == report.Held) && !slices.ContainsFunc(came, func(q report.Lying) bool { return sameCloth(l, q) }) {
			out = append(out, l)
		}
	}
	return out
}

// trimmedAfter reports whether a cloth that was laid for a stop is trimmed before the next.
func (c clothStates) trimmedAfter(l report.Lying, s *report.Stop) bool {
	return s.Number < len(c.r.Stops) && slices.ContainsFunc(c.r.Stops[s.Number].LiesInHoop, func(q report.Lying) bool {
		return sameCloth(l, q) && q.State == report.Trimmed
	})
}

// outline is a cloth as it is laid, and as it is when it is cut; both nil where
// the report does not know.
func (c clothStates) outline(l report.Lying, s *report.Stop) (laid, cut []geom.Point) {
	if l.What != report.AppliqueCloth {
		for _, q := range c.r.Cloths {
			if q.Kind != string(l.What) {
				continue
			}
			at := s
			if i := q.Stop - 1; i >= 0 && i < len(c.r.Stops) {
				at = &c.r.Stops[i]
			}
			return geom.BoxAround(boxOf(at).Middle(), q.WidthMM, q.HeightMM).Corners(), boxOf(at).Grown(1).Corners()
		}
		return nil, nil
	}
	p := c.piece(l.Piece)
	if p == nil {
		return nil, nil
	}
	cut = p.TackDown
	if len(p.CutEdge) > 0 {
		cut = p.CutEdge[0]
	}
	if len(cut) < 3 {
		cut = p.Placement
	}
	laid = cut
	// Cloth that is cut to shape beforehand is laid as it will lie.
	if len(cut) > 0 && l.State != report.Trimmed && p.CutSizeMM[0] > 0 {
		laid = geom.BoxAround(geom.BoxOf(cut).Middle(), p.CutSizeMM[0], p.CutSizeMM[1]).Corners()
	}
	return laid, cut
}

func (c clothStates) piece(number int) *report.Piece {
	for i := range c.r.Pieces {
		if c.r.Pieces[i].Number == number {
			return &c.r.Pieces[i]
		}
	}
	return nil
}

// cuts are the lines along which scissors go after a stop.
func (c clothStates) cuts(s *report.Stop) [][]geom.Point {
	var out [][]geom.Point
	for _, t := range s.AfterSteps {
		if t.Kind != report.StepTrim {
			continue
		}
		for _, n := range t.Pieces {
			if _, cut := c.outline(report.Lying{What: report.AppliqueCloth, Piece: n}, s); len(cut) > 2 {
				out = append(out, cut)
			}
		}
		if t.What != report.AppliqueCloth && t.What != "" {
			if _, cut := c.outline(report.Lying{What: t.What}, s); len(cut) > 2 {
				out = append(out, cut)
			}
		}
	}
	return out
}

// under is the cloth on the underside that the work at a stop is about, nil where
// that is on the face.
func (c clothStates) under(s *report.Stop) *report.Lying {
	for _, l := range c.came(s) {
		if l.Side == report.Underside {
			return &l
		}
	}
	return nil
}

// boxOf is the box round what a stop sews, in mm.
func boxOf(s *report.Stop) geom.Box {
	b := s.BoundsMM
	return geom.Box{Lo: geom.Point{X: b[0], Y: b[1]}, Hi: geom.Point{X: b[2], Y: b[3]}}
}
