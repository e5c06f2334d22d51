package applique

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// A piece most of whose edge lies under cloth that is laid later has little of a cover,
// too little to be told from stitching that comes near; and the cover of the smallest
// pieces closes over their middle, as a fill does. Before a cover is said to be missing
// the edge is looked at place by place.
const (
	partLeast  = 0.04 // of the edge that satin must go along: a few mm of any piece
	partCover  = 0.15 // of the edge that it must go along where the rest is bare: that is told then, and not that there is no cover
	underMost  = 0.9  // of the edge that lies under other cloth, where nothing of it is to be covered
	tinyAcross = 16.0 // mm across: on smaller pieces a fill may be a cover
	tinyReach  = 0.5  // mm that it must reach past the tack-down on all sides
)

// partCovers finds what covers the pieces for which no cover was found, and tells those
// that need none.
func (p *finder) partCovers() {
	for _, k := range p.work {
		c := k.Place.chain
		if c == nil || len(k.Covers) > 0 || !k.Held || k.Finish != report.FinishRaw || !k.Place.Closed {
			continue
		}
		p.watch.Step(len(p.traces))
		under := p.underLater(c, k)
		satin, beyond := mask{}, mask{}
		var over, goOn []*Trace
		for i := range p.traces {
			t := &p.traces[i]
			if t.Stop <= k.Tack.Stop || t.Kind != report.KindSatin || !t.Box.Meets(c.line.Box.Grown(coverBeside)) || !p.mayCompare() {
				continue
			}
			if s, along := c.along(t); along {
				satin, over = satin.or(s.mask), append(over, t)
			} else if s := c.under(p, t); float64(s.mask.count()) >= sharedLeast*float64(c.samples) {
				beyond, goOn = beyond.or(s.mask), append(goOn, t)
			}
		}
		switch g, at := p.overTiny(k); {
		case g == nil:
		case g.Kind == report.KindFill:
			k.Under = true
			continue
		default:
			over = append(over, at)
			for b := range c.samples {
				satin.set(b)
			}
		}
		// Satin that goes on along another piece is the cover of this one as well where it leaves
		// nothing bare but what lies under other cloth. What only crosses the edge is none.
		seen := satin.or(beyond).or(under)
		if n := seen.count() - under.count(); float64(n) >= max(sharedLeast*float64(c.samples), underMost*float64(c.samples-under.count())) {
			satin, over = satin.or(beyond), append(over, goOn...)
		}
		if float64(satin.count()) < partLeast*float64(c.samples) {
			k.Under = float64(under.count()) >= underMost*float64(c.samples)
			continue
		}
		hidden := satin.or(under)
		if float64(hidden.count()) < underMost*float64(c.samples) && float64(satin.count()) < partCover*float64(c.samples) {
			continue // nearly all of the edge is bare
		}
		k.Cover, k.Finish = over, report.FinishSatin
		for _, t := range over {
			if !slices.Contains(k.Covers, t.Stop) {
				k.Covers = append(k.Covers, t.Stop)
			}
		}
		slices.Sort(k.Covers)
	}
}

// under marks the places of the line of a chain that lie under a satin, which may be far
// longer than the line.
func (c *chain) under(p *finder, t *Trace) stretch {
	if len(t.Bands) == 0 {
		return stretch{}
	}
	s, _ := c.lies(t, max(1, len(t.Line)/(4*maskBits)), min(sharedWithin, p.satin.Bands[t.Bands[0]].Width/2), len(t.Line))
	return s
}

// overTiny is the fill, or the bar of satin, that lies over all of a small piece and over
// nothing but it, sewn after its tack-down, and the line of the bar; nil for none.
func (p *finder) overTiny(k *Piece) (*report.Passage, *Trace) {
	if max(k.Tack.Box.Width(), k.Tack.Box.Height()) >= tinyAcross {
		return nil, nil
	}
	p.watch.Step(len(p.sewn.Passages))
	near := k.Place.Box.Grown(2 * coverBeside)
	for i := range p.sewn.Passages {
		g := &p.sewn.Passages[i]
		if g.Stop-1 <= k.Tack.Stop || g.Kind != report.KindFill && g.Kind != report.KindSatin || !near.Meets(geom.BoxOf(p.sewn.Track.Pts[g.From:g.From+1])) || !p.mayCompare() {
			continue
		}
		if b := geom.BoxOf(p.sewn.Track.Pts[g.From:g.To]); !encloses(b, k.Tack.Box, -tinyReach) || !encloses(near, b, 0) {
			continue
		}
		if g.Kind == report.KindFill {
			return g, nil
		}
		if t, ok := bandTrace(p, i); ok {
			t.finish(nil)
			return g, &t
		}
	}
	return nil, nil
}

// underLater marks the places of the line of a piece that lie in pieces tacked down later.
func (p *finder) underLater(c *chain, k *Piece) (m mask) {
	for _, v := range p.work {
		if v == k || v.Hole || !v.Held || !v.Tack.Closed || v.Tack.Stop <= k.Tack.Stop || !v.Tack.Box.Meets(c.line.Box) {
			continue
		}
		var at float64
		for i, q := range c.line.Line {
			if i > 0 {
				at += geom.Distance(c.line.Line[i-1], q)
			}
			if v.Tack.Inside().Has(q) {
				m.set(c.bit(at))
			}
		}
		p.watch.Step(len(c.line.Line))
	}
	return m
}
