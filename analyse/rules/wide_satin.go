package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// WideSatinRule is the rule wide-satin.
var WideSatinRule = Rule{
	ID:       "wide-satin",
	Doc:      "satin crossings so wide that they snag",
	Severity: report.Caution,
	Limits:   limits("wide-satin"),
	Bounds:   "crossings that are split into several stitches are as wide as they like",
	Requires: []*measure.Step{measure.Columns},
	Check:    wideSatin,
}

func wideSatin(p *Pass) []report.Finding {
	limit := p.Limit("wide-satin")
	return worstColumns(p, func(c *report.SatinColumn) (judged, bool) {
		var length float64
		for k := 1; k < len(c.Centre); k++ {
			if c.Widths[k] > limit {
				length += geom.Distance(c.Centre[k-1], c.Centre[k])
			}
		}
		return judged{c.Width.Max, limit, length, c.Width.MaxAt}, c.Width.Max > limit+byArithmetic && !c.Split
	}, func(_ *report.Stop, _ *report.SatinColumn, n int, length float64, worst judged) report.Finding {
		is, than := p.units().StitchPast(worst.value, limit)
		return report.Finding{Severity: report.Caution, Unit: "mm",
			Message: fmt.Sprintf("%s wider than %s along %s; the widest place is %s across in one stitch",
				words.Plural(n, "satin column is", "satin columns are"), than, p.units().Stretch(length), is),
			Advice: "Such long stitches snag in use and in the wash, and some machines cannot sew them. Do not enlarge."}
	})
}
