package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
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
	limit := p.Limit("stacked-layers")
	is, most := words.Past(d.MaxLayers, limit, 1)
	return dense(limit, d.MaxLayers, d.MaxLayersAt, d.MaxLayersStops, "layers",
		fmt.Sprintf("%s layers of thread lie on one another over %s, and more than %s is too many", is, p.units().Spot(), most))
}
