package applique

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
)

// A tack-down that was moved away from its placement line, its cover with it, is a slip
// that none of what follows the line tells: nothing does. It shows as a line that is left
// alone, and a later one that is the same line elsewhere, with a cover of its own.
const (
	asideMost  = 12.0 // mm that it may have been moved by: what lies farther off is the figure sewn again
	asideShare = 0.35 // of the lesser breadth of its box: the same
	asideRough = 1.5  // mm that the middle of a zigzag may wander from its line at corners
	asideIn    = 1.2  // mm that it may lie inside the line on each side besides: so do tack-downs
)

// findAside finds, for each chain whose line a cover lies over, the line that it was moved
// away from.
func (p *finder) findAside() {
	taken := map[*Trace]bool{}
	for _, c := range p.chains {
		t := c.line
		if !t.Closed && (!t.Kind.Surface() || t.Opening > seamOpen) || c.ahead > 0 || c.echo || t.Stop == 0 || p.looks > mostLooks ||
			!slices.ContainsFunc(c.rounds, func(r *round) bool {
				return r.stop > t.Stop && r.mayCover(0) && r.share >= FollowShare && r.mean < coverBeside
			}) {
			continue
		}
		for _, k := range p.tracesNear(t.Line, asideMost, 0, p.firstOf[t.Stop]) {
			of := &p.traces[k]
			if !of.Closed || !isLine(of) || taken[of] || of.Length < leastLength || !p.leftAlone(of) {
				continue
			}
			if p.looks++; p.looks > mostLooks {
				p.cap("comparisons of stitching with a line", mostLooks)
				return
			}
			p.watch.Step(2 * likenessSamples)
			if by, ok := movedBy(t, of); ok {
				c.from, c.moved, taken[of] = of, by, true
				break
			}
		}
	}
}

// leftAlone reports whether a line follows none, and no other goes the way of it.
func (p *finder) leftAlone(t *Trace) bool {
	if p.ofBlock(t) || len(p.followed[t.index]) > 0 {
		return false
	}
	return t.chain == nil || !slices.ContainsFunc(t.chain.rounds, func(r *round) bool {
		return r.share >= FollowShare && (r.stop == t.Stop || r.lo < tackNear && r.hi > -tackNear && (r.made.line() || r.width() >= narrowCover))
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
