package rules

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

// ofWhatLacks are the rules that tell of what is not there.
var ofWhatLacks = []string{"edge-uncovered", "tack-down-in-sight", "cover-missing", "tack-down-missing", "open-outline", "no-tie"}

// cutOff reports whether what a finding lacks may stand in the part of a file that could
// not be read: in the stop in which it breaks off, or, where a cover is missing, in any
// stop after it. That the file is not all there is told, and is the one cause.
func cutOff(p *measure.Pass, f *report.Finding) bool {
	if p.Report.Damage == nil || !slices.Contains(ofWhatLacks, f.Rule) {
		return false
	}
	return f.Rule == "cover-missing" || f.Stop == len(p.Report.Stops)
}
