package applique

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/internal/watch"
	"github.com/stopcard/stopcard/analyse/report"
)

// needles finds needle holes near a place, by their order of sewing.
type needles struct {
	cells geom.Cells
	at    []int32 // indices in the track, in order; nil for all
	pts   []geom.Point
	watch *watch.Watch

	from, to    int   // asked for last, in the track
	first, last int32 // and in at
}

func (p *finder) newNeedles(at []int32) *needles {
	pts := p.sewn.Track.Pts
	n := &needles{at: at, pts: pts, watch: p.watch}
	if at == nil {
		n.cells = geom.NewPointCells(2, pts)
	} else {
		n.cells = geom.NewSomePointCells(2, pts, at)
	}
	return n
}

// any reports whether a hole that use admits, sewn from the one index up to the
// other, lies within reach of q.
func (n *needles) any(q geom.Point, reach float64, from, to int, use func(i int32) bool) bool {
	if from != n.from || to != n.to {
		n.from, n.to = from, to
		to = min(to, len(n.pts))
		if n.at != nil {
			from, _ = slices.BinarySearch(n.at, int32(from))
			to, _ = slices.BinarySearch(n.at, int32(to))
		}
		n.first, n.last = int32(from), int32(to)
	}
	return n.cells.UntilIn(geom.Box{Lo: q, Hi: q}.Grown(reach), n.first, n.last, func(k int32) bool {
		n.watch.Step(1)
		i := k
		if n.at != nil {
			i = n.at[k]
		}
		return geom.Distance(n.pts[i], q) <= reach && (use == nil || use(i))
	})
}

const (
	fillNear   = 2.5 // mm: ground this near the holes of a fill is filled
	sewnNear   = 1.5 // mm: ground this near any hole is sewn on
	netNear    = 2.0 // mm: a line this near other holes lies under or over them
	satinLeast = 0.5 // of a line that satin which goes its way lies along, where the line is one of its edges
	edgeMM     = 3.0 // mm inside a line that belongs to its edge
	beyondMM   = 5.0 // mm outside a line that a ground would reach
	insideGrid = 16  // places across the box of a line that are looked at
)

// fills is the share of the inside of a line that fills sewn between two places
// in the order cover, and 0 where that is no more than enough.
func (p *finder) fills(t *Trace, enough float64, from, to int) float64 {
	if to <= from || !p.fillBetween(t.Box.Grown(fillNear), from, to) {
		return 0
	}
	inside, fill := t.placesInside(), p.fillNeedles()
	missed := 0
	for _, q := range inside {
		if !fill.any(q, fillNear, from, to, nil) {
			if missed++; float64(len(inside)-missed) <= enough*float64(len(inside)) {
				return 0
			}
		}
	}
	return float64(len(inside)-missed) / float64(max(1, len(inside)))
}

// fillNeedles are the needle holes of fills.
func (p *finder) fillNeedles() *needles {
	if p.fill == nil {
		n := 0
		for _, g := range p.sewn.Passages {
			if g.Kind == report.KindFill {
				n += g.To - g.From
			}
		}
		at := make([]int32, 0, n)
		for _, g := range p.sewn.Passages {
			if g.Kind == report.KindFill {
				for i := g.From; i < g.To; i++ {
					at = append(at, int32(i))
				}
			}
		}
		p.fill = p.newNeedles(at)
	}
	return p.fill
}

// fillBetween reports whether a fill that may come into a box is sewn between two places in
// the order.
func (p *finder) fillBetween(box geom.Box, from, to int) bool {
	gs := p.sewn.Passages
	first, _ := slices.BinarySearchFunc(gs, from, func(g report.Passage, from int) int { return g.To - from - 1 })
	for i := first; i < len(gs) && gs[i].From < to; i++ {
		p.watch.Step(1)
		if gs[i].Kind == report.KindFill && p.passageBox(i).Meets(box) {
			return true
		}
	}
	return false
}

// fillsUpTo is the share of the inside that fills sewn before a line cover, 0 where
// they go on beyond it.
func (p *finder) fillsUpTo(t *Trace) float64 {
	if in := p.fills(t, fillShare, 0, t.first); in <= fillShare || p.fillsBeyond(t) < fillBeyond {
		return in
	}
	return 0
}

// fillsBeyond is the share of the ground just outside a line that fills before it
// cover.
func (p *finder) fillsBeyond(t *Trace) float64 {
	return beyondOf(t, func(q geom.Point) bool { return p.fillNeedles().any(q, fillNear, 0, t.first, nil) })
}

// sewnBeyond is the share of that ground that any stitching before the line goes over.
func (p *finder) sewnBeyond(t *Trace) float64 {
	return beyondOf(t, func(q geom.Point) bool { return p.allNeedles().any(q, sewnNear, 0, t.first, nil) })
}

// beyondOf is the share of places just outside a line that are sewn.
func beyondOf(t *Trace, is func(q geom.Point) bool) float64 {
	n, sewn := 0, 0
	step := max(1, len(t.Line)/maskBits)
	sign := -1.0
	if geom.PolygonArea(t.Line) < 0 {
		sign = 1
	}
	for i := step; i+step < len(t.Line); i += step {
		out := t.Line[i+step].Sub(t.Line[i-step]).Unit().Left().Times(sign * beyondMM)
		n++
		if is(t.Line[i].Add(out)) {
			sewn++
		}
	}
	return float64(sewn) / float64(max(1, n))
}

// placesInside are places spread evenly over the inside of a line.
func (t *Trace) placesInside() []geom.Point {
	m := t.make()
	if m.places == nil {
		m.places = make([]geom.Point, 0, insideGrid*insideGrid)
		for y := range insideGrid {
			for x := range insideGrid {
				q := geom.Point{X: t.Box.Lo.X + t.Box.Width()*(float64(x)+0.5)/insideGrid, Y: t.Box.Lo.Y + t.Box.Height()*(float64(y)+0.5)/insideGrid}
				if t.Inside().Has(q) {
					m.places = append(m.places, q)
				}
			}
		}
	}
	return m.places
}

func (p *finder) allNeedles() *needles {
	if p.holes == nil {
		p.holes = p.newNeedles(nil)
	}
	return p.holes
}

// foreign reports whether a trace is neither of what follows the line of c, or should, nor
// the line of another chain, nor one that closes and follows such a line; -1 stands for stitches of none. What it gives holds until it is asked
// again.
func (p *finder) foreign(c *chain) func(trace int32) bool {
	if p.own == nil {
		p.own = make([]bool, len(p.traces))
	}
	clear(p.own)
	for _, r := range c.rounds {
		for _, t := range r.traces {
			p.own[t.index] = true
		}
	}
	if c.astray != nil {
		p.own[c.astray.index] = true
	}
	return func(k int32) bool {
		return k < 0 || !p.own[k] && !(p.traces[k].Closed && (p.traces[k].chain != nil || len(p.followed[k]) > 0))
	}
}

// netOver is the share of a line that other stitching, sewn between two places in
// the order, lies over, and 0 where that is no more than enough.
func (p *finder) netOver(c *chain, enough float64, from, to int) float64 {
	return p.beside(c, enough, from, to, p.foreign(c))
}

// satinBelow is the share of a line beside which satin was sewn before it, and 0 where
// that is no more than enough, or where most of it is of satin that goes on elsewhere, as
// round pieces that the line lies across.
func (p *finder) satinBelow(c *chain, enough float64) float64 {
	share := p.beside(c, enough, 0, c.line.first, func(k int32) bool { return k >= 0 && p.traces[k].Kind == report.KindSatin })
	if share <= enough {
		return 0
	}
	along := mask{}
	for _, k := range p.tracesNear(c.line.Line, c.reach, 0, c.line.index) {
		t := &p.traces[k]
		if t.Kind != report.KindSatin || !p.mayCompare() {
			continue
		}
		if s, ok := c.along(t); ok {
			along = along.or(s.mask)
		}
	}
	if float64(along.count()) < satinLeast*float64(c.samples) {
		return 0
	}
	return share
}

// beside is the share of a line that lies near needle holes, sewn from one index up to
// another, of the traces that use admits. It is 0 where that is no more than enough: samples
// far from one another are looked at first, and no more of them once the rest cannot
// change it.
func (p *finder) beside(c *chain, enough float64, from, to int, use func(trace int32) bool) float64 {
	holes, listed := p.holesIn(c.line.Box.Grown(netNear), from, to, use)
	if listed && len(holes) <= mostAsked {
		holes = p.nearLine(c, holes, netNear)
	}
	if listed && len(holes) == 0 {
		return 0
	}
	few := listed && len(holes) <= fewHoles
	var near *needles
	if !few {
		near, use = p.needlesOf(holes, listed, use)
	}
	const apart = 8
	line := c.line.Line
	step := max(1, len(line)/maskBits)
	n := (len(line) + step - 1) / step
	over, missed := 0, 0
	for _, first := range [apart]int{0, 4, 2, 6, 1, 5, 3, 7} {
		for i := first * step; i < len(line); i += apart * step {
			if few && p.anyOf(holes, line[i], netNear) || !few && near.any(line[i], netNear, from, to, use) {
				over++
			} else if missed++; float64(n-missed) <= enough*float64(n) {
				return 0
			}
		}
	}
	return float64(over) / float64(n)
}

// needlesOf finds needle points near places: those listed, or else all that use admits by
// their traces. What it gives besides is what they are to be asked with.
func (p *finder) needlesOf(holes []int32, listed bool, use func(trace int32) bool) (*needles, func(i int32) bool) {
	if listed {
		return p.newNeedles(slices.Clone(holes)), nil
	}
	strips := p.strips()
	return p.allNeedles(), func(i int32) bool { return use(strips[p.stripAt(int(i))].trace) }
}

// buries is 1 where satin or a fill that was sewn before a line lies within it as a whole:
// cloth laid over the line would hide it for good.
func (p *finder) buries(c *chain) float64 {
	gs := p.sewn.Passages
	box := c.line.Box.Grown(-edgeMM)
	var under []int32
	for i := range gs {
		if gs[i].From >= c.line.first {
			break
		}
		p.watch.Step(1)
		if k := gs[i].Kind; (k == report.KindSatin || k == report.KindFill) && encloses(box, p.passageBox(i), 0) {
			for hole := gs[i].From; hole < min(gs[i].To, c.line.first); hole++ {
				under = append(under, int32(hole))
			}
		}
	}
	if len(under) == 0 {
		return 0
	}
	near := p.newNeedles(under)
	for _, q := range c.line.placesInside() {
		if near.any(q, sewnNear, 0, c.line.first, nil) {
			return 1
		}
	}
	return 0
}

// passageBox is the box around a passage, made when first asked for.
func (p *finder) passageBox(passage int) geom.Box {
	if p.boxes == nil {
		p.boxes = make([]geom.Box, len(p.sewn.Passages))
	}
	b := &p.boxes[passage]
	if *b == (geom.Box{}) {
		g := &p.sewn.Passages[passage]
		p.watch.Step(g.To - g.From)
		*b = geom.BoxOf(p.sewn.Track.Pts[g.From:g.To])
	}
	return *b
}

// sewnInside is the share of the inside, away from the edge, that is sewn on
// between two places in the order.
func (p *finder) sewnInside(c *chain, from, to int) float64 {
	use := p.foreign(c)
	holes, listed := p.holesIn(c.line.Box, from, to, use)
	if listed && len(holes) == 0 {
		return 0
	}
	near, use := p.needlesOf(holes, listed, use)
	// Mostly the cover alone is sewn there, near the edge: what lies near it is asked last.
	n, sewn := 0, 0
	places := c.line.placesInside()
	for _, q := range places {
		if near.any(q, sewnNear, from, to, use) && !c.line.Near().Within(q, edgeMM) {
			sewn++
		}
	}
	if sewn == 0 {
		return 0
	}
	for _, q := range places {
		if !c.line.Near().Within(q, edgeMM) {
			n++
		}
	}
	return float64(sewn) / float64(max(1, n))
}
