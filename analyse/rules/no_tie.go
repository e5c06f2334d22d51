package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

var noTieRule = Rule{
	ID:       "no-tie",
	Doc:      "a thread that starts or ends without lock stitches",
	Severity: report.Note,
	Limits:   limits("no-tie"),
	Requires: []*measure.Step{measure.Travelling},
	Check:    noTie,
}

func noTie(p *Pass) []report.Finding {
	limit := p.Limit("no-tie")
	var out []report.Finding
	for i, ends := range p.Travel.Untied {
		if len(ends) == 0 {
			continue
		}
		out = append(out, report.Finding{Severity: report.Note, Stop: i + 1, AtMM: at(ends[0]), Measured: float64(len(ends)), Limit: limit, Unit: "ends",
			Message: fmt.Sprintf("%s without lock stitches", words.Plural(len(ends), "thread end", "thread ends")),
			Advice:  "Let the machine tie off here if it can, or leave long tails and knot them. Stitching that is covered later needs none."})
	}
	return out
}
