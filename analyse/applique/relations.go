package applique

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
)

// relate finds how the chains of a design lie to one another: which lines follow
// lines of earlier stops, or lie side by side with another of their own.
func (p *finder) relate() {
	p.followed = map[int32][]*chain{}
	for _, c := range p.chains {
		for _, r := range c.rounds {
			for _, t := range r.traces {
				p.followed[t.index] = append(p.followed[t.index], c)
				if t.chain != nil && t.Stop > c.line.Stop {
					t.chain.follows = true
				}
				switch {
				case t.chain == nil || !c.line.Closed:
				case t.Stop > c.line.Stop:
					t.chain.ahead++
					t.chain.second = t.chain.second || r.goesOver()
				default:
					t.chain.echo = true
				}
			}
		}
		c.tellRounds()
	}
}

// goesOver reports whether a round is the line itself sewn once more, of one outline with it.
func (r *round) goesOver() bool {
	return r.made.line() && r.share >= wholeShare && math.Abs(r.middle) < rawLeast && r.width() < sketchEven
}

// tellRounds tells lines that are rounds of one tack-down: of one later stop, near to one
// another along the line of the chain. So does it tell the tack-down of a raw edge that a
// heavy line finishes: that line holds no cloth laid over the tack-down.
func (c *chain) tellRounds() {
	if !c.line.Closed && c.line.Opening > roundsOpen*c.line.Length {
		return
	}
	tell := func(r *round) {
		for _, t := range r.traces {
			if t.chain != nil {
				t.chain.again = true
			}
		}
	}
	for i, r := range c.rounds {
		if r.stop == c.line.Stop || r.made == satinMade {
			continue
		}
		if c.finishLine(r) != nil {
			tell(r)
		}
		for _, s := range c.rounds[i+1:] {
			if s.stop == r.stop && s.made != satinMade && math.Abs(s.middle-r.middle) <= roundsOfTack {
				tell(r)
				tell(s)
			}
		}
	}
}

// echoes reports whether the line is one of several side by side in its stop.
func (c *chain) echoes() bool {
	return c.echo || slices.ContainsFunc(c.rounds, func(r *round) bool { return r.stop == c.line.Stop && r.made.line() })
}

// tacksTwo reports whether a tack-down follows another line of the same stop as well.
func (p *finder) tacksTwo(c *chain, r *round) bool {
	for _, t := range r.traces {
		for _, o := range p.followed[t.index] {
			if o != c && o.line.Stop == c.line.Stop {
				return true
			}
		}
	}
	return false
}

// roundEverything reports whether a line goes round nearly all that is sewn, and
// other lines that something follows lie inside: such as come after it, or are followed
// before it, which cloth laid over it would bury.
func (p *finder) roundEverything(c *chain) bool {
	return c.remember('r', 0, 0, func() float64 {
		if p.goesRound(c) {
			return 1
		}
		return 0
	}) > 0
}

func (p *finder) goesRound(c *chain) bool {
	if p.ofBlock(c.line) {
		return true
	}
	all := p.all
	b := c.line.Box
	if b.Lo.X > all.Lo.X+roundSlackB || b.Lo.Y > all.Lo.Y+roundSlackB || b.Hi.X < all.Hi.X-roundSlackB || b.Hi.Y < all.Hi.Y-roundSlackB {
		return false
	}
	for _, o := range p.chains {
		if !o.line.Closed || o.line.Box.Width() >= 0.9*b.Width() || o.ahead > 0 || c.holdsFar(o.line) {
			continue
		}
		if o.line.Stop > c.line.Stop || o.followedBefore(c.line.Stop) {
			return true
		}
	}
	return false
}

// followedBefore reports whether another stop than that of its line, before the one given,
// sews all along the line of a chain.
func (c *chain) followedBefore(stop int) bool {
	return slices.ContainsFunc(c.rounds, func(r *round) bool { return r.stop > c.line.Stop && r.stop < stop && r.share >= wholeShare })
}

// crowded reports whether another closed line of the chain's stop comes near, beside it:
// a cloth with its raw edge outside its tack-down has no room there, nor has a second
// one that is laid with it.
func (p *finder) crowded(c *chain) bool {
	return c.remember('c', 0, 0, func() float64 {
		stop := c.line.Stop
		if slices.ContainsFunc(p.tracesNear(c.line.Line, roomBetween, p.firstOf[stop], p.firstOf[stop+1]), func(k int32) bool { return p.besideLine(c, &p.traces[k]) }) {
			return 1
		}
		return 0
	}) > 0
}

// besideLine reports whether a line of the stop of a chain is closed and comes near to the
// chain's, neither of them in the other.
func (p *finder) besideLine(c *chain, t *Trace) bool {
	return t != c.line && t.Closed && t.Length >= leastLength &&
		!c.line.Inside().Has(t.Line[0]) && !t.Inside().Has(c.line.Line[0]) && p.mayCompare() &&
		slices.ContainsFunc(t.Line, func(q geom.Point) bool { _, at, _ := c.guide().nearest(q, roomBetween); return at >= 0 })
}

// onBlock reports whether a piece lies on a block whose outline is sewn before it and
// goes another way: a piece that fills much of its block, as ground or sky does.
func (p *finder) onBlock(k *Piece) bool {
	for i := range p.traces {
		t := &p.traces[i]
		if t.Stop >= k.Place.Stop {
			break
		}
		if t.Closed && isLine(t) && encloses(t.Box, k.Place.Box, roundAll) && p.mayCompare() && !alike(t, k.Place, roundSlack/2) {
			return true
		}
	}
	return false
}
