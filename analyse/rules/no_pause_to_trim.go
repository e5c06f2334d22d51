package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

var noPauseRule = Rule{
	ID:       "no-pause-to-trim",
	Doc:      "tack-down and cover are sewn in one stop, so the piece cannot be trimmed between",
	Severity: report.Caution,
	Bounds:   "a colour stop or halt must lie between",
	Requires: []*measure.Step{measure.Pieces},
	Check:    noPause,
}

// noPause tells of pieces whose cover follows their tack-down in the same stop. A
// piece without any tack-down is cut to its line beforehand, and needs no pause.
func noPause(p *Pass) []report.Finding {
	var out []report.Finding
	for _, w := range p.Pieces {
		if w.Hole || !w.TackCover {
			continue
		}
		stop := w.Covers[0] + 1
		out = append(out, report.Finding{Severity: report.Caution, Stop: stop, Piece: w.Number, AtMM: at(w.Place.Line[0]), Unit: "stops",
			Message: fmt.Sprintf("piece %d: tack-down and cover are both sewn in stop %d, with no pause between to trim the cloth", w.Number, stop),
			Advice:  "Stop the machine by hand when the tack-down is sewn, take the hoop off and trim; or cut the piece to its shape before you lay it."})
	}
	return out
}
