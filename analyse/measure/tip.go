package measure

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
)

// Past is how far in mm the cover of a piece goes past a place of its edge in a direction,
// a unit vector: negative where it stops short of the place, and -Inf where there is
// none on that line. Where two columns end at a corner their ends may leave a notch that
// lines square to its sides pass by.
func (p *Pass) Past(piece int, q, way geom.Point) float64 {
	if p.cover == nil {
		return math.Inf(-1)
	}
	for _, w := range p.Pieces {
		if w.Number != piece {
			continue
		}
		if hit, ok := p.cover.Along(q, way, func(b int32) bool { return w.OverBy(p.bands[b].Stop) }); ok {
			return hit.Hi
		}
	}
	return math.Inf(-1)
}
