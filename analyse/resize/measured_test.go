package resize

import (
	"context"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// mustRun measures a design, which cannot fail without a context that ends.
func mustRun(d *stitchfile.Design, s report.Settings) *report.Report {
	r, err := analyse.Run(context.Background(), d, analyse.Options{Settings: &s})
	if err != nil {
		panic(err)
	}
	return r
}

// mustRecognise is Recognise of a context that does not end.
func mustRecognise(d *stitchfile.Design) *applique.Recognised {
	rec, err := applique.Recognise(context.Background(), d)
	if err != nil {
		panic(err)
	}
	return rec
}

// mustRunAt measures a design at a scale.
func mustRunAt(d *stitchfile.Design, s report.Settings, scale float64) *report.Report {
	r, err := analyse.Measure(context.Background(), mustRecognise(d), analyse.Options{Settings: &s}, scale)
	if err != nil {
		panic(err)
	}
	return r
}

// mustLimit is Limits of a context that does not end.
func mustLimit(rec *applique.Recognised, s report.Settings) *report.Resize {
	r, err := Limits(context.Background(), rec, s)
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
