package applique

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
)

// strip is a stretch of needle points that are of one trace, or of none.
type strip struct {
	from, to int32
	trace    int32    // -1: of none
	box      geom.Box // see boxOfStrip
}

// strips cuts the track into strips. A point where one trace goes on from another is of
// the later one.
func (p *finder) strips() []strip {
	if p.stripped != nil {
		return p.stripped
	}
	pts := p.sewn.Track.Pts
	n := 1
	for i := range p.traces {
		n += 2 * len(p.traces[i].Spans)
	}
	of := make([]strip, 0, n)
	for i := range p.traces {
		for _, s := range p.traces[i].Spans {
			of = append(of, strip{from: int32(s[0]), to: int32(s[1]), trace: int32(i)})
		}
	}
	slices.SortStableFunc(of, func(a, b strip) int { return int(a.from - b.from) })
	for i := range of {
		if i+1 < len(of) {
			of[i].to = min(of[i].to, of[i+1].from)
		}
	}
	// What lies between them is of none.
	end := int32(len(pts))
	for i := len(of) - 1; i >= 0; i-- {
		if of[i].to < end {
			of = append(of, strip{from: of[i].to, to: end, trace: -1})
		}
		end = of[i].from
	}
	if end > 0 {
		of = append(of, strip{from: 0, to: end, trace: -1})
	}
	of = slices.DeleteFunc(of, func(s strip) bool { return s.from >= s.to })
	slices.SortStableFunc(of, func(a, b strip) int { return int(a.from - b.from) })
	p.stripped = of
	return of
}

// boxOfStrip is the box around a strip, made when first asked for.
func (p *finder) boxOfStrip(s *strip) geom.Box {
	if s.box == (geom.Box{}) {
		p.watch.Step(int(s.to - s.from))
		s.box = geom.BoxOf(p.sewn.Track.Pts[s.from:s.to])
	}
	return s.box
}

// stripAt is the place in strips of the one that has a needle point, or else of the next.
func (p *finder) stripAt(i int) int {
	k, _ := slices.BinarySearchFunc(p.strips(), int32(i), func(s strip, i int32) int {
		switch {
		case s.to <= i:
			return -1
		case s.from > i:
			return 1
		}
		return 0
	})
	return k
}

// holesIn lists the needle points in a box that were sewn from one index up to another, of
// the traces that use admits; -1 is asked for those of none. The list holds until it is
// asked again. It reports false where there are too many to be gone through one by one.
func (p *finder) holesIn(box geom.Box, from, to int, use func(trace int32) bool) ([]int32, bool) {
	strips, pts := p.strips(), p.sewn.Track.Pts
	to = min(to, len(pts))
	p.listed = p.listed[:0]
	if from >= to {
		return nil, true
	}
	for k := p.stripAt(from); k < len(strips) && int(strips[k].from) < to; k++ {
		s := &strips[k]
		p.watch.Step(1)
		if !use(s.trace) || !p.boxOfStrip(s).Meets(box) {
			continue
		}
		for i := max(s.from, int32(from)); i < min(s.to, int32(to)); i++ {
			if box.Holds(pts[i]) {
				p.listed = append(p.listed, i)
			}
		}
		if p.watch.Step(int(s.to - s.from)); len(p.listed) > mostListed {
			return nil, false
		}
	}
	return p.listed, true
}

// mostListed is the needle points that are gone through one by one at most: where there
// are more, a grid finds them sooner.
const mostListed = 2000

// mostAsked is those that are held against a line one by one at most.
const mostAsked = 500

// nearLine leaves of needle points those that may lie within reach of the line of a chain.
func (p *finder) nearLine(c *chain, holes []int32, reach float64) []int32 {
	const stray = 1.5 // mm that a guide strays from its line at most
	g, pts := c.guide(), p.sewn.Track.Pts
	return slices.DeleteFunc(holes, func(i int32) bool {
		_, at, _ := g.nearest(pts[i], reach+stray)
		return at < 0
	})
}

const fewHoles = 32 // that are asked one by one

// anyOf reports whether one of some needle points lies within reach of a place.
func (p *finder) anyOf(holes []int32, q geom.Point, reach float64) bool {
	pts := p.sewn.Track.Pts
	return slices.ContainsFunc(holes, func(i int32) bool { return geom.Distance(pts[i], q) <= reach })
}
