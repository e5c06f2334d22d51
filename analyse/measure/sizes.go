package measure

import (
	"github.com/stopcard/stopcard/analyse/report"
)

// Sizes puts what was counted into the report: size, colour stops with their
// threads, and what each stitch is part of.
var Sizes = &Step{
	Name: "stops",
	Doc:  "size, counts, and the colour stops with their threads",
	Run:  countStops,
}

func countStops(p *Pass) {
	s, r := p.Sewn, p.Report
	r.WidthMM, r.HeightMM, r.CentreX, r.CentreY = s.WidthMM, s.HeightMM, s.CentreX, s.CentreY
	r.Jumps, r.ColourStops = s.Jumps, len(s.Stops)
	r.Stops = append(r.Stops, s.Stops...)
	for i := range r.Stops {
		stop := &r.Stops[i]
		stop.Before, stop.After, stop.Parts = []string{}, []string{}, []report.Part{}
		stop.BeforeSteps, stop.AfterSteps, stop.LiesInHoop = []report.Step{}, []report.Step{}, []report.Lying{}
		r.Stitches += stop.Stitches
		r.Trims += stop.Trims
	}
	r.Kinds = s.Kinds
	r.Passages = append(r.Passages, s.Passages...)
}
