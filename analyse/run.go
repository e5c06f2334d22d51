package analyse

import (
	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/rules"
	"github.com/stopcard/stopcard/stitchfile"
)

// Run measures d and returns its report. It does not change d. A design
// without stitches gives a report without stops.
func Run(d *stitchfile.Design, s report.Settings) *report.Report { return RunAt(d, s, 1) }

// RunAt is Run on d scaled by the given factor with its stitch count kept, as
// machines scale: every length grows, thread, needle and scissors do not. What
// each stitch is part of is judged on the design as it is.
func RunAt(d *stitchfile.Design, s report.Settings, scale float64) *report.Report {
	return Measure(applique.Recognise(d), s, scale)
}

// Measure says how much there is of what was recognised, at a scale and under
// settings.
func Measure(rec *applique.Recognised, s report.Settings, scale float64) *report.Report {
	p := measure.NewPass(rec, s, scale)
	for _, a := range measure.Steps() {
		p.Do(a)
	}
	check(p, rules.Rules())
	return p.Report
}

// check adds what the rules find, in their order.
func check(p *measure.Pass, all []rules.Rule) {
	for _, rule := range all {
		for _, f := range rule.Check(p) {
			f.Rule = rule.ID
			p.Report.Findings = append(p.Report.Findings, f)
		}
	}
}
