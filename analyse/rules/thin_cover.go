package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/satin"
	"github.com/stopcard/stopcard/analyse/words"
)

// ThinCoverRule is the rule thin-cover.
var ThinCoverRule = Rule{
	ID:       "thin-cover",
	Doc:      "satin so open that cloth shows between its stitches",
	Severity: report.Fault,
	Limits:   limits("thin-cover", "thin-cover-stretch"),
	Bounds:   "over the whole column, and over any 10 mm of it",
	Requires: []*measure.Step{measure.Columns, measure.Roles},
	Check:    thinCover,
}

// farTooThin is the share below the limit at which an applique edge will not be
// hidden.
const farTooThin = 0.15

// thinCover looks at each column as a whole, and at its thinnest stretch, which
// may fall further.
func thinCover(p *Pass) []report.Finding {
	whole, stretch := p.Limit("thin-cover"), p.Limit("thin-cover-stretch")
	judge := func(c *report.SatinColumn) (value, limit float64, bad bool) {
		value, limit = c.Coverage, whole
		if c.ThinCoverage-stretch < c.Coverage-whole {
			value, limit = c.ThinCoverage, stretch
		}
		return value, limit, value < limit && c.LengthMM/p.Scale >= satin.ShortColumnMM
	}
	return worstColumns(p, judge, func(s *report.Stop, c *report.SatinColumn, n int, length, worst float64) report.Finding {
		_, limit, _ := judge(c)
		where := "over the whole column"
		if limit == stretch {
			where = "along its thinnest stretch"
		}
		f := report.Finding{Severity: report.Caution, AtMM: &c.ThinnestAt, Measured: worst, Limit: limit, Unit: "share",
			Message: fmt.Sprintf("%s thin, %.0f mm in all: at worst %.0f %% of the cloth is under thread %s (stitches %.2f mm apart)",
				words.Plural(n, "satin column is", "satin columns are"), length, 100*worst, where, c.Pitch.Median),
			Advice: "Cloth will show through. Do not enlarge; take the size that was digitised for this hoop, or sew this stop twice on a trial piece first."}
		if s.Role == report.RoleCoverSatin && worst < limit-farTooThin {
			f.Severity = report.Fault
			f.Advice = "The raw edge will show and fray. Take another size from the pack, or ask its maker for a closer satin."
		}
		return f
	})
}
