package match

import (
	"context"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

// Glance is the signature of a design that was recognised and need not be measured, in a
// file at path: all that tells which files are one design, in which sizes, and how each
// was made. What Prove and tables tell besides is missing: time, faults, and how far
// covers reach. The only error is that of a context that ended.
func Glance(ctx context.Context, rec *applique.Recognised, s report.Settings, path string) (*Signature, error) {
	p, err := measure.NewPass(ctx, rec, s, 1)
	if err == nil {
		p, err = p.PartAt(1, &measure.Part{})
	}
	if err == nil {
		err = p.Do(measure.Roles)
	}
	if err != nil {
		return nil, err
	}
	p.Report.Path = path
	return Sign(rec, p.Report), nil
}
