package applique

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
)

// A tack-down that was moved away from its placement line, its cover with it, is a slip
// that none of what follows the line tells: nothing does. It shows as a line that is left
// alone, and a later one that is the same line elsewhere, with a cover of its own. One that
// was moved away alone, or set out too far, shows as a line left alone that is sewn between
// the line and its cover.
const (
	asideMost  = 12.0 // mm that it may have been moved by: what lies farther off is the figure sewn again
	asideShare = 0.35 // of the lesser breadth of its box: the same
	outMost    = 6.5  // mm outside its line that a tack-down may lie evenly: what lies farther out frames the piece
	asideRough = 1.5  // mm that the middle of a zigzag may wander from its line at corners
	asideIn    = 1.2  // mm that it may lie inside the line on each side besides: so do tack-downs
)

// findAside finds, for each chain whose line a cover lies over, the line that it was moved
// away from, or else the tack-down that was moved away from under that cover.
func (p *finder) findAside() {
	taken := map[*Trace]bool{}
	for _, c := range p.chains {
		t := c.line
		if p.looks > mostLooks || !t.goesRound() || c.ahead > 0 || c.echo {
			continue
		}
		over := c.coverRound()
		if over == nil {
			continue
		}
		if of, by := p.asideOf(c, 0, p.firstOf[t.Stop], taken, func(of *Trace) (float64, bool) { return movedBy(t, of) }); of != nil {
			c.from, c.moved = of, by
		} else if t.Closed {
			c.astray, c.moved = p.asideOf(c, p.firstOf[t.Stop+1], p.firstOf[over.stop], taken, func(of *Trace) (float64, bool) {
				by, ok := movedBy(of, t)
				if ok = ok && by > farLeast; !ok {
					by, ok = c.setOut(of)
				}
				return by, ok && !c.maybeHeld(over, of)
			})
			if c.astray != nil && c.astray.chain != nil {
				c.astray.chain.again = true
			}
		}
	}
}

// asideOf finds a line left alone among the traces from one to before another that is that
// of a chain elsewhere, and how many mm away; nil for none.
func (p *finder) asideOf(c *chain, from, to int32, taken map[*Trace]bool, elsewhere func(*Trace) (float64, bool)) (*Trace, float64) {
	near := p.tracesNear(c.line.Line, asideMost, from, to)
	p.watch.Step(len(near))
	for _, k := range near {
		of := &p.traces[k]
		if of == c.line || !of.goesRound() || !BoxesAlike(of.Box, c.line.Box, 2*asideMost) || taken[of] || !p.leftAlone(c, of) {
			continue
		}
		if p.looks++; p.looks > mostLooks {
			p.cap("comparisons of stitching with a line", mostLooks)
			break
		}
		p.watch.Step(2 * likenessSamples)
		if by, ok := elsewhere(of); ok {
			taken[of] = true
			return of, by
		}
	}
	return nil, 0
}

// goesRound reports whether a line, or the middle of an open zigzag but for its seam, closes.
func (t *Trace) goesRound() bool {
	return isLine(t) && t.Length >= leastLength && (t.Closed || t.Kind.Surface() && t.Opening <= seamOpen)
}

// coverRound is the first round of a later stop that lies all along the line, and over it.
func (c *chain) coverRound() *round {
	for _, r := range c.rounds {
		if r.stop > c.line.Stop && r.mayCover(0) && r.share >= FollowShare && r.mean < coverBeside {
			return r
		}
	}
	return nil
}

// maybeHeld reports whether anything but a line that is astray lies along that of the chain
// before its cover, where a tack-down should be.
func (c *chain) maybeHeld(cover *round, astray *Trace) bool {
	return slices.ContainsFunc(c.rounds, func(r *round) bool {
		return r.stop > c.line.Stop && r.stop < cover.stop && r.middle > -farLeast && !slices.Contains(r.traces, astray)
	})
}

// setOut is how far a line lies outside that of the chain, evenly all round.
func (c *chain) setOut(t *Trace) (by float64, ok bool) {
	even := farEven
	if t.Kind.Surface() {
		even = asideRough
	}
	off, share := distances(t.Line, c.line, outMost+even)
	if share < 1 || t.Box.Width() < c.line.Box.Width() || t.Box.Height() < c.line.Box.Height() || !t.Inside().Has(c.line.Line[0]) {
		return 0, false
	}
	by = geom.QuantileOf(off, 0.5)
	return by, by > farLeast && by <= outMost && geom.QuantileOf(off, 0.94)-geom.QuantileOf(off, 0.06) <= even
}

// leftAlone reports whether a line follows none but the chain's, and no other goes the way
// of it.
func (p *finder) leftAlone(c *chain, t *Trace) bool {
	if p.ofBlock(t) || slices.ContainsFunc(p.followed[t.index], func(o *chain) bool { return o != c }) {
		return false
	}
	return t.chain == nil || !slices.ContainsFunc(t.chain.rounds, func(r *round) bool {
		return r.share >= FollowShare && (r.stop == t.Stop || r.mean < coverBeside && (r.made.line() || r.width() >= narrowCover))
	})
}

// movedBy is how far in mm a line lies aside of another, the same one but for what a
// tack-down lies inside its line.
func movedBy(t, of *Trace) (by float64, ok bool) {
	a, b := of.Box, t.Box
	by = geom.Distance(a.Middle(), b.Middle())
	if by > asideMost || by > asideShare*min(a.Width(), a.Height()) {
		return 0, false
	}
	rough := movedAlike
	if t.Kind.Surface() {
		rough = asideRough
	}
	for _, d := range [...]float64{a.Width() - b.Width(), a.Height() - b.Height()} {
		if d < -rough || d > 2*asideIn+rough {
			return 0, false
		}
	}
	back := make([]geom.Point, len(t.Line))
	for i, q := range t.Line {
		back[i] = q.Add(a.Middle().Sub(b.Middle()))
	}
	off, share := distances(back, of, FollowWithin)
	if share < 1 {
		return 0, false
	}
	middle := geom.QuantileOf(off, 0.5)
	return by, middle <= asideIn && geom.QuantileOf(off, 0.95)-middle <= rough &&
		math.Abs(geom.PolygonArea(t.Line)) >= 0.7*math.Abs(geom.PolygonArea(of.Line))
}
