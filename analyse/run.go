package analyse

import (
	"context"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/rules"
	"github.com/stopcard/stopcard/stitchfile"
)

// Options say how a design is measured and judged. The zero value is ready: usual
// settings and all rules of Stopcard.
type Options struct {
	Settings *report.Settings // nil: report.DefaultSettings
	Rules    []rules.Rule     // nil: rules.All; Settings.Only and Skip choose among them
}

// settings are those in force.
func (o *Options) settings() report.Settings {
	if o.Settings == nil {
		return report.DefaultSettings()
	}
	return *o.Settings
}

// Run measures d as it is and returns its report. It does not change d. A design
// without stitches gives a report without stops. Errors are those of Recognise and
// Measure.
func Run(ctx context.Context, d *stitchfile.Design, o Options) (*report.Report, error) {
	rec, err := Recognise(ctx, d, o)
	if err != nil {
		return nil, err
	}
	return Measure(ctx, rec, o, 1)
}

// Recognise works out what the stitching of d is: its passages, columns, pieces and
// roles. That is the same at every scale, so one answer serves for all. The only
// error is that of a context that ended.
func Recognise(ctx context.Context, d *stitchfile.Design, _ Options) (*applique.Recognised, error) {
	return applique.Recognise(ctx, d)
}

// Measure says how much there is of what was recognised, on the design scaled by the
// given factor with its stitch count kept, as machines scale: every length grows,
// thread, needle and scissors do not. A scale that is not a positive number is an
// error, and so are rules that cannot run: two of one name, one that Settings.Only
// or Skip names but nobody has, or one that requires what is no measuring step. When
// ctx ends, Measure ends soon after with its error.
func Measure(ctx context.Context, rec *applique.Recognised, o Options, scale float64) (*report.Report, error) {
	s := o.settings()
	all := o.Rules
	if all == nil {
		all = rules.All()
	}
	chosen, err := rules.Choose(all, &s)
	if err != nil {
		return nil, err
	}
	p, err := measure.NewPass(ctx, rec, s, scale)
	if err != nil {
		return nil, err
	}
	for _, step := range measure.Steps() {
		if err := p.Do(step); err != nil {
			return nil, err
		}
	}
	for i := range chosen {
		found, err := chosen[i].Findings(p)
		if err != nil {
			return nil, err
		}
		p.Report.Findings = append(p.Report.Findings, found...)
	}
	return p.Report, nil
}
