package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

var wrongOrderRule = Rule{
	ID:       "wrong-order",
	Doc:      "the cover of a piece is sewn before its tack-down, so the cloth would hide it",
	Severity: report.Fault,
	Bounds:   "the tack-down must come first",
	Requires: []*measure.Step{measure.Pieces},
	Check:    wrongOrder,
}

func wrongOrder(p *Pass) []report.Finding {
	var out []report.Finding
	for _, w := range p.Pieces {
		if w.Hole || !w.CoverFirst {
			continue
		}
		cover, tack := w.Covers[0]+1, w.Tack.Stop+1
		out = append(out, report.Finding{Severity: report.Fault, Stop: cover, Piece: w.Number, AtMM: at(w.Tack.Line[0]), Unit: "stops",
			Message: fmt.Sprintf("piece %d: the order cannot work: stop %d covers its edge before stop %d tacks it down", w.Number, cover, tack),
			Advice:  fmt.Sprintf("Sew stop %d before stop %d if your machine lets you choose the stop, with the cloth laid before it and trimmed after it. Else ask the maker for a file in the right order.", tack, cover)})
	}
	return out
}
