package render

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// clothStates tells for each stop what cloth comes into the hoop and what is cut.
type clothStates struct{ r *report.Report }

func newClothStates(r *report.Report) clothStates { return clothStates{r} }

// laidPiece is the outline of a piece as it is laid and as it is cut.
type laidPiece struct{ laid, cut []geom.Point }

// block is the outline of the block cloth that is laid before a stop, nil where
// there is none.
func (c clothStates) block(s *report.Stop) []geom.Point {
	for _, q := range c.r.Cloths {
		if q.Stop == s.Number && q.Piece == 0 && q.Kind == "block cloth" {
			return boxLine(middleOf(s.BoundsMM), q.WidthMM, q.HeightMM)
		}
	}
	return nil
}

// pieces are those laid before a stop.
func (c clothStates) pieces(s *report.Stop) []laidPiece {
	var out []laidPiece
	for i := range c.r.Pieces {
		p := &c.r.Pieces[i]
		if c.laidAt(p) != s.Number {
			continue
		}
		cut := p.CutEdge
		if len(cut) < 3 {
			cut = p.Placement
		}
		q := laidPiece{cut: cut, laid: cut}
		if b, ok := boundsOf(cut); ok && p.TackDownStop == s.Number && p.CutSizeMM[0] > 0 {
			q.laid = boxLine(middleOf(b), p.CutSizeMM[0], p.CutSizeMM[1])
		}
		out = append(out, q)
	}
	return out
}

// laidAt is the stop before which a piece is laid.
func (c clothStates) laidAt(p *report.Piece) int {
	for _, q := range c.r.Cloths {
		if q.Piece == p.Number {
			return q.Stop
		}
	}
	if p.TackDownStop > 0 {
		return p.TackDownStop
	}
	return p.CoverStop
}

// cuts are the lines along which scissors go after a stop.
func (c clothStates) cuts(s *report.Stop) [][]geom.Point {
	if !slices.ContainsFunc(s.AfterSteps, func(t report.Step) bool { return t.Kind == report.StepTrim }) {
		return nil
	}
	var out [][]geom.Point
	for i := range c.r.Pieces {
		if p := &c.r.Pieces[i]; p.TackDownStop == s.Number && len(p.CutEdge) > 2 {
			out = append(out, p.CutEdge)
		}
	}
	return out
}

// under reports whether the cloth of a stop lies on the underside of the hoop:
// batting and backing that come after the block was begun.
func (c clothStates) under(s *report.Stop) bool {
	switch s.Role {
	case report.RoleBackingHoldDown:
		return true
	case report.RoleBattingHoldDown:
		for i := range c.r.Stops {
			if q := &c.r.Stops[i]; q.Number < s.Number && q.Role != report.RoleClothOutline {
				return true
			}
		}
	}
	return false
}

func middleOf(b [4]float64) geom.Point { return geom.Point{X: (b[0] + b[2]) / 2, Y: (b[1] + b[3]) / 2} }

func boxLine(middle geom.Point, w, h float64) []geom.Point {
	return []geom.Point{
		{X: middle.X - w/2, Y: middle.Y - h/2}, {X: middle.X + w/2, Y: middle.Y - h/2},
		{X: middle.X + w/2, Y: middle.Y + h/2}, {X: middle.X - w/2, Y: middle.Y + h/2},
	}
}

func boundsOf(line []geom.Point) (b [4]float64, ok bool) {
	for i, q := range line {
		if i == 0 {
			b = [4]float64{q.X, q.Y, q.X, q.Y}
		}
		b[0], b[2] = min(b[0], q.X), max(b[2], q.X)
		b[1], b[3] = min(b[1], q.Y), max(b[3], q.Y)
	}
	return b, len(line) > 0
}
