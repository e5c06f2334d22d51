package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

// OpenOutlineRule is the rule open-outline.
var OpenOutlineRule = Rule{
	ID:       "open-outline",
	Doc:      "a placement line or tack-down is open and nothing lies over its opening",
	Severity: report.Caution,
	Limits:   limits("open-outline"),
	Bounds:   "what the stop sews near an opening narrows it; a note from two thirds of the limit, and where a placement line is open that holds no cloth",
	Requires: []*measure.Step{measure.Pieces},
	Check:    openOutline,
}

// noteShare is the share of the limit past which an opening is a note: it is about as wide as
// a stitch is long.
const noteShare = 2.0 / 3

func openOutline(p *Pass) []report.Finding {
	limit := p.Limit("open-outline")
	var out []report.Finding
	for _, w := range p.Pieces {
		if w.Tack != w.Place {
			if f, ok := openIn(p, w, w.Tack, limit); ok {
				if f.Measured <= limit {
					f.Severity = report.Note
					f.Advice = "It is hardly wider than a stitch: see that the cloth lies flat there before the cover is sewn."
				}
				out = append(out, f)
				continue
			}
		} else if w.Held {
			continue
		}
		// The line shows the place, and holds nothing.
		if f, ok := openIn(p, w, w.Place, limit); ok && limit >= 0 {
			f.Severity = report.Note
			f.Advice = "The line shows the place of the cloth, and not there. Lay the cloth by the rest of it, with some to spare on that side."
			out = append(out, f)
		}
	}
	return out
}

// openIn tells of the opening of a line of a piece, where it is past what is noted.
func openIn(p *Pass, w *applique.Piece, t *applique.Trace, limit float64) (report.Finding, bool) {
	if t.Closed {
		return report.Finding{}, false
	}
	a, b := t.Line[0], t.Line[len(t.Line)-1]
	free := freeAcross(p, t, a, b)
	if free <= noteShare*limit || under(p, w, a) && under(p, w, b) {
		return report.Finding{}, false
	}
	return report.Finding{Severity: report.Caution, Stop: t.Stop + 1, Piece: w.Number, AtMM: at(geom.Middle(a, b)), Measured: free, Limit: limit, Unit: "mm",
		Message: fmt.Sprintf("piece %d: its line in stop %d is open by %s and no other piece lies over the opening", w.Number, t.Stop+1, p.units().Stitch(free)),
		Advice:  "The cloth is not held there. Fix it with a little tape or spray away from the needle's path, and look whether the cover closes over it."}, true
}

// freeAcross is how wide in mm the opening of a line from a to b is but for what its stop
// sews near it: that holds the cloth too. The ends of a zigzag may meet in a lead or a tie.
func freeAcross(p *Pass, t *applique.Trace, a, b geom.Point) float64 {
	lines := p.Lines(t.Stop)
	half := lines.Nearest(geom.Middle(a, b), t.Opening/2)
	for _, q := range geom.Resample([]geom.Point{a, b}, max(acrossStep*p.Scale, t.Opening/mostAcross)) {
		half = max(half, lines.Nearest(q, t.Opening/2))
	}
	return min(2*half, t.Opening)
}

const (
	acrossStep = 0.25 // mm between the places of an opening that are looked at
	mostAcross = 400  // such places
)

// under reports whether a place lies under another piece laid later, or next to
// its edge.
func under(p *Pass, w *applique.Piece, q geom.Point) bool {
	for _, v := range p.Pieces {
		if v == w || v.Hole || v.Tack.Stop <= w.Place.Stop {
			continue
		}
		if v.Tack.Closed && v.Tack.Inside().Has(q) || v.Tack.Near().Within(q, applique.FollowWithin) {
			return true
		}
	}
	return false
}
