package applique

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/report"
)

// findChains finds the lines that something follows. What later stops sew along them is
// looked for first. Where they sew nothing along any line of a stop, it makes no piece:
// nothing can be laid between what one stop sews (see oneStopAll). What its own lines
// follow is asked then of the closed ones alone, which tell pieces whose pauses were
// lost, and are no net over other lines.
func (p *finder) findChains() {
	var lines []*Trace
	for i := range p.traces {
		t := &p.traces[i]
		if t.Length < leastLength || t.Kind == report.KindSatin || t.Kind == report.KindFill || t.knots || winds(t) {
			continue
		}
		if len(lines) == mostTraces {
			p.cap("lines", mostTraces)
			break
		}
		lines = append(lines, t)
	}
	chains := make([]*chain, len(lines))
	followed := make([]bool, len(p.sewn.Stops))
	end := int32(len(p.traces))
	for i, t := range lines {
		if later := p.firstOf[t.Stop+1]; later < end {
			chains[i] = newChain(t)
			p.findRounds(chains[i], later, end)
			followed[t.Stop] = followed[t.Stop] || len(chains[i].rounds) > 0
		}
	}
	for i, t := range lines {
		c := chains[i]
		if t.Closed || followed[t.Stop] || p.said != nil {
			if c == nil {
				c = newChain(t)
			}
			later := c.rounds
			c.rounds = nil
			p.findRounds(c, t.index+1, p.firstOf[t.Stop+1])
			c.rounds = append(c.rounds, later...)
		}
		if c == nil || len(c.rounds) == 0 {
			continue
		}
		if len(c.rounds) > mostRounds {
			p.cap("rounds along one line", mostRounds)
			c.rounds = c.rounds[:mostRounds]
		}
		if p.mayBePiece(c) || t.Closed && slices.ContainsFunc(c.rounds, (*round).hasSurface) {
			for _, r := range c.rounds {
				p.measureRound(c, r)
			}
			c.holdsOpen()
		}
		if t.Kind == report.KindOpenZigzag {
			t.blanket = t.toothed(p.sewn.Track.Pts)
		}
		t.chain = c
		p.chains = append(p.chains, c)
	}
}

// holdsOpen tells satin that is too open to hide an edge, and that stitching of a later stop
// goes over all along: it may be a close zigzag that holds cloth.
func (c *chain) holdsOpen() {
	for i, r := range c.rounds {
		if r.made == satinMade && r.stop > c.line.Stop && r.thread*openPitch < 2*r.width() {
			r.sparse = r.sparse || slices.ContainsFunc(c.rounds[i+1:], func(s *round) bool { return s.stop > r.stop && s.share >= wholeShare && s.middle > outsideLine })
		}
	}
}

// mayBePiece reports whether a stop after that of the line sews something along it, or a
// person may have said that its own does.
func (p *finder) mayBePiece(c *chain) bool {
	return p.said != nil || c.rounds[len(c.rounds)-1].stop > c.line.Stop
}

func (r *round) hasSurface() bool {
	return slices.ContainsFunc(r.traces, func(t *Trace) bool { return t.Kind.Surface() })
}

// findRounds gathers what follows the line of a chain, of the traces from one to before
// another.
func (p *finder) findRounds(c *chain, from, to int32) {
	if p.looks > mostLooks {
		return // nothing more is compared
	}
	last := c.line.Spans[len(c.line.Spans)-1][1]
	for _, k := range p.tracesNear(c.line.Line, c.reach, from, to) {
		t := &p.traces[k]
		if t == c.line || t.Spans[0][0] < last-1 || t.knots {
			continue
		}
		if p.looks++; p.looks > mostLooks {
			p.cap("comparisons of stitching with a line", mostLooks)
			break
		}
		g := c.guide()
		before := g.looked
		if s, ok := c.along(t); ok {
			c.join(t, s)
		}
		looked := g.looked - before
		p.looks += looked / sidesALook
		p.watch.Step(looked)
	}
	c.rounds = slices.DeleteFunc(c.rounds, func(r *round) bool {
		r.share = float64(r.mask.count()) / float64(c.samples)
		return r.share < leastShare
	})
}
