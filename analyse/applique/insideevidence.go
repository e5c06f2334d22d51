package applique

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
)

// insideEvidence weighs what lies inside the line.
func (p *finder) insideEvidence(c *chain, o *option) evidence {
	var e evidence
	p.watch.Step(4 * insideGrid * insideGrid)
	end := c.line.Spans[len(c.line.Spans)-1][1]
	last := o.tack
	if len(o.cover) > 0 && !o.reverse {
		last = o.cover[0]
	}
	if c.line.Closed && c.remember('f', end, last.first(), func() float64 { return p.fills(c.line, fillShare, end, last.first()) }) > fillShare {
		e += filledIn
	}
	if c.line.Closed && c.remember('b', 0, c.line.first, func() float64 { return p.fillsUpTo(c.line) }) > fillShare {
		e += filledUnto
	}
	if c.line.Closed && c.line.first > 0 && c.remember('x', 0, c.line.first, func() float64 { return p.texturedUpTo(c) }) > fillShare {
		e += linedOut
	}
	if o.tack != nil && o.tack.stop == c.line.Stop && o.cover != nil && c.line.Closed &&
		c.remember('y', end, last.first(), func() float64 { return p.sewnInside(c, end, last.first()) }) > fillShare {
		e += meshIn
	}
	first := o.tack
	if first == nil || o.reverse {
		first = o.cover[0]
	}
	if first.first() > end && c.remember('n', end, first.first(), func() float64 { return p.netOver(c, meshShare, end, first.first()) }) > meshShare {
		e += netOver
	}
	if o.tack == nil && c.remember('i', end, o.cover[0].first(), func() float64 { return p.sewnInside(c, end, o.cover[0].first()) }) > laidOnShare {
		e += sewnOnLoose
	}
	if o.cover == nil && c.remember('s', 0, c.line.first, func() float64 { return p.satinBelow(c, wholeShare) }) > wholeShare {
		e += rawOnSatin
	}
	// A tack-down and a cover in stops of their own say by themselves that cloth is laid.
	if (o.cover == nil || o.tack == nil) && c.line.Closed && c.remember('u', 0, c.line.first, func() float64 { return p.buries(c) }) > 0 {
		e += rawBuries
	}
	own := p.lineMM[c.line.Stop] < placementShare*p.sewnMM[c.line.Stop]
	switch {
	case !own:
	case o.tack == nil || o.cover == nil || o.tack.stop == c.line.Stop:
		e += lineOfMany
	default:
		e += lineOfManyT
	}
	return e
}

// remember finds out a share once.
func (c *chain) remember(what byte, from, to int, find func() float64) float64 {
	for i := range c.known {
		if k := &c.known[i]; k.what == what && k.from == from && k.to == to {
			return k.share
		}
	}
	c.known = append(c.known, known{what, from, to, find()})
	return c.known[len(c.known)-1].share
}

// known is a share of what lies inside a line that was found out already.
type known struct {
	what     byte
	from, to int
	share    float64
}

// texturedUpTo is the share of the inside of a line that any stitching before it goes over, as
// motifs, a crosshatch or rings do, and 0 where that goes on beyond the line: a ground.
func (p *finder) texturedUpTo(c *chain) float64 {
	if !p.mayTexture(c.line) || p.sewnBeyond(c.line) >= fillBeyond {
		return 0
	}
	return p.sewnInside(c, 0, c.line.first)
}

// mayTexture reports whether what was sewn before a line within its box has as many needle holes
// as it takes to be near so much of the inside.
func (p *finder) mayTexture(t *Trace) bool {
	need := fillShare * math.Abs(geom.PolygonArea(t.Line)) / (math.Pi * sewnNear * sewnNear)
	box := t.Box.Grown(edgeMM)
	gs := p.sewn.Passages
	for i := 0; i < len(gs) && gs[i].From < t.first; i++ {
		p.watch.Step(1)
		if encloses(box, p.passageBox(i), 0) {
			if need -= float64(min(gs[i].To, t.first) - gs[i].From); need <= 0 {
				return true
			}
		}
	}
	return false
}
