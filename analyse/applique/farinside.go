package applique

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
)

// A tack-down that lies evenly inside its line, further than any is drawn, is a slip of
// the digitiser's, and a grave one: cloth that is trimmed close to it ends inside the
// cover that lies over the line. It is looked for apart from what follows the line
// closely, since echoes, and figures in figures, lie as far off.
const (
	farLeast = 2.5  // mm inside: so far in tack-downs are drawn
	farMost  = 6.5  // mm inside: what lies further in belongs to something else
	farEven  = 1.2  // mm that its distance from the line may vary by: it is the line drawn in
	farShare = 0.9  // of the line that it must lie along; at a sharp tip it lies further in
	farNear  = 1.0  // mm that it lies inside on each side at least
	farCopy  = 0.6  // mm that the line drawn smaller may lie off it, when it is drawn as large again
	farTip   = 1.6  // times as far in it lies at a corner of 80 degrees
	farTrim  = 1.0  // mm from the tack-down that cloth is trimmed at (common practice, no single source)
	farReach = 11.0 // mm that lines are compared within: at a corner it lies further in
)

// findFar marks, in the chains over whose line a cover lies, the line that lies evenly
// and far inside it. It adds those that follow the line too far off to be rounds of it
// otherwise.
func (p *finder) findFar() {
	for _, c := range p.chains {
		if !c.line.Closed || c.line.Kind.Surface() {
			continue
		}
		over := slices.IndexFunc(c.rounds, func(r *round) bool { return r.stop > c.line.Stop+1 && r.mayCover(0) })
		if over < 0 || p.looks > mostLooks {
			continue
		}
		cover := c.rounds[over].stop
		for _, k := range p.tracesNear(c.line.Line, farMost, p.firstOf[c.line.Stop+1], p.firstOf[cover]) {
			t := &p.traces[k]
			if !t.Closed || !isLine(t) || t.Kind.Surface() {
				continue
			}
			if p.looks++; p.looks > mostLooks {
				p.cap("comparisons of stitching with a line", mostLooks)
				break
			}
			if r := p.farRound(c, t); r != nil {
				c.putFar(r)
			}
		}
	}
}

// putFar marks the round that a far line is already, or adds it.
func (c *chain) putFar(r *round) {
	for _, o := range c.rounds {
		if slices.Contains(o.traces, r.traces[0]) {
			if len(o.traces) == 1 {
				o.far, o.deep, o.lo, o.middle, o.hi, o.share, o.mask = true, r.deep, r.lo, r.middle, r.hi, 1, r.mask
			}
			return
		}
	}
	at, _ := slices.BinarySearchFunc(c.rounds, r.first(), func(o *round, first int) int { return o.first() - first })
	c.rounds = slices.Insert(c.rounds, at, r)
}

// farRound is a line as a round of a chain, where it lies evenly and far inside the
// chain's line, and nil where it does not.
func (p *finder) farRound(c *chain, t *Trace) *round {
	a, b := c.line.Box, t.Box
	for _, d := range []float64{b.Lo.X - a.Lo.X, b.Lo.Y - a.Lo.Y, a.Hi.X - b.Hi.X, a.Hi.Y - b.Hi.Y} {
		if d < farNear {
			return nil
		}
	}
	p.watch.Step(2 * likenessSamples)
	farthest := 0.0
	off := make([]float64, 0, likenessSamples)
	n, step := 0, max(1, len(t.Line)/likenessSamples)
	for i := 0; i < len(t.Line); i += step {
		n++
		d, at, _ := c.guide().nearest(t.Line[i], farReach)
		if at < 0 || !c.line.Inside().Has(t.Line[i]) {
			return nil
		}
		off = append(off, d)
	}
	slices.Sort(off)
	r := &round{traces: []*Trace{t}, stop: t.Stop, far: true, made: single, share: 1,
		lo: geom.Quantile(off, 0.06), middle: geom.Quantile(off, 0.5), hi: geom.Quantile(off, 0.94)}
	r.deep = r.hi
	switch {
	case r.middle > farLeast && r.middle <= farMost && r.width() <= farEven:
	case r.hi > farLeast && r.middle <= farMost && r.width() > farEven && c.copyOf(t):
		r.lo, r.hi = r.middle, r.middle // it is even for what it is
		farthest = farReach
	default:
		return nil
	}
	if !mostlyNear(c.line.Line, t, max(farthest, farTip*r.middle), farShare) {
		return nil
	}
	for i := range c.samples {
		r.mask.set(i)
	}
	r.mean, r.thread = r.middle, t.sewn/max(1, t.Length)
	switch {
	case r.thread > tripleThread:
		r.made = triple
	case r.thread > doubleThread:
		r.made = double
	}
	return r
}

// farOut reports whether a round lies evenly outside its line, further than any tack-down is
// drawn: the same slip the other way. The cloth is cut outside it, beyond the cover.
func (r *round) farOut() bool {
	return r.made.line() && r.middle < -farLeast && r.width() <= farEven && r.share >= farShare
}

// copyOf reports whether a line is the chain's line drawn smaller about its middle: the
// tack-down of another size of the design.
func (c *chain) copyOf(t *Trace) bool {
	a, b := c.line.Box, t.Box
	if b.Width() <= 0 || b.Height() <= 0 || geom.Distance(a.Middle(), b.Middle()) > farCopy {
		return false
	}
	k := a.Width() / b.Width()
	if d := k - a.Height()/b.Height(); d*a.Height() > 2*farCopy || d*a.Height() < -2*farCopy {
		return false
	}
	large := make([]geom.Point, len(t.Line))
	for i, q := range t.Line {
		large[i] = a.Middle().Add(q.Sub(b.Middle()).Times(k))
	}
	return mostlyNear(large, c.line, farCopy, farShare)
}

// holdsFar reports whether a line is one that lies evenly and far inside the chain's.
func (c *chain) holdsFar(t *Trace) bool {
	return slices.ContainsFunc(c.rounds, func(r *round) bool { return r.far && r.traces[0] == t })
}

// missed reports whether a cover lies so far out that it does not reach the edge of
// cloth trimmed close to its tack-down.
func (o *option) missed() bool {
	return o.tack != nil && o.tack.far && !o.reverse && len(o.cover) > 0 &&
		!slices.ContainsFunc(o.cover, func(r *round) bool { return r.hi >= o.tack.deep-farTrim })
}

// buriedLine reports whether a line is sewn far inside the edge, in a stop of its own,
// before cloth without a tack-down would be laid: that would hide it for good.
func (c *chain) buriedLine(cover *round) bool {
	return slices.ContainsFunc(c.rounds, func(r *round) bool { return r.far && r.stop > c.line.Stop && r.stop < cover.stop })
}
