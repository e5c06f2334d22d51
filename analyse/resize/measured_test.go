package resize

import (
	"context"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/analysetest"
	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// These measure and recognise a design, for a context that does not end.
var (
	mustRun       = analysetest.Run
	mustRecognise = analysetest.Recognise
)

// mustRunAt measures a design at a scale.
func mustRunAt(d *stitchfile.Design, s report.Settings, scale float64) *report.Report {
	r, err := analyse.Measure(context.Background(), mustRecognise(d), analyse.Options{Settings: &s}, scale)
	if err != nil {
		panic(err)
	}
	return r
}

// mustPass begins to measure a design as it is.
func mustPass(rec *applique.Recognised, s report.Settings) *measure.Pass {
	p, err := measure.NewPass(context.Background(), rec, s, 1)
	if err != nil {
		panic(err)
	}
	return p
}

// mustLimit is Limits of a context that does not end.
func mustLimit(rec *applique.Recognised, s report.Settings) *report.Resize {
	r, err := Limits(context.Background(), mustPass(rec, s))
	if err != nil {
		panic(err)
	}
	return r
}

// atScale is At, with the design measured at the scale.
func atScale(rec *applique.Recognised, before *report.Report, s report.Settings, scale float64) *report.ResizeEffect {
	after, err := analyse.Measure(context.Background(), rec, analyse.Options{Settings: &s}, scale)
	if err != nil {
		panic(err)
	}
	return At(rec, before, after, scale)
}
