package rules

import (
	"fmt"
	"slices"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

var sameColourRule = Rule{
	ID:       "same-colour-pause",
	Doc:      "hand work lies between two stops of one colour, where some machines run straight on",
	Severity: report.Caution,
	Bounds:   "equal colours",
	Requires: []*measure.Step{measure.Hands},
	Check:    sameColourPause,
}

// sameColourPause looks where hands must work between two stops. Without colours
// in the file there is nothing to compare, and the machine stops at every change.
func sameColourPause(p *Pass) []report.Finding {
	var out []report.Finding
	if p.Report.ColoursFrom != "" {
		return nil // the file itself has none, so the machine stops at every change
	}
	stops := p.Report.Stops
	for i := 1; i < len(stops); i++ {
		a, b := &stops[i-1], &stops[i]
		if a.Colour == nil || b.Colour == nil || *a.Colour != *b.Colour || !hands(a.AfterSteps) && !hands(b.BeforeSteps) || b.Halt {
			continue
		}
		out = append(out, report.Finding{Severity: report.Caution, Stop: b.Number, Unit: "colour",
			Message: fmt.Sprintf("stops %d and %d have the same colour, and there is hand work between them", a.Number, b.Number),
			Advice:  "Some machines join neighbouring stops of one colour and do not pause. Watch for the end of the first, or give one of them another colour on the machine."})
	}
	return out
}

func hands(steps []report.Step) bool {
	return slices.ContainsFunc(steps, func(s report.Step) bool { return s.Kind.Hands() })
}
