package resize

import (
	"math"
	"slices"
)

const farthest = 10.0 // the scale, or one over it, beyond which nothing is foretold

// foretold is the scale at which a check should begin to fail, seen from another: that
// of the stop, piece or column that fails first, of those that pass as the design is. It
// is 0 where nothing tells.
func (s *search) foretold(from float64) float64 {
	c := s.c
	near := 0.0
	add := func(x float64) {
		if !(x > 0) {
			return
		}
		if x = min(max(x, 1/farthest), farthest); near == 0 || c.way.Beyond(near, x) {
			near = x
		}
	}
	if c.outlook != nil {
		for _, at := range s.spots {
			x := s.foretoldOf(at)
			switch {
			case c.way.Beyond(x, from):
				add(x)
			case c.stride > 0:
				add(from) // it should have failed, and may at any scale from there
			}
		}
		return near
	}
	if c.law == nil {
		return 0
	}
	was := s.now(c)
	limit := c.limitIn(s.whole(c))
	p := s.base
	if from != 1 && !c.whole {
		if p = s.pass(from); p == nil {
			return 0
		}
	}
	each := func(k key, figure float64) {
		if _, already := was[k]; !already && figure > 0 {
			add(p.Scale * c.law(figure, limit))
		}
	}
	if c.figure == nil {
		for k, f := range c.ask(p, true) {
			each(k, f.Measured)
		}
		return near
	}
	for _, k := range c.keys(p) {
		each(k, c.figure(p, k))
	}
	return near
}

// foretoldOf is the scale at which a spot should begin to fail, by all that was measured
// of it. What is foretold moves as one comes nearer, and where that and the place itself
// meet is seen from the two places that were nearest to it.
func (s *search) foretoldOf(at spot) float64 {
	type place struct{ scale, left float64 } // and what is left from there to the scale foretold
	var near, next place
	in, out := 1.0, 0.0 // the last place that passes, by the figures, and the first that does not
	beyond := s.c.way.Beyond
	whole := slices.ContainsFunc(s.known[at], func(f figures) bool { return f.others })
	for i := range s.known[at] {
		f := &s.known[at][i]
		if s.c.columns && at.piece == 0 && f.others != whole {
			continue // it tells less than the others do
		}
		ratio := s.c.outlook(&s.settings, f).foretold
		p := place{f.scale, f.scale * (ratio - 1)}
		if ratio == 0 {
			p.left = s.c.way.End() - 1 // it never fails, seen from here
		}
		if ratio == 0 || beyond(ratio, 1) {
			if beyond(p.scale, in) {
				in = p.scale
			}
		} else if out == 0 || beyond(out, p.scale) {
			out = p.scale
		}
		if near.scale == 0 || math.Abs(p.left) < math.Abs(near.left) {
			near, next = p, near
		} else if next.scale == 0 || math.Abs(p.left) < math.Abs(next.left) {
			next = p
		}
	}
	inside := func(x float64) bool { return beyond(x, in) && (out == 0 || beyond(out, x)) }
	if next.scale != 0 && next.left != near.left {
		if x := near.scale + near.left*(near.scale-next.scale)/(next.left-near.left); inside(x) {
			return x
		}
	}
	if x := near.scale + near.left; inside(x) || out == 0 {
		return x
	}
	return math.Sqrt(in * out)
}
