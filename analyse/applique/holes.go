package applique

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/geom"
)

// findHoles tells lines that lie in another of their stop, and are followed in the
// same stops: there the cloth is outside.
func (p *finder) findHoles() {
	for from := 0; from < len(p.chains); {
		to := from + 1
		for to < len(p.chains) && p.chains[to].line.Stop == p.chains[from].line.Stop {
			to++
		}
		if to-from > mostNested {
			p.cap(fmt.Sprintf("lines in stop %d that may lie in one another", p.chains[from].line.Stop+1), mostNested)
			from = to
			continue
		}
		for _, c := range p.chains[from:to] {
			depth := 0
			for _, o := range p.chains[from:to] {
				if o != c && o.line.Closed && c.line.Closed && o.line.Length > c.line.Length && o.line.Box.Meets(c.line.Box) &&
					geom.InsidePolygon(c.line.Line[0], o.guide.pts) && geom.InsidePolygon(c.line.Line[len(c.line.Line)/2], o.guide.pts) {
					depth++
				}
			}
			if depth%2 == 1 {
				c.hole = true
				c.left = -c.left
				for _, r := range c.rounds {
					r.middle, r.lo, r.hi = -r.middle, -r.hi, -r.lo
				}
			}
		}
		from = to
	}
}
