package resize

import (
	"math"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

const (
	tight  = 1.0005 // ratio of the scales that enclose a limit
	surely = 0.01   // share past the end from which an exact law need not be tried
	aside  = 1.0002 // how far to either side of the scale foretold is looked first
	behind = 3      // whole percents before a grainy limit that must pass

	// closeStride is the widest step, in whole percents, within what other checks bear.
	// What lies beyond is told, but nobody can go there.
	closeStride = 4
	further     = 10 // whole percents beyond the nearest limit that are looked at for another
)

// enclose brings a passing and a failing scale together. The check passes at in;
// the failing scale is 0 if it passes at the end as well.
func (z *resizer) enclose(c *check) (in, fail float64) {
	in, end, away := 1.0, c.way.End(), aside
	if c.exact {
		// What is foretold holds: nothing need be measured where nothing is.
		if x := z.foretold(c, 1); x == 0 || c.way.Beyond(x, end) && math.Abs(x/end-1) > surely {
			return end, 0
		}
	}
	if c.way == report.Shrinking {
		away = 1 / away
	}
	// A measure along edges is dear and need only be known to the percent that is printed.
	known := func() bool {
		return fail != 0 && (max(in, fail)/min(in, fail) <= tight ||
			c.needs == measure.Pieces && report.WholePercent(in, c.way) == report.WholePercent(fail, c.way))
	}
	for n := 0; !known(); n++ {
		x := 0.0
		if n%4 != 3 {
			// A little past the scale foretold at first, then a little before it, so that
			// both sides close in.
			x = z.foretold(c, in)
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
		if _, f := z.fails(c, x); f != nil {
			fail = x
			continue
		}
		in = x
		if x == end {
			return in, 0
		}
	}
	// What is printed is a whole percent: the last that passes.
	q := float64(report.WholePercent(fail, c.way)) / 100
	if c.way.Beyond(q, in) && c.way.Beyond(fail, q) {
		if _, f := z.fails(c, q); f == nil {
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
func (z *resizer) inPercents(c *check) (in, fail float64) {
	step, end := 1, int(math.Round(100*c.way.End()))
	if found, ok := z.found[c.rule.ID]; ok && len(c.mute) > 0 {
		// Another limit of the rule was met: only what lies nearer is worth telling.
		end = report.WholePercent(found, c.way)
		if _, f := z.fails(c, float64(end)/100); f == nil {
			return float64(end) / 100, 0
		}
	}
	if c.way == report.Shrinking {
		step = -1
	}
	beyond := func(a, b int) bool { return (a-b)*step > 0 }
	failsAt := func(percent int) bool {
		_, f := z.fails(c, float64(percent)/100)
		return f != nil
	}
	near := int(math.Round(100 * z.nearest(c.way)))
	if far := near + step*further; beyond(end, far) {
		end = far
	}
	last, stride := 100, 1 // the last that passes
	for {
		if last == end { // the end passes
			return float64(last) / 100, 0
		}
		next := last + stride*step
		x := z.foretold(c, float64(last)/100)
		if x == 0 {
			next = end // nothing is there that could fail
		} else {
			// Towards 100 from what is foretold, by what the grain may shift it.
			if c.way == report.Shrinking {
				x *= 1 + c.grain
			} else {
				x /= 1 + c.grain
			}
			if lead := report.WholePercent(x, c.way); beyond(lead, next) {
				next = lead
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
		if mid := (last + end) / 2; failsAt(mid) {
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
