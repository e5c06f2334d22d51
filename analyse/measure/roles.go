package measure

import (
	"github.com/stopcard/stopcard/analyse/report"
)

// Roles puts what each colour stop is for into the report, and how far later
// lines round the block lie outside the first.
var Roles = &Step{
	Name:     "roles",
	Doc:      "what each colour stop is for, with a confidence and a reason",
	Requires: []*Step{Pieces},
	Run:      addRoles,
}

func addRoles(p *Pass) {
	for i := range p.Report.Stops {
		s, k := &p.Report.Stops[i], &p.Recognised.Roles[i]
		s.Role, s.Confidence, s.Reason, s.NextReading = k.Role, k.Confidence, k.Reason, k.Next
		s.Parts = append(s.Parts, k.Parts...)
	}
	p.offsets()
}

// offsets records how far later outlines lie outside the first one, by side.
func (p *Pass) offsets() {
	all := p.Recognised.Round
	if len(all) < 2 {
		return
	}
	a := all[0].Box
	for _, t := range all[1:] {
		b := t.Box
		p.Report.HoldDownOffsets = append(p.Report.HoldDownOffsets, report.HoldDownOffset{
			OutlineStop: all[0].Stop + 1, Stop: t.Stop + 1,
			Left: p.Scale * (a.Lo.X - b.Lo.X), Right: p.Scale * (b.Hi.X - a.Hi.X), Bottom: p.Scale * (a.Lo.Y - b.Lo.Y), Top: p.Scale * (b.Hi.Y - a.Hi.Y)})
	}
}
