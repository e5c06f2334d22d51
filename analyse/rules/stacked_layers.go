package rules

import (
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

// StackedRule is the rule stacked-layers.
var StackedRule = Rule{
	ID:       "stacked-layers",
	Doc:      "so much thread on one spot that it stands stiff and bends needles",
	Severity: report.Fault,
	Limits:   limits("stacked-layers"),
	Bounds:   "over 3 x 3 mm",
	Requires: []*measure.Step{measure.DensityGrid},
	Check:    stacked,
}

func stacked(p *Pass) []report.Finding {
	d := &p.Report.Density
	return dense(p.Limit("stacked-layers"), d.MaxLayers, d.MaxLayersAt, d.MaxLayersStops, "layers",
		"%s layers of thread lie on one another over 3 x 3 mm, and more than %s is too many; from %s")
}
