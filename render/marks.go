package render

import (
	"fmt"
	"image"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// findings numbers the places of the report's findings, in their order there.
func (s *sheet) findings() {
	in := s.img.SubImage(s.field).(*image.RGBA)
	b := &s.plates
	for i := range s.r.Findings {
		f := &s.r.Findings[i]
		c := alarm
		if !f.Severity.AtLeast(report.Caution) {
			c = quiet
		}
		for _, at := range placesOf(f) {
			x, y := s.place.at(geom.Point{X: at[0], Y: at[1]})
			b.add(s, in, x, y, fmt.Sprintf("! %d", i+1), c)
		}
	}
}

// mostPlaces bounds how often one finding is marked.
const mostPlaces = 12

// placesOf are the places of a finding to mark, the worst first.
func placesOf(f *report.Finding) []geom.Place {
	switch {
	case len(f.Places) > 0:
		return f.Places[:min(len(f.Places), mostPlaces)]
	case f.AtMM != nil:
		return []geom.Place{*f.AtMM}
	}
	return nil
}

// findingNotes says what the numbers stand for.
func findingNotes(r *report.Report) (out []string) {
	for i, f := range r.Findings {
		if f.AtMM == nil {
			continue
		}
		if len(out) == maxNotes {
			return append(out, "More findings than these have a place.")
		}
		where := words.Where(&f)
		if where != "" {
			where += ": "
		}
		out = append(out, fmt.Sprintf("! %d: %s%s", i+1, where, f.Message))
	}
	if out == nil {
		out = []string{"No finding has a place to mark."}
	}
	return out
}
