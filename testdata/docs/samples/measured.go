package samples

import (
	"context"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// measured is the report on a sample, which is a design of our own: there is
// nothing about it to fail.
func measured(d *stitchfile.Design, s report.Settings) *report.Report {
	r, err := analyse.Run(context.Background(), d, analyse.Options{Settings: &s})
	if err != nil {
		panic(err)
	}
	return r
}
