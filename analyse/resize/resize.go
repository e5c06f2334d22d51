package resize

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"math"
	"sort"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/internal/watch"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// Limits finds how far a design may be scaled with its stitch count kept before a
// check that passes now gives a warning or a fault, or the first note that thread or needle
// holes are past their limit on a spot. Thread, needle and scissors do not scale with the
// design, so growing opens the satin and shrinking crowds the needle (lengths go with the
// scale s, crowding with 1/s2, layers with 1/s).
//
// The same rules run at each scale tried, on the parts of the design that may be past
// their limits there (see spot); the laws only say where to look first. Lengths are found
// to 0.05 %; cover, edges, crowding and layers are looked for in whole percents, as
// machines take them. Beyond the nearest limit, where nobody can go, what comes and goes
// may be told a little late, and more than 10 % beyond it not at all. An edge whose cover is
// open on the design as it is, is looked at in every percent up to there in which it may have a gap. Of a rule with two
// limits the nearer is told. A check that fails on the design as it is closes nothing; it
// is listed with Already set. Stops and pieces are told apart: that one fails already does
// not hide that another will. It returns nil for a design without stitches. The only error
// is that of a context that ended.
//
// It goes on from a pass over the design as it is, under the settings of that: the one
// that its report was made with, or a new one, of which it measures what it needs. The
// pass is left as it is, but for what is laid out in it to be looked up.
func Limits(ctx context.Context, base *measure.Pass) (found *report.Resize, err error) {
	defer watch.Catch(&err)
	if base.Scale != 1 {
		return nil, fmt.Errorf("limits are counted from the design as it is, and this was measured at %s", Percent(base.Scale))
	}
	z := newResizer(ctx, base)
	if z == nil {
		return nil, nil
	}
	out := &report.Resize{Smallest: report.ResizeFrom, Largest: report.ResizeTo, Limits: []report.ResizeLimit{}}
	for i := range checks {
		c := &checks[i]
		out.Limits = append(out.Limits, z.already(c)...)
		l, ok := z.limit(c)
		if !ok {
			continue
		}
		z.found[l.Rule] = l.Scale
		out.Limits = append(out.Limits, l)
		if l.Direction == report.Growing {
			out.Largest = min(out.Largest, l.Scale)
		} else {
			out.Smallest = max(out.Smallest, l.Scale)
			if c.grid == nil {
				z.plain = max(z.plain, l.Scale)
			}
		}
		z.smallest, z.largest = out.Smallest, out.Largest
	}
	sort.SliceStable(out.Limits, func(i, j int) bool {
		a, b := &out.Limits[i], &out.Limits[j]
		switch {
		case a.Direction != b.Direction:
			return a.Direction == report.Growing
		case a.Already != b.Already:
			return a.Already
		}
		return math.Abs(math.Log(a.Scale)) < math.Abs(math.Log(b.Scale))
	})
	out.Recalculated = recalculated(measure.SpacingOf(base.Sewn, z.base.Report, measure.GlanceFill), out, words.UnitsOf(&z.settings))
	return out, nil
}

// Holds reports whether a scale is within what holds today.
func Holds(z *report.Resize, scale float64) bool {
	return z != nil && scale >= z.Smallest-1e-9 && scale <= z.Largest+1e-9
}

// key is what a finding is about: a check that fails for one stop and piece may pass
// for another.
type key struct{ stop, piece int }

// resizer runs rules on one design at many scales. What each stitch is part of
// does not depend on the scale and is found once.
type resizer struct {
	settings report.Settings
	base     *measure.Pass                     // the whole at scale 1
	failing  map[string]map[key]report.Finding // at scale 1, by rule
	known    map[spot][]figures                // what was measured of each, at the scales tried
	noted    map[string]bool                   // checks of the grid past whose limit a spot is at scale 1, that sews well so: what becomes of such spots is no limit until it is an alarm
	joint    map[int]float64                   // see measure.Pass.Joint, of the pieces asked so far

	found             map[string]float64 // limits of the checks asked so far, by rule
	smallest, largest float64            // what the checks asked so far bear
	plain             float64            // the smallest but for those of the density grid: edges are looked at whatever that bears
}

func newResizer(ctx context.Context, base *measure.Pass) *resizer {
	if base.Sewn.Stitches() == 0 || base.Sewn.WidthMM <= 0 && base.Sewn.HeightMM <= 0 {
		return nil
	}
	watch.Raise(ctx.Err())
	return &resizer{settings: base.Settings, base: base.Under(ctx), failing: map[string]map[key]report.Finding{}, noted: map[string]bool{}, known: map[spot][]figures{}, joint: map[int]float64{},
		found: map[string]float64{}, smallest: report.ResizeFrom, largest: report.ResizeTo, plain: report.ResizeFrom}
}

// nearest is the nearest limit one way that was found so far.
func (z *resizer) nearest(d report.Direction) float64 {
	if d == report.Growing {
		return z.largest
	}
	return z.smallest
}

// whole is the pass over the design as it is with what a check needs.
func (z *resizer) whole(c *check) *measure.Pass {
	watch.Raise(z.base.Do(c.needs))
	return z.base
}

// ask runs a check's rule on a pass with its limit as it is, or with one that
// nothing meets, so that the rule tells its figure for all that it looks at.
func (c *check) ask(p *measure.Pass, open bool) map[key]report.Finding {
	for _, step := range c.rule.Requires {
		watch.Raise(p.Do(step)) // under the limits as they are
	}
	was := p.Settings
	defer func() { p.Settings = was }()
	p.Settings.Limits = map[string]float64{}
	for name, v := range was.Limits {
		p.Settings.Limits[name] = v
	}
	for _, name := range c.mute {
		p.Settings.Limits[name] = 0
	}
	if open {
		p.Settings.Limits[c.name()] = c.unmet
	}
	out := map[key]report.Finding{}
	all, err := c.rule.Findings(p)
	watch.Raise(err)
	for _, f := range all {
		if !open && !f.Severity.AtLeast(report.Caution) && c.peak == nil {
			continue
		}
		k := key{f.Stop, f.Piece}
		if c.whole {
			k = key{}
		}
		if old, seen := out[k]; !seen || math.Abs(f.Measured-f.Limit) > math.Abs(old.Measured-old.Limit) {
			out[k] = f
		}
	}
	return out
}

// now is what of a check's rule fails on the design as it is, by any of its limits.
func (z *resizer) now(c *check) map[key]report.Finding {
	if _, ok := z.failing[c.rule.ID]; !ok {
		all := *c
		all.mute = nil
		was := all.ask(z.base, false)
		maps.DeleteFunc(was, func(_ key, f report.Finding) bool {
			z.noted[c.rule.ID] = z.noted[c.rule.ID] || !f.Severity.AtLeast(report.Caution)
			return !f.Severity.AtLeast(report.Caution)
		})
		z.failing[c.rule.ID] = was
	}
	return z.failing[c.rule.ID]
}

// figureOf is the check's own figure for a stop and piece on a pass, passing or not.
func (c *check) figureOf(p *measure.Pass, k key) (float64, bool) {
	if c.shows {
		watch.Raise(p.Do(c.needs))
		v := c.figure(p, k)
		return v, v != 0
	}
	f, ok := c.ask(p, true)[k]
	return f.Measured, ok
}

// already lists what fails on the design as it is and becomes worse in the check's
// direction.
func (z *resizer) already(c *check) []report.ResizeLimit {
	var out []report.ResizeLimit
	if c.limit != "" && len(c.mute) > 0 {
		return nil // told with the rule's first limit
	}
	for k, f := range z.now(c) {
		l := c.begin()
		if c.worsens != nil {
			reason, worse := c.worsens(z, c.way, &f)
			if !worse {
				continue
			}
			l.Reason = reason
		}
		l.Already, l.Stop, l.Piece = true, f.Stop, f.Piece
		l.Now, l.Limit, l.Unit = f.Measured, f.Limit, f.Unit
		if c.shows {
			if v, ok := c.figureOf(z.base, k); ok {
				l.Now, l.Limit = v, c.limitIn(z.base)
			}
		}
		l.Measured = l.Now
		if f.AtMM != nil {
			l.AtMM = &geom.Place{f.AtMM[0], f.AtMM[1]}
		}
		out = append(out, l)
	}
	sort.Slice(out, func(i, j int) bool {
		return cmp.Or(cmp.Compare(out[i].Stop, out[j].Stop), cmp.Compare(out[i].Piece, out[j].Piece)) < 0
	})
	return out
}

// limit finds where a check begins to fail, if it does.
func (z *resizer) limit(c *check) (report.ResizeLimit, bool) {
	l := c.begin()
	if _, already := z.now(c)[key{}]; already {
		return l, false // the design as a whole fails as it is
	}
	s := z.search(c)
	defer s.done()
	in, out := 0.0, 0.0
	switch {
	case c.outlook != nil && (c.columns || c.stride == 0):
		in, out = s.bySpots()
	case c.stride > 0:
		in, out = s.inPercents()
	default:
		in, out = s.enclose()
	}
	if out == 0 {
		return l, false
	}
	l.Scale = in
	k, f := s.fails(out)
	l.Stop, l.Piece = f.Stop, f.Piece
	l.Measured, l.Limit, l.Unit = f.Measured, f.Limit, f.Unit
	if c.then != nil {
		l.Reason = cmp.Or(c.then(s.pass(out), k), l.Reason)
	}
	if f.AtMM != nil {
		l.AtMM = &geom.Place{f.AtMM[0] / out, f.AtMM[1] / out}
	}
	if c.shows {
		l.Measured, _ = c.figureOf(s.pass(out), k)
		l.Limit = c.limitIn(z.base)
	}
	if c.figure != nil && !c.shows {
		l.Now = f.Measured / out // the stitch found, as it is; another that is longer now may be held down then
	} else {
		// A check that passes may have no figure to show: nothing of it is there yet.
		l.Now, _ = c.figureOf(z.base, k)
	}
	return l, true
}
