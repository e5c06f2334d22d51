package resize

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

// sureBefore is the ratio by which the cover of a whole column must hold at a scale to
// hold at all before it: it falls evenly, but for the places that are looked at.
const sureBefore = 1.02

const (
	tight  = 1.0005 // ratio of the scales that enclose a limit
	surely = 0.01   // share past the end from which an exact law need not be tried
	aside  = 1.0002 // how far to either side of the scale foretold is looked first
	behind = 3      // whole percents before a grainy limit that must pass

	// closeStride is the widest step, in whole percents, within what other checks bear.
	// What lies beyond is told, but nobody can go there.
	closeStride = 4
	trusted     = 3   // times that a place foretold is looked at though it lies nearer than the next step
	lookDown    = 0.9 // times the scale tried down to which a grid is looked at
	further     = 10  // whole percents beyond the nearest limit that are looked at for another
)

// search looks for the limit of one check.
type search struct {
	*resizer
	c      *check
	spots  []spot
	covers map[int]bool
	failed map[spot]map[int]bool // of edges, whether each fails at the percents looked at
	swept  map[spot]int          // the percent up to which each is known to pass by eachPercent
	asked  map[float64]*tried
	kept   []madePass // those made last
}

// keptPasses bounds what is held of scales that were tried.
const keptPasses = 3

// madePass is a pass that measured spots at a scale.
type madePass struct {
	scale float64
	pass  *measure.Pass
	spots []spot
}

// tried is a scale that was tried.
type tried struct {
	at   key
	f    *report.Finding // what fails there and not on the design as it is; nil for nothing
	peak float64         // of the grid, where it is one's
}

func (z *resizer) search(c *check) *search {
	s := &search{resizer: z, c: c, spots: z.spots(c), failed: map[spot]map[int]bool{}, swept: map[spot]int{}, asked: map[float64]*tried{}}
	if s.spots != nil {
		s.covers = coverStops(z.base)
	}
	return s
}

// holds reports whether a spot surely passes at a scale.
func (s *search) holds(at spot, scale float64) bool {
	if to, ok := s.swept[at]; ok && !s.c.line().beyond(percentOf(scale), to) {
		return true
	}
	for i := range s.known[at] {
		f := &s.known[at][i]
		o := s.c.outlook(&s.settings, f)
		if s.c.way.Beyond(f.scale, scale) {
			if s.c.stride == 0 && s.c.columns && o.sure > sureBefore {
				return true
			}
			continue
		}
		if o.sure != 0 && !s.c.way.Beyond(scale, f.scale*o.sure) {
			return true
		}
	}
	return false
}

// pass measures what of the design may fail at a scale; nil where nothing may.
func (s *search) pass(scale float64) *measure.Pass {
	var may []spot
	for _, at := range s.spots {
		if failed, known := s.verdict(at, percentOf(scale)); failed || !known && !s.holds(at, scale) {
			may = append(may, at)
		}
	}
	if s.c.outlook != nil && len(may) == 0 {
		return nil
	}
	for _, m := range s.kept {
		if m.scale == scale && !slices.ContainsFunc(may, func(at spot) bool { return !slices.Contains(m.spots, at) }) {
			return m.pass
		}
	}
	return s.measured(scale, may, false)
}

// fails gives what the check finds at a scale that it does not find on the design as it
// is: the one furthest past its limit.
func (s *search) fails(scale float64) (key, *report.Finding) {
	if t := s.asked[scale]; t != nil {
		return t.at, t.f
	}
	t := &tried{}
	s.asked[scale] = t
	p := s.pass(scale)
	if p == nil {
		return t.at, nil
	}
	if s.c.peak != nil {
		t.peak = s.c.peak(p)
	}
	was := s.now(s.c)
	for k, f := range s.c.ask(p, false) {
		if _, already := was[k]; already || s.noted[s.c.rule.ID] && !f.Severity.AtLeast(report.Caution) {
			continue
		}
		s.failsAt(spot{column: -1, piece: k.piece}, percentOf(scale))
		if t.f == nil || math.Abs(f.Measured-f.Limit) > math.Abs(t.f.Measured-t.f.Limit) ||
			math.Abs(f.Measured-f.Limit) == math.Abs(t.f.Measured-t.f.Limit) && (k.stop < t.at.stop || k.stop == t.at.stop && k.piece < t.at.piece) {
			t.at, t.f = k, &f
		}
	}
	return t.at, t.f
}

// failsAt notes that an edge fails at a percent, whatever its figures foretell.
func (s *search) failsAt(at spot, percent int) {
	if s.failed[at] == nil {
		s.failed[at] = map[int]bool{}
	}
	s.failed[at][percent] = true
}

// enclose brings a passing and a failing scale together. The check passes at in;
// the failing scale is 0 if it passes at the end as well.
func (s *search) enclose() (in, fail float64) {
	c := s.c
	in, end, away := 1.0, c.way.End(), aside
	if c.exact {
		// What is foretold holds: nothing need be measured where nothing is.
		if x := s.foretold(1); x == 0 || c.way.Beyond(x, end) && math.Abs(x/end-1) > surely {
			return end, 0
		}
	}
	if c.way == report.Shrinking {
		away = 1 / away
	}
	for n := 0; fail == 0 || max(in, fail)/min(in, fail) > tight; n++ {
		x := 0.0
		if fail == 0 || n%4 != 3 {
			// A little past the scale foretold at first, then a little before it, so that
			// both sides close in.
			x = s.foretold(in)
			if fail != 0 && c.figure != nil {
				// By what is past its limit further out, it fails no nearer than this.
				if y := s.foretold(fail); c.way.Beyond(y, in) && c.way.Beyond(x, y) {
					x = y
				}
			}
			if fail == 0 || n%2 == 0 {
				x *= away
			} else {
				x /= away
			}
		}
		switch {
		case fail == 0 && (x == 0 || !c.way.Beyond(x, in) || c.way.Beyond(x, end)):
			x = end
		case fail != 0 && (x == 0 || !c.way.Beyond(x, in) || !c.way.Beyond(fail, x)):
			x = math.Sqrt(in * fail)
		}
		if _, f := s.fails(x); f != nil {
			fail = x
			continue
		}
		in = x
		if x == end {
			return in, 0
		}
		if fail == 0 {
			away *= away // further past what is foretold, where that was not enough
		}
	}
	// What is printed is a whole percent: the last that passes.
	q := float64(report.WholePercent(fail, c.way)) / 100
	if c.way.Beyond(q, in) && c.way.Beyond(fail, q) {
		if _, f := s.fails(q); f == nil {
			in = q
		} else {
			fail = q
		}
	}
	return in, fail
}

// inPercents finds the last whole percent that passes and the first that fails, or 0
// where none does. The law leads close to it; from there on steps grow until the check
// fails, and the place is halved in. Cells of a grid and the rounding of a file fall
// differently at each scale, so the percents right before are looked at again.
func (s *search) inPercents() (in, fail float64) {
	c := s.c
	step, end := 1, int(math.Round(100*c.way.End()))
	if c.way == report.Shrinking {
		step = -1
	}
	beyond := func(a, b int) bool { return (a-b)*step > 0 }
	failsAt := func(percent int) bool {
		_, f := s.fails(float64(percent) / 100)
		return f != nil
	}
	near := int(math.Round(100 * s.nearest(c.way)))
	if far := near + step*further; beyond(end, far) {
		end = far
	}
	if q := s.eachPercent(end, c.line()); q != 0 {
		end = q
	}
	last, stride := 100, 1 // the last that passes
	for n := 0; ; n++ {
		if last == end { // the end passes
			return float64(last) / 100, 0
		}
		next := last + stride*step
		x := s.foretold(float64(last) / 100)
		if x == 0 {
			next = end // nothing is there that could fail
		} else {
			if lead := s.lead(x); beyond(lead, next) {
				next = lead
			}
			if lead, ok := s.gridLead(last); ok && beyond(lead, next) {
				next = lead
			}
			// Where measuring is dear the place foretold is looked at first.
			if past := report.WholePercent(x, c.way) + step; c.stride > closeStride && beyond(past, last) && !beyond(past, end) &&
				(beyond(past, next) || n < trusted) {
				next = past
			}
		}
		if beyond(next, end) {
			next = end
		}
		if failsAt(next) {
			end = next
			break
		}
		last, stride = next, min(2*stride, c.stride)
		if !beyond(next, near) {
			stride = min(stride, closeStride)
			if c.whole {
				stride = 1 // a grid is asked cheaply, and its cells fall as they like
			}
		}
	}
	for beyond(end, last+step) {
		mid := (last + end) / 2
		if x := s.foretold(float64(last) / 100); x != 0 && !c.whole {
			if q := report.WholePercent(x, c.way); beyond(q, last) && beyond(end, q) {
				mid = q
			}
		}
		if failsAt(mid) {
			end = mid
		} else {
			last = mid
		}
	}
	before := behind
	if beyond(end, near) {
		before = 1
	}
	for q, passed := end-2*step, 1; q*step > 100*step && passed < before; q -= step {
		if failsAt(q) {
			end, passed = q, 0
		} else {
			passed++
		}
	}
	return float64(end-step) / 100, float64(end) / 100
}

// gridLead is the percent down to which the grid passes by its peak at another, where that
// was measured. A pass looks at all that may fail down to lookDown times its scale: of
// that the peak tells, and the rest passes so far.
func (s *search) gridLead(percent int) (lead int, ok bool) {
	from := float64(percent) / 100
	t := s.asked[from]
	if t == nil || s.c.peak == nil {
		return 0, false
	}
	return max(s.lead(from*s.c.law(t.peak, s.c.limitIn(s.base))), report.WholePercent(from*lookDown, s.c.way)), true
}

// lead is the percent up to which a check passes, by the scale foretold for it and what
// the grain may shift it.
func (s *search) lead(foretold float64) int {
	if s.c.way == report.Shrinking {
		return report.WholePercent(foretold*(1+s.c.grain), s.c.way)
	}
	return report.WholePercent(foretold/(1+s.c.grain), s.c.way)
}
