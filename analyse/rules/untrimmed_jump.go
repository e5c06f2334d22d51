package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

// UntrimmedRule is the rule untrimmed-jump.
var UntrimmedRule = Rule{
	ID:       "untrimmed-jump",
	Doc:      "a thread left loose over the cloth between two sewn parts",
	Severity: report.Caution,
	Limits:   limits("untrimmed-jump"),
	Bounds:   "a long way in a format without a mark for cuts, where the file does not show which it means, is a note: it depends on the machine's setting",
	Requires: []*measure.Step{measure.Travelling},
	Check:    untrimmed,
}

func untrimmed(p *Pass) []report.Finding {
	limit := p.Limit("untrimmed-jump")
	var out []report.Finding
	for i, threads := range p.Travel.Loose {
		if f, ok := looseThreads(p, i+1, threads, limit, false); ok {
			out = append(out, f)
		}
	}
	if limit < 0 { // all are asked for, and what is not sure has no figure
		return out
	}
	for i, threads := range p.Travel.Loose {
		if f, ok := looseThreads(p, i+1, threads, limit, true); ok {
			out = append(out, f)
		}
	}
	return out
}

// looseThreads tells of a stop's threads that are left, or of those that the file leaves
// it to the machine's setting to cut.
func looseThreads(p *Pass, stop int, threads []measure.Loose, limit float64, unsure bool) (report.Finding, bool) {
	n, worst := 0, measure.Loose{}
	var all float64
	for _, l := range threads {
		if l.Unsure != unsure || l.Length <= limit {
			continue
		}
		n++
		all += l.Length
		if l.Length > worst.Length {
			worst = l
		}
	}
	if n == 0 {
		return report.Finding{}, false
	}
	is, than := p.units().StitchPast(worst.Length, limit)
	howLong, advice := is, "Cut this thread by hand before later stitching catches it"
	if n > 1 {
		howLong, advice = fmt.Sprintf("%s, %s together", is, p.units().Stretch(all)), "Cut these threads by hand before later stitching catches them"
	}
	f := report.Finding{Severity: report.Caution, Stop: stop, AtMM: at(geom.Middle(worst.From, worst.To)), Measured: worst.Length, Limit: limit, Unit: "mm",
		Message: longer(n, "thread longer than "+than+" is left loose", "threads longer than "+than+" are left loose", howLong),
		Advice:  advice + ": machine stopped, scissors flat. A machine that trims by itself may do it for you."}
	if unsure {
		f.Severity = report.Note
		f.Message = longer(n, "way between sewn parts is longer than "+than, "ways between sewn parts are longer than "+than, howLong) + "; whether the thread is cut there depends on the machine's setting"
		f.Advice = "The file has no mark for a cut here: it says only that the needle goes a long way. The machine's manual says after how many jumps it cuts, or whether it cuts at all; what it leaves, cut by hand with the machine stopped."
	}
	return f, true
}
