package measure

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// jointReach is how far in mm to either side of where other cloth begins to hide an edge its
// cover is looked at: an upper cover reaches so far from its line.
const jointReach = 4.0

// Joint is how many mm of a piece's edge its own cover hides together with what hides the
// edge further on, where that is less than anywhere else: cloth that is laid later, and
// satin other than its own. It is +Inf for an edge that nothing else hides, and twice
// jointReach at most. Where it is little the two may part as the design is resized.
func (p *Pass) Joint(c *report.Piece) float64 {
	least := math.Inf(1)
	if p.cover == nil || c.HiddenMM == 0 {
		return least
	}
	stops := map[int]bool{}
	for _, w := range p.Pieces {
		if w.Number == c.Number {
			for _, stop := range w.Covers {
				stops[stop] = true
			}
		}
	}
	under := func(s *report.EdgeSample, own bool) bool {
		hit, ok := p.cover.Along(s.At, s.Outward, func(b int32) bool { return stops[p.bands[b].Stop] == own })
		return ok && hit.Lo <= 0 && hit.Hi >= 0
	}
	for first, last := 0, 0; first < len(c.Edge); first = last {
		for last = first; last < len(c.Edge) && c.Edge[last].Ring == c.Edge[first].Ring; last++ {
		}
		ring := c.Edge[first:last]
		for i := range ring {
			next := (i + 1) % len(ring)
			if (ring[i].State == report.EdgeHidden) == (ring[next].State == report.EdgeHidden) {
				continue
			}
			both := 0.0
			for _, step := range []int{1, -1} {
				k := next
				if step < 0 {
					k = i
				}
				for l, n := 0.0, 0; l < jointReach && 2*n < len(ring); n++ {
					s := &ring[k]
					mm := geom.Distance(s.From, s.To)
					if under(s, true) && (s.State == report.EdgeHidden || under(s, false)) {
						both += mm
					}
					l += mm
					k = (k + step + len(ring)) % len(ring)
				}
			}
			least = min(least, both)
		}
	}
	return least
}
