package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/satin"
	"github.com/stopcard/stopcard/analyse/words"
)

// NarrowSatinRule is the rule narrow-satin.
var NarrowSatinRule = Rule{
	ID:       "narrow-satin",
	Doc:      "satin too narrow for the needle",
	Severity: report.Caution,
	Limits:   limits("narrow-satin"),
	Requires: []*measure.Step{measure.Columns},
	Check:    narrowSatin,
}

func narrowSatin(p *Pass) []report.Finding {
	limit := p.Limit("narrow-satin")
	return worstColumns(p, func(c *report.SatinColumn) (float64, float64, bool) {
		return c.Width.Median, limit, c.Width.Median < limit && c.LengthMM/p.Scale >= satin.ShortColumnMM
	}, func(s *report.Stop, c *report.SatinColumn, n int, length, worst float64) report.Finding {
		return report.Finding{Severity: report.Caution, AtMM: &c.Width.MinAt, Measured: worst, Limit: limit, Unit: "mm",
			Message: fmt.Sprintf("%s, %.0f mm in all, narrower than %.1f mm; the narrowest is %.2f mm wide", words.Plural(n, "satin column", "satin columns"), length, limit, worst),
			Advice:  "Use a fine needle and thin thread, and do not shrink this design."}
	})
}
