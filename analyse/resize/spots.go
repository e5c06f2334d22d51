package resize

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/rules"
)

// spot is a part of a design that is measured apart: a satin column or the edge of a
// piece. Where a scale is tried, only those are measured that may be past a limit there,
// by what is known of them from other scales.
type spot struct {
	column int // its index in the report, -1 for a piece
	piece  int // its number, 0 for a column
}

// figures are what was measured of a spot at a scale.
type figures struct {
	scale        float64
	all, least   float64               // share under thread: of a whole column, and along its thinnest stretch or that of an edge
	slots        []float64             // the gaps between threads over an edge, mm, the widest first
	bare         []measure.BareStretch // of an edge, gaps or not
	allow        float64               // how far outside the tack-down it is cut, mm
	reach, inner float64               // of a cover outwards and inwards, mm; +Inf where there is none to tell
	tip          tip                   // the corner that begins to show first
	muted        bool                  // an edge so bare that nothing else is told of it
	others       bool                  // what other thread hides was looked at, where anybody asks
}

// outlook is what the figures of a spot tell of other scales, as ratios to the scale
// they were measured at: up to which it surely passes, 0 where it does not even there,
// and at which it is foretold to fail, 0 for never.
type outlook struct{ sure, foretold float64 }

const (
	// coverFalls is the power of the scale by which a share under thread falls at most
	// as a design grows. Thread of constant width over ground that grows hides a share
	// that falls by the scale at most, and a little more at the ends of stitches: by
	// 1.18 at most of the 6,000 falls that were measured on designs of people.
	coverFalls = 1.25

	// thinnestSpare is what the thinnest stretch may fall by besides: it lies elsewhere
	// at each scale, on an edge too, and a column may just be long enough to have one.
	thinnestSpare = 0.03
)

// coverHolds is the ratio up to which a share under thread stays above a limit.
func coverHolds(share, limit float64) float64 {
	switch {
	case limit <= 0:
		return math.Inf(1)
	case share < limit:
		return 0
	}
	return math.Pow(share/limit, 1/coverFalls)
}

// thinnestHolds is the same for the share along a stretch of so many mm of thread and
// cloth: as the design grows it takes less of it, which may be the barest of it.
func thinnestHolds(share, limit float64) float64 {
	lo, hi := 1.0, report.ResizeTo/report.ResizeFrom
	holds := func(t float64) bool {
		return (1-t*(1-share))/math.Pow(t, coverFalls)-thinnestSpare >= limit
	}
	switch {
	case limit <= 0 || holds(hi):
		return math.Inf(1)
	case share < limit:
		return 0
	}
	for range 20 {
		if m := (lo + hi) / 2; holds(m) {
			lo = m
		} else {
			hi = m
		}
	}
	return lo
}

func ofWholeColumns(s *report.Settings, f *figures) outlook {
	limit := s.Limit("thin-cover")
	return outlook{coverHolds(f.all, limit), coverLaw(f.all, limit)}
}

func ofThinnest(s *report.Settings, f *figures) outlook {
	limit := s.Limit("thin-cover-stretch")
	return outlook{thinnestHolds(f.least, limit), coverLaw(f.least, limit)}
}

// grained is an outlook by a law that the cells and windows of edges shift.
func grained(ratio float64) outlook {
	sure := ratio / (1 + edgeGrain)
	if ratio < 1 {
		sure = ratio * (1 + edgeGrain)
	}
	if (sure < 1) != (ratio < 1) {
		sure = 0 // too near to tell
	}
	return outlook{sure, ratio}
}

// ofSlots foretells gaps: threads move apart and are as wide as before. It surely passes
// as long as the gaps that are worth telling of show no more than they may in all.
func ofSlots(s *report.Settings, f *figures) outlook {
	slots, laid, limit := f.slots, s.LaidWidth(), s.Limit("edge-uncovered")
	widest := 0.0
	if len(slots) > 0 {
		widest = slots[0]
	}
	foretold := slotLaw(widest, rules.KnownGap, laid)
	shows := slotLaw(0, max(rules.KnownGap, limit), laid)
	sum := 0.0
	for i, l := range slots {
		// As soon as so many are told of, they may show too much, before the next is.
		sum += l
		n := float64(i + 1)
		if x := max(slotLaw(l, rules.KnownGap, laid), (limit+n*laid)/(sum+n*laid)); x < shows {
			shows = x
		}
	}
	return outlook{grained(shows).sure, foretold}
}

func ofReach(s *report.Settings, f *figures) outlook {
	if f.allow == 0 {
		return outlook{math.SmallestNonzeroFloat64, 0} // it is cut to the line itself, which shrinks as the cover does
	}
	least := f.allow - measure.ReachSlackMM
	o := shrinks(f.reach, least)
	if sure := f.tip.holds(least); sure == 0 || o.sure != 0 && sure > o.sure {
		o.sure = sure
	}
	return o
}

func ofInner(s *report.Settings, f *figures) outlook {
	o := shrinks(f.inner, s.Limit("tack-down-in-sight"))
	if f.muted {
		o.sure = 0 // what mutes it may go
	}
	return o
}

// shrinks is the outlook of a length that must not fall below a limit.
func shrinks(length, limit float64) outlook {
	switch {
	case math.IsInf(length, 1) || limit <= 0:
		return outlook{math.SmallestNonzeroFloat64, 0}
	case length <= 0:
		return outlook{0, 0} // it passes by what the length does not tell
	case length <= limit:
		return outlook{0, 1}
	}
	return grained(limit / length)
}

// spots lists what a check looks at apart, and notes what is known of it from the
// design as it is.
func (z *resizer) spots(c *check) []spot {
	if c.outlook == nil {
		return nil
	}
	was := z.now(c)
	p := z.whole(c)
	var out []spot
	covers := coverStops(p)
	if c.columns {
		for i := range p.Report.SatinColumns {
			k := &p.Report.SatinColumns[i]
			if _, already := was[key{stop: k.Stop}]; already || !rules.JudgesCover(k, p.Scale) {
				continue
			}
			out = append(out, spot{column: i})
		}
	}
	if c.pieces {
		for i := range p.Report.Pieces {
			k := &p.Report.Pieces[i]
			_, stop := was[key{stop: k.CoverStop}]
			_, piece := was[key{k.CoverStop, k.Number}]
			if k.CoverStop == 0 || k.Finish.Loose() || c.columns && stop || piece {
				continue
			}
			out = append(out, spot{column: -1, piece: k.Number})
		}
	}
	for _, s := range out {
		if len(z.known[s]) == 0 {
			z.note(p, s, covers)
		}
	}
	return out
}

// cutsAt is how far outside its tack-down a piece is cut: not at all where nothing holds
// it and its holes before its cover.
func (z *resizer) cutsAt(piece int) float64 {
	for _, w := range z.base.Pieces {
		if w.Number == piece && w.Held {
			return z.settings.TrimAllowanceMM
		}
	}
	return 0
}

// coverStops are the stops that cover pieces, counted from 1.
func coverStops(p *measure.Pass) map[int]bool {
	out := map[int]bool{}
	for _, w := range p.Pieces {
		for _, stop := range w.Covers {
			out[stop+1] = true
		}
	}
	return out
}

// note keeps the figures of a spot that a pass measured.
func (z *resizer) note(p *measure.Pass, s spot, covers map[int]bool) {
	f := figures{scale: p.Scale, all: 1, least: 1, reach: math.Inf(1), inner: math.Inf(1)}
	if s.piece == 0 {
		c := &p.Report.SatinColumns[s.column]
		f.all, f.least = rules.Covered(p, s.column, covers[c.Stop])
		f.others = rules.OwnOnly(p, s.column, covers[c.Stop]) || p.LookedAtOthers(s.column)
	} else if c := p.Report.Piece(s.piece); c != nil {
		if c.CoverShare.Median > 0 {
			f.least = c.CoverShare.Min
		}
		f.slots, f.allow = slices.Sorted(slices.Values(p.Slots[s.piece])), z.cutsAt(s.piece)
		slices.Reverse(f.slots)
		f.bare = p.Bare[s.piece]
		f.reach, f.inner = leastReach(c), innerReach(c)
		f.tip = barestTip(c, f.allow, func(q, way geom.Point) float64 { return p.Past(s.piece, q, way) })
		f.muted = c.UncoveredMM > 0
	}
	z.known[s] = append(z.known[s], f)
}

// leastReach is how far the cover of a piece reaches outwards where it reaches least,
// a millimetre or two of edge apart: shorter stretches are no finding, but at tips, of
// which a piece has several.
func leastReach(c *report.Piece) float64 {
	const apart = 3 // samples
	var outer []float64
	for i := range c.Edge {
		if s := &c.Edge[i]; s.State != report.EdgeHidden {
			outer = append(outer, s.Outer)
		}
	}
	if len(outer) <= apart {
		return math.Inf(1)
	}
	slices.Sort(outer)
	return outer[apart]
}

// innerReach is how far the cover of a piece reaches inwards where it reaches least,
// save for the share of the edge that is no finding.
func innerReach(c *report.Piece) float64 {
	var inner []float64
	for i := range c.Edge {
		if s := &c.Edge[i]; s.State != report.EdgeHidden && !s.Unreached() {
			inner = append(inner, s.Inner)
		}
	}
	if len(inner) == 0 {
		return math.Inf(1)
	}
	return geom.QuantileOf(inner, rules.InSightShare/2)
}
