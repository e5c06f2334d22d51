package render

import (
	"fmt"
	"image"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// findings numbers the places of the report's findings, in their order there.
func (s *sheet) findings() {
	in := s.img.SubImage(s.field).(*image.RGBA)
	b := &s.plates
	for i, f := range s.r.Findings {
		if f.AtMM == nil {
			continue
		}
		c := alarm
		if !f.Severity.AtLeast(report.Caution) {
			c = quiet
		}
		x, y := s.place.at(geom.Point{X: f.AtMM[0], Y: f.AtMM[1]})
		b.add(s, in, x, y, fmt.Sprintf("! %d", i+1), c)
	}
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
		where := ""
		if f.Stop > 0 {
			where = fmt.Sprintf("stop %d: ", f.Stop)
		}
		out = append(out, fmt.Sprintf("! %d: %s%s", i+1, where, f.Message))
	}
	if out == nil {
		out = []string{"No finding has a place to mark."}
	}
	return out
}
