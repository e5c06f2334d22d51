package rules

import (
	"fmt"
	"math"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/satin"
	"github.com/stopcard/stopcard/analyse/words"
)

var (
	ThinCoverRule = Rule{ID: "thin-cover", Doc: "satin so open that cloth shows between its stitches",
		Limit: inWords("thin-cover") + "; over any 10 mm, " + inWords("thin-cover-stretch"), Check: thinCover}
	NarrowSatinRule = Rule{ID: "narrow-satin", Doc: "satin too narrow for the needle",
		Limit: inWords("narrow-satin"), Check: narrowSatin}
	WideSatinRule = Rule{ID: "wide-satin", Doc: "satin crossings so wide that they snag",
		Limit: inWords("wide-satin"), Check: wideSatin}
)

const (
	farTooThin = 0.15 // share below the limit at which an applique edge will not be hidden
)

// worstColumns gives one finding for each stop, for the worst of its columns.
func worstColumns(p *measure.Pass, measure func(*report.SatinColumn) (value, limit float64, bad bool), make func(s *report.Stop, c *report.SatinColumn, n int, length, worst float64) report.Finding) []report.Finding {
	var out []report.Finding
	cols := p.Report.SatinColumns
	for i := 0; i < len(cols); {
		stop := cols[i].Stop
		n, worst, by := 0, i, 0.0
		var length float64
		for ; i < len(cols) && cols[i].Stop == stop; i++ {
			v, limit, bad := measure(&cols[i])
			if !bad {
				continue
			}
			n++
			length += cols[i].LengthMM
			if d := math.Abs(v - limit); d > by || n == 1 {
				worst, by = i, d
			}
		}
		if n > 0 {
			v, _, _ := measure(&cols[worst])
			f := make(&p.Report.Stops[stop-1], &cols[worst], n, length, v)
			f.Stop = stop
			out = append(out, f)
		}
	}
	return out
}

// thinCover looks at each column as a whole, and at its thinnest stretch, which
// may fall further.
func thinCover(p *measure.Pass) []report.Finding {
	whole, stretch := p.Settings.Limit("thin-cover"), p.Settings.Limit("thin-cover-stretch")
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

func narrowSatin(p *measure.Pass) []report.Finding {
	limit := p.Settings.Limit("narrow-satin")
	return worstColumns(p, func(c *report.SatinColumn) (float64, float64, bool) {
		return c.Width.Median, limit, c.Width.Median < limit && c.LengthMM/p.Scale >= satin.ShortColumnMM
	}, func(s *report.Stop, c *report.SatinColumn, n int, length, worst float64) report.Finding {
		return report.Finding{Severity: report.Caution, AtMM: &c.Width.MinAt, Measured: worst, Limit: limit, Unit: "mm",
			Message: fmt.Sprintf("%s, %.0f mm in all, narrower than %.1f mm; the narrowest is %.2f mm wide", words.Plural(n, "satin column", "satin columns"), length, limit, worst),
			Advice:  "Use a fine needle and thin thread, and do not shrink this design."}
	})
}

func wideSatin(p *measure.Pass) []report.Finding {
	limit := p.Settings.Limit("wide-satin")
	return worstColumns(p, func(c *report.SatinColumn) (float64, float64, bool) {
		return c.Width.Max, limit, c.Width.Max > limit && !c.Split
	}, func(s *report.Stop, c *report.SatinColumn, n int, length, worst float64) report.Finding {
		return report.Finding{Severity: report.Caution, AtMM: &c.Width.MaxAt, Measured: worst, Limit: limit, Unit: "mm",
			Message: fmt.Sprintf("%s wider than %.0f mm; the widest is %.1f mm across in one stitch", words.Plural(n, "satin column", "satin columns"), limit, worst),
			Advice:  "Such long stitches snag in use and in the wash, and some machines cannot sew them. Do not enlarge."}
	})
}
