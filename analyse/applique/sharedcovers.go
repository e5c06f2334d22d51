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
	var loose []goingOn         // nothing of a later stop but satin follows their lines
	goes := map[*Trace]*chain{} // by satin that goes on beyond a chain: the first such chain
	for i := range p.traces {
		t := &p.traces[i]
		if !t.Closed || !isLine(t) || t.Length < leastLength || p.looks > mostLooks || winds(t) {
			continue
		}
		c := t.chain
		if c == nil {
			// Nothing else follows it: cloth cut beforehand, or a tack-down that was lost.
			if len(p.followed[t.index]) > 0 || len(p.chains) >= mostTraces {
				continue
			}
			c = newChain(t)
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
		if !tacked && c.ahead > 0 || float64(along.count()) >= sharedWhole*float64(c.samples) {
			continue
		}
		rounds := c.rounds
		on := c.shared(p, block)
		if len(on) > 0 && !tacked {
			loose = append(loose, goingOn{c, rounds})
		}
		for _, of := range on {
			switch first := goes[of]; {
			case c.ahead > 0:
			case first == nil:
				goes[of] = c
			default:
				first.panel, c.panel = true, true
			}
		}
	}
	p.panels(loose)
}

// goingOn is a chain with satin that goes on beyond it, and its rounds without that.
type goingOn struct {
	c      *chain
	rounds []*round
}

// panels keeps the chains that share their satin with others. Without a tack-down that goes
// on alone is as likely to belong to something else.
func (p *finder) panels(loose []goingOn) {
	n := len(p.chains)
	for _, s := range loose {
		if t := s.c.line; !s.c.panel {
			s.c.rounds = s.rounds
		} else if t.chain == nil {
			t.chain = s.c
			p.chains = append(p.chains, s.c)
		}
	}
	if len(p.chains) > n {
		slices.SortFunc(p.chains, func(a, b *chain) int { return int(a.line.index - b.line.index) })
		p.lineThread()
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

// shared joins what goes on beyond a chain to its rounds, and measures them anew. It gives the
// satins of those rounds; none where nothing goes on.
func (c *chain) shared(p *finder, block []*Trace) (on []*Trace) {
	old := c.rounds
	measured := len(old) > 0 && p.mayBePiece(c)
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
		return nil
	}
	seam := c.seam(p, block)
	enough := func(r *round) bool {
		hidden := r.mask.or(seam)
		return float64(hidden.count()) >= sharedWhole*float64(c.samples)
	}
	c.rounds = slices.DeleteFunc(c.rounds, func(r *round) bool { return added[r] && !enough(r) })
	if len(c.rounds) > mostRounds || !slices.ContainsFunc(c.rounds, func(r *round) bool { return added[r] }) {
		c.rounds = old
		return nil
	}
	for _, r := range c.rounds {
		if added[r] || !measured {
			r.share = float64(r.mask.count()) / float64(c.samples)
			p.measureRound(c, r)
		}
		if added[r] {
			p.withinBreadth(r)
			on = append(on, r.traces...)
		}
	}
	return on
}

// withinBreadth keeps how far a shared satin reaches to either side to what it is wide: where
// it goes on beyond the corners of a piece, its holes lie farther off.
func (p *finder) withinBreadth(r *round) {
	half := 0.0
	for _, t := range r.traces {
		for _, b := range t.Bands {
			half = max(half, p.satin.Bands[b].Width/2)
		}
	}
	mid := (r.q1 + r.q3) / 2
	r.lo, r.hi = max(r.lo, mid-half), min(r.hi, mid+half)
}

// passes marks the places of the line of a chain that a satin lies over. The satin may
// be far longer than the line.
func (c *chain) passes(t *Trace) stretch {
	s, _ := c.lies(t, max(1, len(t.Line)/(4*maskBits)), sharedWithin, len(t.Line))
	return s
}
