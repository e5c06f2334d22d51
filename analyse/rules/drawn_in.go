package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

// DrawnInRule is the rule drawn-in.
var DrawnInRule = Rule{
	ID:       "drawn-in",
	Doc:      "a hold-down lies inside the first outline instead of outside it",
	Severity: report.Caution,
	Limits:   limits("drawn-in"),
	Requires: []*measure.Step{measure.Roles},
	Check:    drawnIn,
}

func drawnIn(p *Pass) []report.Finding {
	limit := p.Limit("drawn-in")
	var out []report.Finding
	for _, o := range p.Report.HoldDownOffsets {
		worst := min(o.Left, o.Right, o.Bottom, o.Top)
		if worst >= -limit-0.15 {
			continue
		}
		side := "left"
		switch worst {
		case o.Right:
			side = "right"
		case o.Bottom:
			side = "near"
		case o.Top:
			side = "far"
		}
		out = append(out, report.Finding{Severity: report.Caution, Stop: o.Stop, Measured: -worst, Limit: limit, Unit: "mm",
			Message: fmt.Sprintf("the hold-down of stop %d lies %.1f mm inside the first outline (stop %d) on the %s side", o.Stop, -worst, o.OutlineStop, side),
			Advice:  "Stitching draws the cloth in, so later lines should lie outside the first. Cut cloth, batting and backing larger, and trim the block after the last line."})
	}
	return out
}
