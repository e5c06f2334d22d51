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
	case r.made == satinMade && (r.q1 > besideLine || r.q3 < -besideLine):
		e += preCutAside
	case math.Abs(mid) < centred:
		e += preCutCentre
	}
	if r.stop == c.line.Stop+1 {
		e += preCutNext
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
	if p.twoUnderlays(c, o) {
		e += underlayTwo
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
	switch {
	case t.made == zigzag || t.made == blanket:
		e += rawZigzag
		if t.middle > rawLeast && t.middle < rawMost && len(c.covers(t)) == 0 {
			e += rawZigzagIn
		}
	case t.middle < outsideLine:
		e += rawOutside
	case t.middle > rawLeast && t.middle < rawMost:
		e += rawInside
	default:
		e += rawOnLine
	}
	if c.echoes() {
		e += rawEcho
	}
	if p.tacksTwo(c, t) {
		e += rawBetween
	} else if p.crowded(c) {
		e += rawCrowded
	}
	again := slices.IndexFunc(c.rounds, func(r *round) bool {
		return r.first() > t.first() && r.stop > t.stop && r.middle > rawLeast && r.middle < rawMost
	})
	switch {
	case again >= 0:
		e += rawAgain
	case c.heavy() && t.made < triple:
		e += rawLighter
	}
	if !c.line.Closed {
		e += 2 * lineOpen
	}
	if p.roundEverything(c) {
		e += rawRound
	}
	return e
}

// heavy reports whether the line is a triple or a bean line.
func (c *chain) heavy() bool { return c.line.Kind == report.KindTripleRun || c.line.times > 2 }
