package match

import (
	"github.com/stopcard/stopcard/analyse/geom"
)

// Moved is a needle point that only one of two files has, in report coordinates of that
// file.
type Moved struct {
	Stop  int        `json:"stop"`
	AtMM  geom.Place `json:"at_mm"`
	Added bool       `json:"added"` // the second file has it, the first has not
}

// MovedPoints lists the needle points in which b differs from a, a file of the same size,
// stop by stop as Match pairs them. A point counts as the same within what rounding
// explains.
func MovedPoints(a, b *Signature) []Moved {
	out := []Moved{}
	if len(a.points) == 0 || len(b.points) == 0 {
		return out
	}
	dx, dy := offset(a, b)
	at := func(s *Signature, p needlePoint) geom.Place {
		return geom.Place{(float64(p.x) - s.centreX()) / 10, (float64(p.y) - s.centreY()) / 10}
	}
	missing := func(from, in []needlePoint, dx, dy float64, found func(needlePoint)) {
		have := map[needlePoint]bool{}
		for _, p := range in {
			have[p] = true
		}
		for _, p := range from {
			q := needlePoint{p.x + int32(dx), p.y + int32(dy)}
			near := false
			for x := int32(-roundsTo); x <= roundsTo && !near; x++ {
				for y := int32(-roundsTo); y <= roundsTo && !near; y++ {
					near = have[needlePoint{q.x + x, q.y + y}]
				}
			}
			if !near {
				found(p)
			}
		}
	}
	pairs, _ := pairStops(a, b)
	partnerOfB := map[int]int{}
	partnerOfA := map[int]int{}
	for _, p := range pairs {
		partnerOfA[p[0]], partnerOfB[p[1]] = p[1], p[0]
	}
	points := func(s *Signature, i int, ok bool) []needlePoint {
		if !ok {
			return nil
		}
		return s.pointsOf(i)
	}
	for j := range b.stops {
		i, ok := partnerOfB[j]
		missing(b.pointsOf(j), points(a, i, ok), -dx, -dy, func(p needlePoint) { out = append(out, Moved{j + 1, at(b, p), true}) })
	}
	for i := range a.stops {
		j, ok := partnerOfA[i]
		missing(a.pointsOf(i), points(b, j, ok), dx, dy, func(p needlePoint) { out = append(out, Moved{i + 1, at(a, p), false}) })
	}
	return out
}
