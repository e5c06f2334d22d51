package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

// InSightRule is the rule tack-down-in-sight.
var InSightRule = Rule{
	ID:       "tack-down-in-sight",
	Doc:      "a cover that does not reach in to the tack-down, so that it holds nothing and the tack-down shows",
	Severity: report.Caution,
	Limits:   limits("tack-down-in-sight"),
	Bounds:   "along more than a tenth of the edge",
	Requires: []*measure.Step{measure.Pieces},
	Check:    inSight,
}

// InSightShare is the share of a piece's edge that makes a fault in the design of
// what else is a corner or a joint of two columns.
const InSightShare = 0.1

func inSight(p *Pass) []report.Finding {
	limit, bare := p.Limit("tack-down-in-sight"), p.Settings.Limit("edge-uncovered")
	var out []report.Finding
	for i := range p.Report.Pieces {
		c := &p.Report.Pieces[i]
		if c.CoverStop == 0 || c.TackDownStop == 0 || c.Finish.Loose() || len(c.Edge) == 0 {
			continue
		}
		var all, off float64
		worst := -1
		for k := range c.Edge {
			s := &c.Edge[k]
			if s.State == report.EdgeHidden {
				continue
			}
			l := s.LengthMM()
			all += l
			if s.Inner >= limit || s.Unreached() {
				continue
			}
			off += l
			if worst < 0 || s.Inner < c.Edge[worst].Inner {
				worst = k
			}
		}
		// Where the edge shows as well, the cover lies beside it: that is told there.
		if off <= InSightShare*all || BareMM(c) > bare {
			continue
		}
		s := &c.Edge[worst]
		at := s.At.Place()
		where := fmt.Sprintf("begins %s outside the tack-down", p.units().Stitch(-s.Inner))
		if s.Inner >= -0.05 {
			where = "only touches the tack-down"
		}
		out = append(out, report.Finding{Severity: report.Caution, Stop: c.CoverStop, Piece: c.Number, AtMM: &at, Measured: s.Inner, Limit: limit, Unit: "mm",
			Message: fmt.Sprintf("piece %d: along %s of its edge the cover %s (stop %d), which stays in sight, and holds the cloth by its rim alone", c.Number, p.units().Stretch(off), where, c.TackDownStop),
			Advice:  "Trim no closer than the tack-down, look on a trial piece whether the edge holds, and ask the maker of the design for a cover that reaches further in."})
	}
	return out
}
