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
			if !c.line.Closed || !p.mayBePiece(c) {
				continue
			}
			depth := 0
			q, v := c.line.Line[0], c.line.Line[len(c.line.Line)/2]
			both := geom.BoxOf([]geom.Point{q, v})
			for _, o := range p.chains[from:to] {
				if o != c && o.line.Closed && o.line.Length > c.line.Length && encloses(o.line.Box, both, 0) &&
					o.line.Inside().Has(q) && o.line.Inside().Has(v) {
					depth++
				}
			}
			if depth%2 == 1 {
				c.left = -c.left
				for _, r := range c.rounds {
					r.middle, r.lo, r.hi = -r.middle, -r.hi, -r.lo
				}
			}
		}
		from = to
	}
}
