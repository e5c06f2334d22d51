package match

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

// mustMatch is Match of a context that does not end.
func mustMatch(signs []*Signature) *Matching {
	m, err := Match(context.Background(), signs)
	if err != nil {
		panic(err)
	}
	return m
}
