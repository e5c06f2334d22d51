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
	Requires: []*measure.Step{measure.Pieces},
	Check:    openOutline,
}

func openOutline(p *Pass) []report.Finding {
	limit := p.Limit("open-outline")
	var out []report.Finding
	for _, w := range p.Pieces {
		for _, t := range []*applique.Trace{w.Place, w.Tack} {
			if t.Closed || t.Opening <= limit || t == w.Tack && w.Tack == w.Place && w.Held {
				continue
			}
			a, b := t.Line[0], t.Line[len(t.Line)-1]
			if sewnAcross(p, t.Stop, a, b) {
				continue
			}
			if under(p, w, a) && under(p, w, b) {
				continue
			}
			out = append(out, report.Finding{Severity: report.Caution, Stop: t.Stop + 1, Piece: w.Number, AtMM: at(geom.Middle(a, b)), Measured: t.Opening, Limit: limit, Unit: "mm",
				Message: fmt.Sprintf("piece %d: its line in stop %d is open by %s and no other piece lies over the opening", w.Number, t.Stop+1, p.units().Stitch(t.Opening)),
				Advice:  "The cloth is not held there. Fix it with a little tape or spray away from the needle's path, and look whether the cover closes over it."})
			break
		}
	}
	return out
}

// acrossWithin is how near in mm a stop's stitches must lie to an opening everywhere to
// hold the cloth there: the ends of a zigzag may meet in a lead or a tie.
const acrossWithin = 1.5

// sewnAcross reports whether a stop sews along the opening of a line from a to b.
func sewnAcross(p *Pass, stop int, a, b geom.Point) bool {
	reach := acrossWithin * p.Scale
	lines := p.Lines(stop)
	for _, q := range geom.Resample([]geom.Point{a, b}, reach/2) {
		if !lines.Within(q, reach) {
			return false
		}
	}
	return true
}

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
