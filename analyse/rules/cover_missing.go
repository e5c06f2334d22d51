package rules

import (
	"fmt"
	"slices"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

var coverMissingRule = Rule{
	ID:       "cover-missing",
	Doc:      "a piece has no cover, and other pieces of the design have one",
	Severity: report.Caution,
	Bounds:   "any piece without, where others have a cover",
	Requires: []*measure.Step{measure.Pieces},
	Check:    coverMissing,
}

// coverMissing tells of pieces that are left raw, or held by an open zigzag alone,
// beside pieces that are covered.
func coverMissing(p *Pass) []report.Finding {
	covered := slices.ContainsFunc(p.Pieces, func(w *applique.Piece) bool { return !w.Hole && len(w.Covers) > 0 })
	var out []report.Finding
	for _, w := range p.Pieces {
		over := "nothing covers its edge after the tack-down"
		switch {
		case w.Hole || len(w.Covers) > 0 || !covered:
			continue
		case w.Finish == report.FinishMissing:
		case w.Finish == report.FinishZigzag:
			over = "nothing but an open zigzag covers its edge"
		default:
			continue
		}
		out = append(out, report.Finding{Severity: report.Caution, Stop: w.Tack.Stop + 1, Piece: w.Number, AtMM: at(w.Tack.Line[0]), Unit: "covers", Limit: 1,
			Message: fmt.Sprintf("piece %d: %s (stop %d), and other pieces have a cover: the raw edge shows all round", w.Number, over, w.Tack.Stop+1),
			Advice:  "Ask the pattern whether that is meant. If not, a stop is missing from this file: try another format or size from the pack, or ask its maker."})
	}
	return out
}
