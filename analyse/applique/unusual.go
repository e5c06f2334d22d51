package applique

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/report"
)

// preCutEvidence weighs a line that nothing but its cover follows.
func (p *finder) preCutEvidence(c *chain, o *option) evidence {
	e := preCut
	r := o.cover[0]
	switch mid := (r.lo + r.hi) / 2; {
	case r.made == satinMade && (r.q1 > besideLine || r.q3 < -besideLine || r.mean > coverBeside):
		e += preCutAside
	case math.Abs(mid) < centred:
		e += preCutCentre
	}
	if r.stop == c.line.Stop+1 {
		e += preCutNext
	}
	if c.panel {
		e += preCutPanel
	}
	if r.made != satinMade {
		e += preCutZigzag
	}
	if !c.line.Closed {
		e += 2 * lineOpen
	}
	if r.made != satinMade && p.roundEverything(c) {
		e += rawRound
	}
	if !c.panel && p.twoUnderlays(c, o) {
		e += underlayTwo
	}
	switch {
	case c.from != nil:
		e += tackAside
	case c.astray != nil:
		e += tackAstray
	}
	if c.buriedLine(r) {
		e += lineBuried
	}
	return e
}

// twoUnderlays reports whether the line is one of two that a stop sews to either
// side of a satin's middle: an edge-run underlay.
func (p *finder) twoUnderlays(c *chain, o *option) bool {
	r := o.cover[0]
	mid := (r.lo + r.hi) / 2 // of the satin, from the line
	return math.Abs(mid) > max(0.5, 0.1*r.width()) && r.lo < -0.2 && r.hi > 0.2 && r.made == satinMade
}

// rawEvidence weighs a line and a tack-down that no cover follows.
func (p *finder) rawEvidence(c *chain, o *option) evidence {
	e := rawEdge
	t := o.tack
	finish := c.finishLine(t)
	switch {
	case c.lost != nil && t.middle >= outsideLine:
		e += rawLost
	case finish != nil:
		e += rawInside
	case t.made == zigzag || t.made == blanket:
		e += rawZigzag
		if t.middle > rawLeast && t.middle < rawMost && len(c.covers(t)) == 0 {
			e += rawZigzagIn
		}
	case t.middle < outsideLine:
		e += rawOutside
	case t.middle > rawLeast && t.middle < rawMost:
		e += rawInside
	case c.finishedOn(t) != nil:
		e += rawFinished
	default:
		e += rawOnLine
	}
	if p.holdsNone(t) {
		e += rawNarrow
	}
	if c.echoes() {
		e += rawEcho
	} else if t.rings() >= ringsFewest {
		e += rawRings
	}
	if p.tacksTwo(c, t) {
		e += rawBetween
	} else if p.crowded(c) {
		e += rawCrowded
		o.loose = rawCrowded
	}
	o.bare = c.line.Closed && !slices.ContainsFunc(c.rounds, func(r *round) bool { return r.first() > t.first() && r.mayCover(t.middle) })
	o.alone = o.bare && p.pairAlone(c, t)
	again := slices.IndexFunc(c.rounds, func(r *round) bool {
		return r.first() > t.first() && r.stop > t.stop && r.middle > rawLeast && r.middle < rawMost
	})
	switch {
	case again >= 0 && (!t.made.line() || c.rounds[again].made > t.made):
		e += rawAgain
	case again >= 0:
		// Lines side by side, each like the last, are frames as well.
	case c.heavy() && t.made < triple:
		e += rawLighter
		o.lighter = true
	}
	if c.line.blanket {
		e += rawLighter // it shows, whatever follows
	}
	if !c.line.Closed {
		e += 2 * lineOpen
	}
	if p.roundEverything(c) {
		e += rawRound
	}
	return e
}

// pairAlone reports whether a line and what follows it in another stop are all that their
// stops sew, but for lines of other pieces and what follows those, and nobody sews the two
// for their looks: a zigzag or a blanket stitch along a line, or a line on the very line before
// it. The machine stops between them for the hands.
func (p *finder) pairAlone(c *chain, tack *round) bool {
	if tack.stop == c.line.Stop || tack.share < wholeShare || tack.made == satinMade || tack.made == motif || tack.far {
		return false
	}
	if tack.made.line() && (math.Abs(tack.middle) >= rawLeast || tack.width() >= sketchEven) {
		return false
	}
	return p.lineMM[c.line.Stop] >= pairShare*p.sewnMM[c.line.Stop] && p.followMM[tack.stop] >= pairShare*p.sewnMM[tack.stop] && !p.holdsLines(c)
}

// holdsLines reports whether shorter lines of later stops that something follows lie within a
// line, for the most part: it is that of a ground.
func (p *finder) holdsLines(c *chain) bool {
	return c.remember('h', 0, 0, func() float64 {
		for _, o := range p.chains {
			if o.line.Stop > c.line.Stop && o.line.Closed && o.ahead == 0 && o.line.Length < c.line.Length && encloses(c.line.Box, o.line.Box, min(o.line.Box.Width(), o.line.Box.Height())/2) {
				return 1
			}
		}
		return 0
	}) > 0
}

const pairShare = 0.9 // of the thread of a stop: the rest are ties and the ways between

// finishLine is the heavy line that finishes a raw edge: sewn in a stop after the tack-down,
// along it and further inside the line, where the edge is to be left. Nil for none.
func (c *chain) finishLine(tack *round) *round {
	if tack.middle < outsideLine {
		return nil
	}
	for _, r := range c.rounds {
		if r.stop > tack.stop && r.made == triple && (tack.made != triple || !c.heavy()) && r.share >= finishShare &&
			r.middle > max(rawLeast, tack.middle) && r.middle < rawMost && r.width() < tackEven {
			return r
		}
	}
	return nil
}

// finishedBy is the stop, from 1, that sews the line which finishes a raw edge; 0 for none.
func (c *chain) finishedBy(tack *round) int {
	for _, r := range []*round{c.finishLine(tack), c.finishedOn(tack)} {
		if r != nil {
			return r.stop + 1
		}
	}
	return 0
}

// finishShare is how much of an edge its finish goes over at least: one that breaks off along
// less than a seventh is still its finish.
const finishShare = 0.86

// finishedOn is the heavy line of a stop after the tack-down, with none lighter after it, that
// goes over it, where line and tack-down are light and all three are made of one outline: the
// finish of an edge that is cut close to them. Nil for none.
func (c *chain) finishedOn(tack *round) (heavy *round) {
	if c.heavy() || tack.made >= triple || tack.stop == c.line.Stop || tack.width() >= sketchEven {
		return nil
	}
	for _, r := range c.rounds {
		if r.stop <= tack.stop || !r.made.line() || math.Abs(r.middle-tack.middle) >= rawLeast || r.share < finishShare {
			continue
		}
		if heavy = nil; r.made == triple && r.width() < sketchEven {
			heavy = r
		}
	}
	return heavy
}

// holdsNone reports whether a line is too narrow to hold cloth with an edge to be seen, and
// nothing is sewn over it that would be its cover.
func (p *finder) holdsNone(r *round) bool {
	if len(r.traces) != 1 {
		return false
	}
	t := r.traces[0]
	return t.Closed && t.breadth() < rawBreadth && p.fills(t, fillShare, t.Spans[len(t.Spans)-1][1], len(p.sewn.Track.Pts)) <= fillShare
}

// heavy reports whether the line is a triple or a bean line.
func (c *chain) heavy() bool { return c.line.Kind == report.KindTripleRun || c.line.times > 2 }

// edgeRun reports whether a line that a satin's stop sews first is one of two that lie as
// far to either side of the satin's middle: its edge-run underlay, and no tack-down.
func (c *chain) edgeRun(line, over *round) bool {
	mid := (over.q1 + over.q3) / 2
	if over.made != satinMade || !line.made.line() || math.Abs(line.middle-mid) <= underlayApart {
		return false
	}
	return slices.ContainsFunc(c.rounds, func(r *round) bool {
		return r != line && r.stop == line.stop && r.made.line() && math.Abs(r.middle+line.middle-2*mid) < underlayEven
	})
}

// zigzagUnderlay reports whether a zigzag of the line's stop and the line are underlay of a later
// satin: the zigzag lies midway under it, and the line is one of two that lie as far to either side.
func (c *chain) zigzagUnderlay(zig, over *round) bool {
	mid := (over.lo + over.hi) / 2
	if zig.made != zigzag || over.made != satinMade || math.Abs(zig.middle-mid) > underlayEven || zig.width() >= over.width() {
		return false
	}
	if c.echo && 2*math.Abs(mid) > underlayApart {
		return true // the other was sewn first
	}
	return slices.ContainsFunc(c.rounds, func(r *round) bool {
		return r.stop == zig.stop && r.made.line() && math.Abs(r.middle) > underlayApart && math.Abs(r.middle-2*mid) < underlayEven
	})
}

// dotted reports whether a round is a row of dots, such as pearls of satin, along a line so
// many mm long: most of its columns are hardly longer than it is wide, and gaps lie between.
func (r *round) dotted(along float64) bool {
	if r.made != satinMade || len(r.traces) < dotsFewest {
		return false
	}
	dots, sewn := 0, 0.0
	for _, t := range r.traces {
		sewn += t.Length
		if t.Length < dotLongest*r.width() {
			dots++
		}
	}
	return 2*dots > len(r.traces) && sewn < dotsShare*along
}

// rings is how many lines of its stop lie in one another beside a line of a round, each along
// the one before.
func (r *round) rings() (n int) {
	t := r.traces[0]
	for ; n < ringsFewest && t != nil && t.chain != nil; n++ {
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
