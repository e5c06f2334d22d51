package samples

import (
	"fmt"
	"math"
)

// Check tells what is wrong with a sample: its sound half must give no finding,
// and its faulty half the rule's finding alone, at a place that is shown.
func (s Sample) Check() error {
	for _, f := range s.Sound.Report().Findings {
		return fmt.Errorf("%s: the sound sample gives %s: %s", s.Rule, f.Rule, f.Message)
	}
	found := s.Faulty.Report().Findings
	if len(found) != 1 || found[0].Rule != s.Rule {
		text := ""
		for _, f := range found {
			text += fmt.Sprintf("\n\t%s: %s", f.Rule, f.Message)
		}
		return fmt.Errorf("%s: the faulty sample must give this finding alone, and gives %d:%s", s.Rule, len(found), text)
	}
	p := s.Faulty
	if q := p.place(); q != nil {
		if x, y := math.Abs(q.X-p.Middle.X)*2, math.Abs(q.Y-p.Middle.Y)*2; x > p.WidthMM || y > p.WidthMM*panelH/panelW {
			return fmt.Errorf("%s: the ring is to lie at %.1f, %.1f mm, which is not shown", s.Rule, q.X, q.Y)
		}
	}
	return nil
}
