package rules

import "github.com/stopcard/stopcard/analyse/report"

var damagedFileRule = Rule{
	ID:       "damaged-file",
	Doc:      "the file could only partly be read",
	Severity: report.Fault,
	Bounds:   "any damage",
	Check:    damagedFile,
}

func damagedFile(p *Pass) []report.Finding {
	d := p.Report.Damage
	if d == nil {
		return nil
	}
	var claimed float64
	if d.Claimed != nil {
		claimed = float64(*d.Claimed)
	}
	return []report.Finding{{Severity: report.Fault, Unit: "stitches", Measured: float64(d.Read), Limit: claimed,
		Message: "this file is damaged: " + d.Error,
		Advice:  "Do not sew it. Copy the file again from where it was bought, or take another format from the pack."}}
}
