package render

import (
	"fmt"
	"image"

	"github.com/stopcard/stopcard/analyse"
)

// findings numbers the places of the report's findings, in their order there.
func (s *sheet) findings() {
	in := s.img.SubImage(s.field).(*image.RGBA)
	var b badges
	for i, f := range s.r.Findings {
		if f.AtMM == nil {
			continue
		}
		c := alarm
		if !f.Severity.AtLeast(analyse.Caution) {
			c = quiet
		}
		x, y := s.place.at(analyse.Point{X: f.AtMM[0], Y: f.AtMM[1]})
		b.add(s, in, x, y, fmt.Sprintf("! %d", i+1), c)
	}
}
