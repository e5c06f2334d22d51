package rules

import (
	"fmt"
	"slices"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// NarrowSatinRule is the rule narrow-satin.
var NarrowSatinRule = Rule{
	ID:       "narrow-satin",
	Doc:      "satin too narrow for the needle",
	Severity: report.Caution,
	Limits:   limits("narrow-satin"),
	Bounds:   "over 3 mm of a column or more; a column may taper to a point within its last width, and at a mitre",
	Requires: []*measure.Step{measure.Columns},
	Check:    narrowSatin,
}

func narrowSatin(p *Pass) []report.Finding {
	limit := p.Limit("narrow-satin")
	var look narrowLook
	return worstColumns(p, func(c *report.SatinColumn) (judged, bool) {
		if !longEnough(p, c) || c.Width.Median >= limit && len(c.Widths) > 0 && slices.Min(c.Widths) >= limit {
			return judged{}, false
		}
		width, at, length := look.narrowest(p, c, limit)
		return judged{width, limit, length, at}, width < limit-byArithmetic
	}, func(_ *report.Stop, _ *report.SatinColumn, n int, length float64, worst judged) report.Finding {
		is, than := p.units().StitchPast(worst.value, limit)
		return report.Finding{Severity: report.Caution, Unit: "mm",
			Message: fmt.Sprintf("%s narrower than %s along %s; the narrowest place is %s wide",
				words.Plural(n, "satin column is", "satin columns are"), than, p.units().Stretch(length), is),
			Advice: "The needle has hardly any cloth there between its holes. Use a fine needle and thin thread, and do not shrink this design."}
	})
}
