package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

var headerDisagreesRule = Rule{
	ID:       "header-disagrees",
	Doc:      "the file's header and its stitches tell different figures",
	Severity: report.Note,
	Bounds:   "any difference",
	Requires: []*measure.Step{measure.Sizes},
	Check:    headerDisagrees,
}

func headerDisagrees(p *Pass) []report.Finding {
	c, n := p.Sewn.Design.Claims, p.Sewn.Design.Counts()
	var out []report.Finding
	say := func(what string, claimed, is int, unit string) {
		out = append(out, report.Finding{Severity: report.Note, Measured: float64(is), Limit: float64(claimed), Unit: unit,
			Message: fmt.Sprintf("the file's header says %d %s, its stitches say %d", claimed, what, is),
			Advice:  "Stopcard counts the stitches themselves. A machine may show the header's figure."})
	}
	// Writers count either the changes or the threads, which are one more.
	if c.ColourStops >= 0 && c.ColourStops != n.ColourStops && c.ColourStops != n.ColourStops+1 {
		say("colour changes", c.ColourStops, n.ColourStops, "changes")
	}
	if c.Stitches >= 0 && c.Stitches != n.Stitches {
		say("stitches", c.Stitches, n.Stitches, "stitches")
	}
	return out
}
