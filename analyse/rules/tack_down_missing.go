package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

var tackDownMissingRule = Rule{
	ID:       "tack-down-missing",
	Doc:      "a piece has no tack-down, and most pieces of the design have one",
	Severity: report.Caution,
	Bounds:   "any piece without, where as many others at least have a tack-down",
	Requires: []*measure.Step{measure.Pieces},
	Check:    tackDownMissing,
}

// tackDownMissing tells of pieces that nothing but their cover holds. A design whose
// pieces are cut beforehand has none with a tack-down, or few; one piece without among
// others is a stop that was lost (common practice, no single source).
func tackDownMissing(p *Pass) []report.Finding {
	held, loose := 0, 0
	for _, w := range p.Pieces {
		switch {
		case w.Hole:
		case w.PreCut, w.TackLost:
			loose++
		case w.Held && len(w.Covers) > 0:
			held++
		}
	}
	if held < loose {
		return nil
	}
	var out []report.Finding
	for _, w := range p.Pieces {
		if w.TackLost && !w.Hole && !w.MayBePlain() {
			out = append(out, report.Finding{Severity: report.Caution, Stop: w.Tack.Stop + 1, Piece: w.Number, AtMM: at(w.Tack.Line[0]), Unit: "tack-downs", Limit: 1,
				Message: fmt.Sprintf("piece %d: nothing tacks its cloth down before its blanket stitch (stop %d), and other pieces have a tack-down", w.Number, w.Tack.Stop+1),
				Advice:  "Ask the pattern whether the blanket stitch alone is to hold this piece. If so, fix the cloth well inside its line before that stop; if not, a stop is missing from this file: try another format or size from the pack, or ask its maker."})
			continue
		}
		if w.Hole || !w.PreCut || len(w.Covers) == 0 || w.MayBePlain() {
			continue
		}
		out = append(out, report.Finding{Severity: report.Caution, Stop: w.Covers[0] + 1, Piece: w.Number, AtMM: at(w.Place.Line[0].Times(p.Scale)), Unit: "tack-downs", Limit: 1,
			Message: fmt.Sprintf("piece %d: nothing tacks its cloth down before its cover (stop %d), and other pieces have a tack-down", w.Number, w.Covers[0]+1),
			Advice:  "Ask the pattern whether this piece is cut to its line beforehand. If so, fix it well inside its line before that stop; if not, a stop is missing from this file: try another format or size from the pack, or ask its maker."})
	}
	return out
}
