package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/satin"
	"github.com/stopcard/stopcard/analyse/words"
)

// EdgeUncoveredRule is the rule edge-uncovered.
var EdgeUncoveredRule = Rule{
	ID:       "edge-uncovered",
	Doc:      "the cut edge of an applique piece lies outside its cover",
	Severity: report.Fault,
	Limits:   limits("edge-uncovered"),
	Requires: []*measure.Step{measure.Pieces},
	Check:    edgeUncovered,
}

func edgeUncovered(p *Pass) []report.Finding {
	limit, allow := p.Limit("edge-uncovered"), p.Settings.TrimAllowanceMM
	var out []report.Finding
	for i := range p.Report.Pieces {
		c := &p.Report.Pieces[i]
		if c.UncoveredMM <= limit || len(c.Gaps) == 0 {
			continue
		}
		worst := c.Gaps[0]
		for _, g := range c.Gaps {
			if g.LengthMM > worst.LengthMM {
				worst = g
			}
		}
		f := report.Finding{Severity: report.Caution, Stop: c.CoverStop, Piece: c.Number, AtMM: &worst.AtMM, Measured: c.UncoveredMM, Limit: limit, Unit: "mm",
			Message: fmt.Sprintf("piece %d: %.0f mm of its cut edge, in %s, would show; the cover must reach %.1f mm past the tack-down (stop %d) and %s",
				c.Number, c.UncoveredMM, words.Plural(len(c.Gaps), "stretch", "stretches"), allow, max(c.TackDownStop, c.PlacementStop), reaches(worst.LeastMM)),
			Advice: "Trim closer than usual along the marked stretch, hoop off the machine, and do not cut the stitches."}
		if worst.LeastMM < 0.3 {
			f.Severity = report.Fault
			f.Advice = "Trimming cannot mend this: the satin does not reach the cloth's edge there. Take another size from the pack, or ask its maker."
		}
		out = append(out, f)
	}
	return out
}

// reaches says how far a cover reaches at its worst place.
func reaches(least float64) string {
	switch {
	case least <= -satin.CoverReachMM:
		return "is missing at the worst place"
	case least < 0:
		return fmt.Sprintf("misses the edge by %.1f mm at the worst place", -least)
	}
	return fmt.Sprintf("reaches %.2f mm at the worst place", least)
}
