package applique

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/report"
)

// Pieces that share an edge are often covered in one go: a satin round all of them, and
// one along each edge between. Most of such a satin lies along no line of a single piece,
// and yet it is the cover of each.
const (
	sharedLeast  = 0.1 // of the line of a piece that such a satin must go along
	sharedWithin = 2.5 // mm from the line that its middle lies within
	sharedWhole  = 0.9 // of the line that satin goes along: no more is looked for then
)

// findShared adds to the chains that no satin goes along all the way what goes on beyond
// them.
func (p *finder) findShared() {
	var block []*Trace // lines round everything
	for i := range p.traces {
		if t := &p.traces[i]; t.Closed && isLine(t) && encloses(t.Box, p.all, roundSlack) && len(block) < mostRounds {
			block = append(block, t)
		}
	}
	for _, c := range p.chains {
		if !c.line.Closed || !isLine(c.line) || p.looks > mostLooks {
			continue
		}
		var along mask
		tacked := false
		for _, r := range c.rounds {
			if r.made == satinMade && !r.sparse {
				along = along.or(r.mask)
			} else if r.made.line() || r.made == zigzag || r.made == blanket {
				tacked = tacked || r.share >= sharedWhole && r.stop > c.line.Stop
			}
		}
		if !tacked || float64(along.count()) >= sharedWhole*float64(c.samples) {
			continue
		}
		c.shared(p, block)
	}
}

// seam marks the places of the line of a chain that lie along the outline of the block, of
// all lines round it: they are in its seam, and need no cover.
func (c *chain) seam(p *finder, block []*Trace) (m mask) {
	for _, t := range block {
		if t.Stop < c.line.Stop && p.mayCompare() {
			p.watch.Step(4 * maskBits)
			m = m.or(c.passes(t).mask)
		}
	}
	return m
}

// shared joins what goes on beyond a chain to its rounds, and measures them anew.
func (c *chain) shared(p *finder, block []*Trace) {
	old := c.rounds
	added := map[*round]bool{}
	for _, k := range p.tracesNear(c.line.Line, c.reach, p.firstOf[c.line.Stop+1], int32(len(p.traces))) {
		t := &p.traces[k]
		if t.Kind != report.KindSatin || slices.ContainsFunc(c.rounds, func(r *round) bool { return slices.Contains(r.traces, t) }) {
			continue
		}
		if p.looks++; p.looks > mostLooks {
			p.cap("comparisons of stitching with a line", mostLooks)
			break
		}
		s := c.passes(t)
		p.watch.Step(len(t.Line))
		if float64(s.mask.count()) < sharedLeast*float64(c.samples) {
			continue
		}
		at := slices.IndexFunc(c.rounds, func(r *round) bool { return r.stop == t.Stop && r.traces[0].Kind == report.KindSatin })
		if at >= 0 {
			r := c.rounds[at]
			// The round as it was stays as it is, in case all this is for nothing.
			more := *r
			more.traces, more.mask = append(slices.Clip(r.traces), t), r.mask.or(s.mask)
			c.rounds = slices.Clone(c.rounds)
			c.rounds[at] = &more
			delete(added, r)
			added[&more] = true
			continue
		}
		r := &round{traces: []*Trace{t}, stop: t.Stop, mask: s.mask, mean: s.mean}
		added[r] = true
		at, _ = slices.BinarySearchFunc(c.rounds, r.first(), func(o *round, first int) int { return o.first() - first })
		c.rounds = slices.Insert(slices.Clone(c.rounds), at, r)
	}
	if len(added) == 0 {
		return
	}
	seam := c.seam(p, block)
	enough := func(r *round) bool {
		hidden := r.mask.or(seam)
		return float64(hidden.count()) >= sharedWhole*float64(c.samples)
	}
	c.rounds = slices.DeleteFunc(c.rounds, func(r *round) bool { return added[r] && !enough(r) })
	if len(c.rounds) > mostRounds || !slices.ContainsFunc(c.rounds, func(r *round) bool { return added[r] }) {
		c.rounds = old
		return
	}
	for _, r := range c.rounds {
		if added[r] {
			r.share = float64(r.mask.count()) / float64(c.samples)
			p.measureRound(c, r)
		}
	}
}

// passes marks the places of the line of a chain that a satin lies over. The satin may
// be far longer than the line.
func (c *chain) passes(t *Trace) stretch {
	s, _ := c.lies(t, max(1, len(t.Line)/(4*maskBits)), sharedWithin, len(t.Line))
	return s
}
