package rules

import (
	"strings"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

var damagedFileRule = Rule{
	ID:       "damaged-file",
	Doc:      "the file could only partly be read, or does not look whole",
	Severity: report.Fault,
	Bounds:   "any damage is a fault; what stands where it should not, or a count of more than is there, a warning",
	Check:    damagedFile,
}

func damagedFile(p *Pass) []report.Finding {
	d := p.Report.Damage
	if d == nil {
		if p.Report.Whole != string(stitchfile.NotWhole) {
			return nil
		}
		return []report.Finding{{Severity: report.Caution, Unit: "stitches", Measured: float64(p.Report.Stitches),
			Message: "this file may not be whole: " + strings.Join(p.Report.WholeReasons, "; "),
			Advice:  "Look at the picture: is all of the design there? Copy the file again from where it was bought, or take another format from the pack."}}
	}
	var claimed float64
	if d.Claimed != nil {
		claimed = float64(*d.Claimed)
	}
	return []report.Finding{{Severity: report.Fault, Unit: "stitches", Measured: float64(d.Read), Limit: claimed,
		Message: p.Report.Partial(),
		Advice:  "Do not sew it. Copy the file again from where it was bought, or take another format from the pack."}}
}
