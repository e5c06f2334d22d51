package rules

import (
	"fmt"

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
	Requires: []*measure.Step{measure.Columns},
	Check:    wideSatin,
}

func wideSatin(p *Pass) []report.Finding {
	limit := p.Limit("wide-satin")
	return worstColumns(p, func(c *report.SatinColumn) (float64, float64, bool) {
		return c.Width.Max, limit, c.Width.Max > limit && !c.Split
	}, func(s *report.Stop, c *report.SatinColumn, n int, length, worst float64) report.Finding {
		return report.Finding{Severity: report.Caution, AtMM: &c.Width.MaxAt, Measured: worst, Limit: limit, Unit: "mm",
			Message: fmt.Sprintf("%s wider than %.0f mm; the widest is %.1f mm across in one stitch", words.Plural(n, "satin column", "satin columns"), limit, worst),
			Advice:  "Such long stitches snag in use and in the wash, and some machines cannot sew them. Do not enlarge."}
	})
}
