package samples

import "fmt"

// Check tells what is wrong with a sample: its sound half must give no finding,
// and its faulty half the rule's finding alone.
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
	return nil
}
