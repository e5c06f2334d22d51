package analyse

import (
	"context"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/notes"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/rules"
	"github.com/stopcard/stopcard/analyse/spools"
	"github.com/stopcard/stopcard/stitchfile"
)

// Options say how a design is measured and judged. The zero value is ready: usual
// settings and all rules of Stopcard.
type Options struct {
	Settings *report.Settings // nil: report.DefaultSettings
	Rules    []rules.Rule     // nil: rules.All; Settings.Only and Skip choose among them
	Notes    *notes.Notes     // what a person knows better; nil: nothing

	// NotesNamed tells that the notes go by the design's name or were given for it.
	// That decides where stitches alone do not: see notes.Sign.Against.
	NotesNamed bool

	// ColoursFrom names the file whose thread colours the design was given, since its
	// own has none; empty: they are its own. The machine does not know them then.
	ColoursFrom string
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

// use finds what the notes say of d; nil where there are none.
func (o *Options) use(d *stitchfile.Design) (*notes.Use, error) {
	if o.Notes == nil {
		return nil, nil
	}
	return o.Notes.For(notes.SignOf(d), o.NotesNamed)
}

// Recognise works out what the stitching of d is: its passages, columns, pieces and
// roles. That is the same at every scale, so one answer serves for all. It heeds
// Options.Notes. Errors are those of notes that fit nothing in d, a *notes.Error, and
// that of a context that ended. Notes that are for another design change nothing.
func Recognise(ctx context.Context, d *stitchfile.Design, o Options) (*applique.Recognised, error) {
	use, err := o.use(d)
	switch {
	case err != nil:
		return nil, err
	case use == nil:
		return applique.Recognise(ctx, d)
	}
	return applique.RecogniseWith(ctx, d, use.Said())
}

// Measure says how much there is of what was recognised, on the design scaled by the
// given factor with its stitch count kept, as machines scale: every length grows,
// thread, needle and scissors do not. A scale that is not a positive number is an
// error, and so are rules that cannot run: two of one name, one that Settings.Only
// or Skip names but nobody has, or one that requires what is no measuring step. When
// ctx ends, Measure ends soon after with its error.
func Measure(ctx context.Context, rec *applique.Recognised, o Options, scale float64) (*report.Report, error) {
	p, err := MeasurePass(ctx, rec, o, scale)
	if err != nil {
		return nil, err
	}
	return p.Report, nil
}

// MeasurePass is Measure that hands over all of the measuring, the report with it, for
// what goes on from there: resize.Limits. It holds several times what a report does.
func MeasurePass(ctx context.Context, rec *applique.Recognised, o Options, scale float64) (*measure.Pass, error) {
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
	p.Report.ColoursFrom = o.ColoursFrom
	use, err := o.use(rec.Sewn.Design)
	if err != nil {
		return nil, err
	}
	if use != nil {
		use.Apply(p.Report)
		spools.Noted(p.Report, s.Threads)
	}
	spools.Count(p.Report, s.Threads)
	for i := range chosen {
		found, err := chosen[i].Findings(p)
		if err != nil {
			return nil, err
		}
		p.Report.Each = append(p.Report.Each, found...)
	}
	p.Report.Findings = rules.Told(p.Report.Each)
	return p, nil
}
