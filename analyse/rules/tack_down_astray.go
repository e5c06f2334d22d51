package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

// AstrayRule is the rule tack-down-astray.
var AstrayRule = Rule{
	ID:       "tack-down-astray",
	Doc:      "a tack-down does not follow its placement line",
	Severity: report.Caution,
	Limits:   limits("tack-down-astray"),
	Requires: []*measure.Step{measure.Pieces},
	Check:    astray,
}

func astray(p *Pass) []report.Finding {
	limit := p.Limit("tack-down-astray")
	var out []report.Finding
	for _, w := range p.Pieces {
		if !w.Held || w.Like.Most <= limit || w.Finish == report.FinishRaw {
			continue // a raw edge is held well inside its line, so that it shows
		}
		q := furthest(w)
		out = append(out, report.Finding{Severity: report.Caution, Stop: w.Tack.Stop + 1, Piece: w.Number, AtMM: at(q), Measured: w.Like.Most, Limit: limit, Unit: "mm",
			Message: fmt.Sprintf("piece %d: the tack-down (stop %d) strays up to %.1f mm from its placement line (stop %d)", w.Number, w.Tack.Stop+1, w.Like.Most, w.Place.Stop+1),
			Advice:  "Lay the cloth with more to spare on all sides, and check that the tack-down caught it everywhere before you trim."})
	}
	return out
}

// furthest is the place of the tack-down that lies furthest from the placement
// line.
func furthest(w *applique.Piece) geom.Point {
	var q geom.Point
	far := -1.0
	g := w.Place.Near()
	for _, v := range w.Tack.Line {
		if d := g.Nearest(v, 2*applique.FollowWithin); d > far && d < 3*applique.FollowWithin {
			q, far = v, d
		}
	}
	return q
}
