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
	e += preCutBy(r.made)
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

// preCutBy weighs what the cover alone is to hold the cloth by.
func preCutBy(made sewing) evidence {
	switch made {
	case satinMade:
		return 0
	case motif:
		return preCutMotif
	}
	return preCutZigzag
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
	} else if encloses(c.line.Box, p.all, roundSlackB) && c.framed(t) {
		e += rawFramed
	}
	return e
}

// framed reports, of a line that nearly all lies within, whether a line of a stop after a tack-down goes all along outside the line of
// the chain, where no cloth lies.
func (c *chain) framed(tack *round) bool {
	return slices.ContainsFunc(c.rounds, func(r *round) bool {
		return r.stop > tack.stop && r.made.line() && r.share >= wholeShare && r.middle < -rawLeast && r.width() < sketchEven
	})
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

// holdsLines reports whether shorter lines of later stops that another stop follows lie within a
// line, for the most part: it is that of a ground.
func (p *finder) holdsLines(c *chain) bool {
	return c.remember('h', 0, 0, func() float64 {
		for _, o := range p.chains {
			if o.line.Stop > c.line.Stop && o.followedBefore(len(p.sewn.Stops)) && o.line.Closed && o.ahead == 0 && o.line.Length < c.line.Length && encloses(c.line.Box, o.line.Box, min(o.line.Box.Width(), o.line.Box.Height())/2) {
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

// lineMade is how the line is sewn, as far as that tells placement lines from others.
func (c *chain) lineMade() sewing {
	switch t := c.line; {
	case t.Kind == report.KindOpenZigzag && t.blanket:
		return blanket
	case t.Kind == report.KindOpenZigzag:
		return zigzag
	case c.heavy():
		return triple
	case t.Kind == report.KindDoubleRun:
		return double
	}
	return single
}
