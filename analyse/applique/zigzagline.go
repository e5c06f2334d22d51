package applique

import (
	"slices"
	"sort"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// wholeZigzag is a zigzag, or a blanket stitch, that follows the line of the chain with all of its stitches.
// Where a curve or a corner flattens its teeth its stitches are no zigzag by
// themselves, and where most of its teeth are flat the rest is no line: so it falls into
// parts with stitches between them, or ends short of where it began. But the thread
// goes on, and scissors follow it.
func (p *finder) wholeZigzag(c *chain, r *round, t *Trace) *Trace {
	teeth := (r.made == zigzag || r.made == blanket) && t.Kind == report.KindOpenZigzag
	if !teeth && (r.made != single || t.Closed) || !c.line.Closed || len(t.Spans) == 0 {
		return t
	}
	pts := p.sewn.Track.Pts
	if !teeth && !slices.ContainsFunc(t.Spans, func(s [2]int) bool { return flatTeeth(pts[s[0]:s[1]]) != nil }) {
		return t // a line that is left open
	}
	far := func(i int) float64 {
		d, at, _ := c.guide().nearest(pts[i], 2*bandWithin)
		if at < 0 {
			return 2 * bandWithin
		}
		return d
	}
	spans := slices.Clone(t.Spans)
	sort.Slice(spans, func(i, j int) bool { return spans[i][0] < spans[j][0] })
	reach := 0.0
	for _, s := range spans {
		for i := s[0]; i < s[1]; i++ {
			reach = max(reach, far(i))
		}
	}
	follows := func(from, to int) bool {
		for i := from; i < to; i++ {
			if far(i) > reach+besideZigzag {
				return false
			}
		}
		return true
	}
	// What lies between two parts is of it, if it is as near to the line.
	all := spans[:1]
	for _, s := range spans[1:] {
		last := &all[len(all)-1]
		if s[0] <= last[1] || p.threadOn(last[1]-1, s[0]) && follows(last[1], s[0]) {
			last[1] = max(last[1], s[1])
		} else {
			all = append(all, s)
		}
	}
	// And what leads on from its ends, as far as there is line that it does not follow.
	stretch := func() float64 {
		l := 0.0
		for _, s := range all {
			l += geom.PathLength(pts[s[0]:s[1]])
		}
		return l
	}
	left := 0.0
	if !t.Closed {
		left = stretch() / max(t.Length, 1) * (t.Opening + seamOpen)
	}
	for i := &all[len(all)-1][1]; left > 0 && *i < len(pts) && p.threadOn(*i-1, *i) && follows(*i, *i+1); *i++ {
		left -= geom.Distance(pts[*i-1], pts[*i])
	}
	for i := &all[0][0]; left > 0 && *i > 0 && p.threadOn(*i-1, *i) && follows(*i-1, *i); *i-- {
		left -= geom.Distance(pts[*i-1], pts[*i])
	}
	if slices.Equal(all, t.Spans) {
		return t
	}
	out := *t
	out.Spans, out.made, out.chain, out.sewn = all, nil, nil, stretch()
	out.Line = nil
	for _, s := range all {
		if teeth {
			out.Line = append(out.Line, middleLine(pts[s[0]:s[1]])...)
		} else {
			out.Line = append(out.Line, pts[s[0]:s[1]]...)
		}
	}
	if len(out.Line) < 3 {
		return t
	}
	out.finish(nil)
	if !out.Closed && (t.Closed || r.share > wholeShare || out.Opening <= seamOpen) {
		out.Closed = true
		out.Line = closedUp(out.Line)
	}
	return &out
}

// besideZigzag is how much further in mm from the line the stitches of a zigzag may lie
// that no part of it holds: at its corners and ends.
const besideZigzag = 0.5

// threadOn reports whether one thread joins two needle points, with no needle-up move
// between: they are of one stretch of sewing.
func (p *finder) threadOn(a, b int) bool {
	t := &p.sewn.Track
	if a < 0 || b >= len(t.Pts) {
		return false
	}
	for i := a + 1; i <= b; i++ {
		if !t.Joined(i) {
			return false
		}
	}
	return true
}
