package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

var noPauseRule = Rule{
	ID:       "no-pause-to-trim",
	Doc:      "the cover follows with no stop after the tack-down, so the piece cannot be trimmed",
	Severity: report.Caution,
	Bounds:   "a colour stop or halt must lie between",
	Requires: []*measure.Step{measure.Pieces},
	Check:    noPause,
}

func noPause(p *Pass) []report.Finding {
	var out []report.Finding
	for _, w := range p.Pieces {
		if w.Held || w.Hole || len(w.Covers) == 0 {
			continue
		}
		stop := w.Covers[0] + 1
		f := report.Finding{Severity: report.Caution, Stop: stop, Piece: w.Number, AtMM: at(w.Place.Line[0]), Unit: "stops",
			Message: fmt.Sprintf("piece %d: after the placement line (stop %d) nothing but the satin of stop %d follows: no pause to trim the cloth", w.Number, w.Place.Stop+1, stop),
			Advice:  "Cut this piece to its shape before you lay it (see the template), and fix it inside the line."}
		if w.TackCover {
			f.Message = fmt.Sprintf("piece %d: tack-down and cover are both sewn in stop %d, with no pause between to trim the cloth", w.Number, stop)
			f.Advice = "Stop the machine by hand when the tack-down is sewn, take the hoop off and trim; or cut the piece to its shape before you lay it."
		}
		out = append(out, f)
	}
	return out
}
