package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

var (
	UntrimmedRule = Rule{ID: "untrimmed-jump", Doc: "a thread left loose over the cloth between two sewn parts",
		Limit: inWords("untrimmed-jump"), Check: Untrimmed}
	noTieRule = Rule{ID: "no-tie", Doc: "a thread that starts or ends without lock stitches",
		Limit: inWords("no-tie"), Check: NoTie}
)

func Untrimmed(p *measure.Pass) []report.Finding {
	limit := p.Settings.Limit("untrimmed-jump")
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
		out = append(out, report.Finding{Severity: report.Caution, Stop: i + 1, AtMM: at(geom.Middle(worst.From, worst.To)), Measured: worst.Length, Limit: limit, Unit: "mm",
			Message: fmt.Sprintf("%s longer than %.0f mm left loose, the longest %.0f mm, %.0f mm in all", words.Plural(n, "thread", "threads"), limit, worst.Length, all),
			Advice:  "Cut these threads by hand before later stitching catches them: machine stopped, scissors flat. A machine that trims by itself may do it for you."})
	}
	return out
}

func NoTie(p *measure.Pass) []report.Finding {
	limit := p.Settings.Limit("no-tie")
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
