package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// UntrimmedRule is the rule untrimmed-jump.
var UntrimmedRule = Rule{
	ID:       "untrimmed-jump",
	Doc:      "a thread left loose over the cloth between two sewn parts",
	Severity: report.Caution,
	Limits:   limits("untrimmed-jump"),
	Requires: []*measure.Step{measure.Travelling},
	Check:    untrimmed,
}

func untrimmed(p *Pass) []report.Finding {
	limit := p.Limit("untrimmed-jump")
	var out []report.Finding
	for i, threads := range p.Travel.Loose {
		n, worst := 0, measure.Loose{}
		var all float64
		for _, l := range threads {
			if l.Length <= limit {
				continue
			}
			n++
			all += l.Length
			if l.Length > worst.Length {
				worst = l
			}
		}
		if n == 0 {
			continue
		}
		is, than := p.units().StitchPast(worst.Length, limit)
		out = append(out, report.Finding{Severity: report.Caution, Stop: i + 1, AtMM: at(geom.Middle(worst.From, worst.To)), Measured: worst.Length, Limit: limit, Unit: "mm",
			Message: fmt.Sprintf("%s longer than %s left loose, the longest %s, %s in all", words.Plural(n, "thread is", "threads are"), than, is, p.units().Stretch(all)),
			Advice:  "Cut these threads by hand before later stitching catches them: machine stopped, scissors flat. A machine that trims by itself may do it for you."})
	}
	return out
}
