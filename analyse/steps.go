package analyse

import "fmt"

// Steps turns roles into hand steps and cloth to cut.
var Steps = &Analyser{
	Requires: []*Analyser{Roles, Cost},
	Name:     "steps",
	Doc:      "what the hands do before and after each colour stop, and what to cut beforehand",
	Run:      addSteps,
}

// addSteps turns roles into hand steps. Scissors come near the cloth only with
// the hoop off the machine.
func addSteps(p *Pass) {
	stops := p.Report.Stops
	ended := false
	for i := range stops {
		s := &stops[i]
		before := func(k StepKind, format string, args ...any) {
			s.BeforeSteps = append(s.BeforeSteps, Step{k, fmt.Sprintf(format, args...)})
		}
		after := func(k StepKind, format string, args ...any) {
			s.AfterSteps = append(s.AfterSteps, Step{k, fmt.Sprintf(format, args...)})
		}
		lay := func(kind string, piece int, margin float64, what string) {
			w, h := s.BoundsMM[2]-s.BoundsMM[0]+2*margin, s.BoundsMM[3]-s.BoundsMM[1]+2*margin
			p.Report.Cloths = append(p.Report.Cloths, Cloth{Kind: kind, Piece: piece, Stop: s.Number, WidthMM: w, HeightMM: h})
			before(StepLay, "%s, at least %.0f x %.0f mm", what, w, h)
		}
		margin, wide := p.Settings.ClothMarginMM, p.Settings.BattingMarginMM
		switch s.Role {
		case RoleClothHoldDown:
			lay("block cloth", 0, margin, "lay the block cloth over the outline, right side up")
		case RoleTackDown:
			lay("applique cloth", 0, margin, "lay the applique cloth over the line, right side up")
			after(StepHoopOff, "machine stopped: take the hoop off, leave the cloth in the hoop")
			after(StepTrim, "trim the cloth close outside the stitching, %.0f mm or less; do not cut the stitches", p.Settings.TrimAllowanceMM)
			after(StepHoopOn, "put the hoop back")
		case RoleBattingHoldDown:
			if !ended {
				before(StepMayEnd, "the block may end here if it will be quilted some other way")
				ended = true
			}
			lay("batting", 0, wide, "lay the batting over the block")
		case RoleBackingHoldDown:
			before(StepTurnOver, "machine stopped: take the hoop off and turn it over")
			lay("backing", 0, wide, "fix the backing to the underside, right side out")
			before(StepHoopOn, "put the hoop back")
		}
		for _, t := range s.BeforeSteps {
			s.Before = append(s.Before, t.Text)
		}
		for _, t := range s.AfterSteps {
			s.After = append(s.After, t.Text)
		}
	}
}
