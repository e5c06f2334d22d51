package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

var emptyStopRule = Rule{
	ID:       "empty-stop",
	Doc:      "the machine stops where there is nothing to sew before the next stop",
	Severity: report.Note,
	Bounds:   "any, between the first stop and the last",
	Requires: []*measure.Step{measure.Sizes},
	Check:    emptyStop,
}

// emptyStop tells of parts that sew nothing. Before the first stop and after the
// last they are how some writers begin and end a file.
func emptyStop(p *Pass) []report.Finding {
	var out []report.Finding
	for _, after := range p.Sewn.Empty {
		if after < 1 || after >= len(p.Report.Stops) {
			continue
		}
		if n := len(out); n > 0 && out[n-1].Stop == after+1 {
			out[n-1].Measured++
			continue
		}
		out = append(out, report.Finding{Severity: report.Note, Stop: after + 1, Measured: 1, Unit: "stops"})
	}
	for i := range out {
		f := &out[i]
		n := int(f.Measured)
		often := "once"
		if n > 1 {
			often = fmt.Sprintf("%d times", n)
		}
		f.Message = fmt.Sprintf("between stops %d and %d the machine stops %s with nothing to sew", f.Stop-1, f.Stop, often)
		f.Advice = fmt.Sprintf("Go on to the next thread. From here on the machine's own numbers may run %d ahead of those on the card.", n)
	}
	return out
}
