package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// OutsideHoopRule is the rule outside-hoop.
var OutsideHoopRule = Rule{
	ID:       "outside-hoop",
	Doc:      "the design does not fit the hoop given",
	Severity: report.Fault,
	Bounds:   "the hoop's field, turned by a quarter if that helps",
	Requires: []*measure.Step{measure.Sizes},
	Check:    outsideHoop,
}

func outsideHoop(p *Pass) []report.Finding {
	w, h, r := p.Settings.HoopWidthMM, p.Settings.HoopHeightMM, p.Report
	hoop := words.Hoop{WidthMM: w, HeightMM: h}
	ok, turned := hoop.Holds(r.WidthMM, r.HeightMM)
	if !hoop.Given() || ok && !turned {
		return nil
	}
	size, field := p.units().Size(r.WidthMM, r.HeightMM), p.units().Field(w, h)
	if turned {
		return []report.Finding{{Severity: report.Note, Measured: r.WidthMM, Limit: w, Unit: "mm",
			Message: fmt.Sprintf("the design, %s, fits the hoop of %s only when turned by a quarter", size, field),
			Advice:  "Turn the design on the machine, and lay the cloth to suit."}}
	}
	return []report.Finding{{Severity: report.Fault, Measured: r.WidthMM, Limit: w, Unit: "mm",
		Message: fmt.Sprintf("the design, %s, does not fit the hoop of %s either way round", size, field),
		Advice:  "Take a smaller size from the pack, or a larger hoop."}}
}
