package applique

import "slices"

// dotted reports whether a round is a row of dots, such as pearls of satin, along a line so
// many mm long: most of its columns are hardly longer than it is wide, and gaps lie between.
func (r *round) dotted(along float64) bool {
	if r.made != satinMade || len(r.traces) < dotsFewest {
		return false
	}
	columns, dots, sewn := 0, 0, 0.0
	for _, t := range r.traces {
		if !t.Kind.Surface() {
			continue // travel from dot to dot
		}
		columns++
		sewn += t.Length
		if t.Length < dotLongest*r.width() {
			dots++
		}
	}
	return columns >= dotsFewest && 2*dots > columns && sewn < dotsShare*along
}

// rings is how many lines of its stop lie in one another inside a line, each along the one
// before, up to as many as fill a shape.
func (t *Trace) rings() (n int) {
	for ; n < ringsFewest && t.chain != nil; n++ {
		c := t.chain
		k := slices.IndexFunc(c.rounds, func(s *round) bool {
			return s.stop == t.Stop && s.traces[0].Closed && s.share >= wholeShare && s.mean > rawLeast && s.traces[0].index > t.index
		})
		if k < 0 {
			break
		}
		t = c.rounds[k].traces[0]
	}
	return n
}

// alike reports whether a tack-down is a line sewn no heavier than the line of the chain, as
// lines of a pattern are. A raw edge is mostly held by a heavier one.
func (c *chain) alike(tack *round) bool { return tack.made <= c.lineMade() }
