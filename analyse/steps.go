package analyse

import "fmt"

var stepsAnalyser = Analyser{
	Name: "steps",
	Doc:  "what the hands do before and after each colour stop",
	Run:  addSteps,
}

// clothMargin is how far in mm a piece of cloth reaches past the line it is laid
// over: half an inch (common practice, no single source).
const clothMargin = 12.7

// addSteps turns roles into hand steps. Scissors come near the cloth only with
// the hoop off the machine.
func addSteps(p *Pass) {
	stops := p.Report.Stops
	ended := false
	for i := range stops {
		s := &stops[i]
		w, h := s.BoundsMM[2]-s.BoundsMM[0]+2*clothMargin, s.BoundsMM[3]-s.BoundsMM[1]+2*clothMargin
		lay := func(what string) string {
			return fmt.Sprintf("%s, at least %.0f x %.0f mm", what, w, h)
		}
		switch s.Role {
		case RoleClothHoldDown:
			s.Before = append(s.Before, lay("lay the block cloth over the outline, right side up"))
		case RoleTackDown:
			s.Before = append(s.Before, lay("lay the applique cloth over the line, right side up"))
			s.After = append(s.After,
				"machine stopped: take the hoop off, leave the cloth in the hoop",
				fmt.Sprintf("trim the cloth close outside the stitching, %.0f mm or less; do not cut the stitches", trimAllowance),
				"put the hoop back")
		case RoleBattingHoldDown:
			if !ended {
				s.Before = append(s.Before, "the block may end here if it will be quilted some other way")
				ended = true
			}
			s.Before = append(s.Before, lay("lay the batting over the block"))
		case RoleBackingHoldDown:
			s.Before = append(s.Before, "machine stopped: take the hoop off and turn it over",
				lay("fix the backing to the underside, right side out"), "put the hoop back")
		}
	}
}

// trimAllowance is how far in mm from the tack-down scissors may leave the cloth:
// 1 to 2 mm is usual (design makers' instructions; common practice).
const trimAllowance = 1.0
