package analyse

// Roles puts what each colour stop is for into the report, and how far later
// lines round the block lie outside the first.
var Roles = &Analyser{
	Name:     "roles",
	Doc:      "what each colour stop is for, with a confidence and a reason",
	Requires: []*Analyser{Pieces},
	Run:      addRoles,
}

func addRoles(p *Pass) {
	for i := range p.Report.Stops {
		s, k := &p.Report.Stops[i], &p.Recognised.roles[i]
		s.Role, s.Confidence, s.Reason = k.Role, k.Confidence, k.Reason
		s.Parts = append(s.Parts, k.Parts...)
	}
	p.offsets()
}

// offsets records how far later outlines lie outside the first one, by side.
func (p *Pass) offsets() {
	all := p.Recognised.round
	if len(all) < 2 {
		return
	}
	a := all[0].box
	for _, t := range all[1:] {
		b := t.box
		p.Report.HoldDownOffsets = append(p.Report.HoldDownOffsets, HoldDownOffset{
			OutlineStop: all[0].stop + 1, Stop: t.stop + 1,
			Left: p.Scale * (a.lo.X - b.lo.X), Right: p.Scale * (b.hi.X - a.hi.X), Bottom: p.Scale * (a.lo.Y - b.lo.Y), Top: p.Scale * (b.hi.Y - a.hi.Y)})
	}
}
