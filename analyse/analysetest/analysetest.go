// Package analysetest has what the tests of several packages need of an analysis:
// the answers of functions that can only fail when their context ends, for a
// context that does not.
package analysetest

import (
	"context"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// Run is [analyse.Run] under the settings. It panics where that fails.
func Run(d *stitchfile.Design, s report.Settings) *report.Report {
	return must(analyse.Run(context.Background(), d, analyse.Options{Settings: &s}))
}

// Recognise is [applique.Recognise]. It panics where that fails.
func Recognise(d *stitchfile.Design) *applique.Recognised {
	return must(applique.Recognise(context.Background(), d))
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
