package resize

import (
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/internal/watch"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

// Limits finds how far a design may be scaled with its stitch count kept before a
// check that passes now gives a warning or a fault. Thread, needle and scissors
// do not scale with the design, so growing opens the satin and shrinking crowds
// the needle (lengths go with the scale s, crowding with 1/s2, layers with 1/s).
//
// The same rules run on the design at each scale tried; the laws only say where
// to look first. A limit is good to 0.1 %. A check that fails on the design as it
// is limits both the direction that makes it worse and the reader's trust: its
// scale is 1 and Already is set. It returns nil for a design without stitches.
func Limits(ctx context.Context, rec *applique.Recognised, s report.Settings) (found *report.Resize, err error) {
	defer watch.Catch(&err)
	z := newResizer(ctx, rec, s)
	if z == nil {
		return nil, nil
	}
	out := &report.Resize{Smallest: report.ResizeFrom, Largest: report.ResizeTo, Limits: []report.ResizeLimit{}}
	for i := range resizeChecks {
		l, ok := z.limit(&resizeChecks[i])
		if !ok {
			continue
		}
		out.Limits = append(out.Limits, l)
		if l.Direction == report.Growing {
			out.Largest = min(out.Largest, l.Scale)
		} else {
			out.Smallest = max(out.Smallest, l.Scale)
		}
	}
	slices.SortStableFunc(out.Limits, func(a, b report.ResizeLimit) int {
		switch {
		case a.Direction != b.Direction:
			if a.Direction == report.Growing {
				return -1
			}
			return 1
		case a.Direction.Beyond(a.Scale, b.Scale):
			return 1
		case a.Direction.Beyond(b.Scale, a.Scale):
			return -1
		}
		return 0
	})
	return out, nil
}

// resizer runs rules on one design at many scales. What each stitch is part of
// does not depend on the scale and is found once.
type resizer struct {
	ctx      context.Context
	rec      *applique.Recognised
	settings report.Settings
	base     *measure.Pass // at scale 1
	kept     []*measure.Pass
}

// keptPasses bounds what is held of earlier scales. Those that several rules ask
// for, the ends of the range, are asked for in turn.
const keptPasses = 4

func newResizer(ctx context.Context, rec *applique.Recognised, s report.Settings) *resizer {
	if rec.Sewn.Stitches() == 0 || rec.Sewn.WidthMM <= 0 && rec.Sewn.HeightMM <= 0 {
		return nil
	}
	z := &resizer{ctx: ctx, rec: rec, settings: s}
	z.base = z.pass(1)
	return z
}

// pass begins to measure at a scale.
func (z *resizer) pass(scale float64) *measure.Pass {
	p, err := measure.NewPass(z.ctx, z.rec, z.settings, scale)
	watch.Raise(err)
	return p
}

// at is the pass over the design at a scale.
func (z *resizer) at(scale float64) *measure.Pass {
	if scale == 1 {
		return z.base
	}
	for i, p := range z.kept {
		if p.Scale == scale {
			z.kept = append(slices.Delete(z.kept, i, i+1), p)
			return p
		}
	}
	if len(z.kept) == keptPasses {
		z.kept = slices.Delete(z.kept, 0, 1)
	}
	p := z.pass(scale)
	z.kept = append(z.kept, p)
	return p
}

// fails gives what a check finds at a scale, the gravest finding of its rule that
// is more than a note.
func (z *resizer) fails(c *resizeCheck, scale float64) *report.Finding {
	p := z.at(scale)
	watch.Raise(p.Do(c.needs))
	if len(c.mute) > 0 {
		was := p.Settings
		p.Settings.Limits = map[string]float64{}
		for name, v := range was.Limits {
			p.Settings.Limits[name] = v
		}
		for _, name := range c.mute {
			p.Settings.Limits[name] = 0
		}
		defer func() { p.Settings = was }()
	}
	var worst *report.Finding
	all, err := c.rule.Findings(p)
	watch.Raise(err)
	for _, f := range all {
		if f.Severity.AtLeast(report.Caution) && (worst == nil || math.Abs(f.Measured-f.Limit) > math.Abs(worst.Measured-worst.Limit)) {
			worst = &f
		}
	}
	return worst
}

const (
	resizeTight = 1.0005 // ratio of the scales that enclose a limit
	scanBack    = 0.06   // how far before a limit an uneven check is searched again
	scanStep    = 0.005
)

// limit finds where a check begins to fail, if it does.
func (z *resizer) limit(c *resizeCheck) (report.ResizeLimit, bool) {
	name := c.limit
	if name == "" {
		name = c.rule.ID
	}
	l := report.ResizeLimit{Direction: c.way, Rule: c.rule.ID, Name: name, Scale: 1, Reason: c.reason}
	if f := z.fails(c, 1); f != nil {
		l.Already = true
		l.Reason += "; already past it as it is"
		take(&l, c, z, f, 1)
		if c.place != nil {
			l.Name = c.rule.ID // what its finding measures
		}
		return l, true
	}
	in, out := z.enclose(c, 1, c.way.End())
	if out == 0 {
		return l, false
	}
	if c.uneven {
		in, out = z.nearest(c, in, out)
	}
	l.Scale = in
	if c.exact && c.figure != nil {
		if fig := c.figure(z.base, 0); fig > 0 {
			if g := c.law(fig, c.limitIn(&z.settings)); g >= min(in, out) && g <= max(in, out) {
				l.Scale = g
			}
		}
	}
	take(&l, c, z, z.fails(c, out), out)
	return l, true
}

// take fills in what the finding at a scale just past the limit says.
func take(l *report.ResizeLimit, c *resizeCheck, z *resizer, f *report.Finding, scale float64) {
	l.Stop, l.Measured, l.Limit, l.Unit = f.Stop, f.Measured, f.Limit, f.Unit
	if f.AtMM != nil {
		l.AtMM = &geom.Place{f.AtMM[0] / scale, f.AtMM[1] / scale}
	}
	l.Now = l.Measured / scale
	if c.figure != nil && c.bound == nil {
		// The figure that decides, at both scales alike.
		watch.Raise(z.base.Do(c.needs))
		l.Measured, l.Now = c.figure(z.at(scale), f.Stop), c.figure(z.base, f.Stop)
	}
	if c.place != nil && f.AtMM != nil && !l.Already {
		watch.Raise(z.base.Do(c.needs))
		l.Measured, l.Now = c.place(z.at(scale), *f.AtMM), c.place(z.base, *l.AtMM)
		l.Limit = c.limitIn(&z.settings)
	}
}

// enclose brings a passing and a failing scale together. The check passes at in;
// the failing scale is 0 if it passes at the end as well.
func (z *resizer) enclose(c *resizeCheck, in, end float64) (pass, fail float64) {
	fail = 0
	away := 1.0002
	if c.way == report.Shrinking {
		away = 1 / away
	}
	for n := 0; fail == 0 || max(in, fail)/min(in, fail) > resizeTight; n++ {
		x := 0.0
		if c.figure != nil && n%4 != 3 {
			p := z.at(in)
			watch.Raise(p.Do(c.needs))
			if fig := c.figure(p, 0); fig > 0 {
				// A little past the prediction at first, then a little before it,
				// so that both sides close in.
				x = in * c.law(fig, c.limitIn(&z.settings))
				if fail == 0 || n%2 == 0 {
					x *= away
				} else {
					x /= away
				}
			}
		}
		switch {
		case fail == 0 && (x == 0 || !c.way.Beyond(x, in) || c.way.Beyond(x, end)):
			x = end
		case fail != 0 && (!c.way.Beyond(x, in) || !c.way.Beyond(fail, x) || x == 0):
			x = math.Sqrt(in * fail)
		}
		if z.fails(c, x) != nil {
			fail = x
			continue
		}
		in = x
		if x == end {
			return in, 0
		}
	}
	return in, fail
}

// nearest looks for a nearer place where an uneven check fails. Cells of a grid
// fall differently at each scale.
func (z *resizer) nearest(c *resizeCheck, in, out float64) (pass, fail float64) {
	step := 1 + scanStep
	if c.way == report.Growing {
		step = 1 / step
	}
	last := out
	for x := in * step; max(x, out)/min(x, out) < 1+scanBack && c.way.Beyond(x, 1); x *= step {
		if z.fails(c, x) != nil {
			last = x
		}
	}
	// What lies just inside the place found is looked at in turn.
	for n := 0; last != out && n < 8; n++ {
		in = last * step
		if !c.way.Beyond(in, 1) {
			in = 1
		}
		if z.fails(c, in) != nil {
			last = in
			continue
		}
		for max(in, last)/min(in, last) > resizeTight {
			if x := math.Sqrt(in * last); z.fails(c, x) != nil {
				last = x
			} else {
				in = x
			}
		}
		x := in * step
		if !c.way.Beyond(x, 1) || z.fails(c, x) == nil {
			return in, last
		}
		last = x
	}
	if last == out {
		return in, out
	}
	return in, last
}

// Percent writes a scale in percent, as machines show it.
func Percent(scale float64) string { return fmt.Sprintf("%.0f %%", 100*scale) }

// RoundWithin rounds a scale to a whole percent, towards 100 %, so that what is
// written does not lie past a limit.
func RoundWithin(scale float64, d report.Direction) float64 {
	const exact = 1e-9 // what arithmetic leaves of a whole percent
	if d == report.Shrinking {
		return math.Ceil(100*scale-exact) / 100
	}
	return math.Floor(100*scale+exact) / 100
}

// PercentWithin is Percent of RoundWithin.
func PercentWithin(scale float64, d report.Direction) string { return Percent(RoundWithin(scale, d)) }
