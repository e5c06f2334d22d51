package applique

import (
	"math"
	"slices"
)

// twoUnderlays reports whether the line is one of two that a stop sews to either
// side of a satin's middle: an edge-run underlay.
func (p *finder) twoUnderlays(c *chain, o *option) bool {
	r := o.cover[0]
	mid := (r.lo + r.hi) / 2 // of the satin, from the line
	return math.Abs(mid) > max(0.5, 0.1*r.width()) && r.lo < -0.2 && r.hi > 0.2 && r.made == satinMade
}

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

// zigzagBeside reports whether a zigzag lies midway under a satin that leaves the line bare, and
// hides it nowhere: both go along the line, which is a run beside the satin's edge.
func zigzagBeside(zig, over *round) bool {
	return zig.made == zigzag && over.made == satinMade && (over.lo > lineBare || over.hi < -lineBare) && math.Abs(zig.middle-(over.lo+over.hi)/2) < underlayEven
}

// underSatin reports whether the first of the rounds is no satin and its stop goes on to one:
// zigzags that are sewn there and back are its underlay, and the satin is the cover.
func underSatin(rounds []*round) bool {
	if rounds[0].made == satinMade {
		return false
	}
	for _, r := range rounds[1:] {
		if r.stop == rounds[0].stop && r.made == satinMade {
			return true
		}
	}
	return false
}

// ownCover reports whether a round is one satin that closes round a line and finishes its edge
// alone; one that finishes several goes on along the others.
func (r *round) ownCover(line *Trace) bool {
	t := r.traces[0]
	return len(r.traces) == 1 && r.share >= wholeShare && t.Closed && t.Length < ownLonger*line.Length
}

// ownLonger is how many times as long as its line such a satin may be.
const ownLonger = 1.25
