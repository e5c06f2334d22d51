package rules

import (
	"fmt"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// StackedRule is the rule stacked-layers.
var StackedRule = Rule{
	ID:       "stacked-layers",
	Doc:      "so much thread on one spot that it stands stiff and bends needles",
	Severity: report.Fault,
	Limits:   limits("stacked-layers"),
	Bounds:   "over 3 x 3 mm; a note where the covers of two pieces cross on a spot of 10 mm at most, up to 1.2 times as much, and where the cover of one laps itself on a spot of 6 mm at most, such as a corner, up to 1.4 times",
	Requires: []*measure.Step{measure.DensityGrid},
	Check:    stacked,
}

// Where covers lie on one another on a spot, however well they are made, it is soon past
// the limit: where those of two pieces cross, and where one laps itself at a corner, in
// the point of a leaf or at its joint (common practice, no single source). What lies so
// along a stretch is stacked.
const (
	crossingMost = 1.2  // times the limit: two satins at 0.35 mm and the beginnings of four lines
	crossingSpot = 10.0 // mm across: two covers 4.5 mm wide that cross aslant
	lapMost      = 1.4  // times the limit: three satins at 0.34 mm, where the joint is in a corner, and the lines under them
	lapSpot      = 6.0  // mm across: the corner of a cover 4.5 mm wide
	spotHalf     = 1.5  // mm from the middle of a spot to its sides
	mostSpots    = 300  // past the limit that are looked at: more are stacked, not lapped
)

func stacked(p *Pass) []report.Finding {
	d := &p.Report.Density
	limit := p.Limit("stacked-layers")
	out := stackedAt(p, d.MaxLayers, d.MaxLayersAt, d.MaxLayersStops)
	if len(out) == 0 || limit < 0 { // all are asked for
		return out
	}
	places := placesPast(d.Grid, p.LayersAbout(), limit)
	cells := 0
	for _, s := range places {
		cells += s.cells
	}
	if cells == 0 || cells > mostSpots {
		return out
	}
	note := ""
	for i, s := range places {
		l := lapping(p, &s)
		if s.value <= l.most*limit {
			if i == 0 {
				note = l.how
			}
			continue // another place may be stacked where the worst is lapped
		}
		if i > 0 {
			out = stackedAt(p, s.value, s.at.Place(), p.LayerStops(s.at))
		}
		if l.own && out[0].Severity == report.Fault {
			out[0].Severity, out[0].Advice = report.Caution, slowly
		}
		return out
	}
	f := &out[0]
	f.Severity = report.Note
	f.Message += "; " + note + " there"
	f.Advice = "Such a spot sews well as a rule: sew it slowly, and do not shrink this design."
	return out
}

func stackedAt(p *Pass, layers float64, at geom.Place, stops []int) []report.Finding {
	limit := p.Limit("stacked-layers")
	is, most := words.Past(layers, limit, 1)
	return dense(limit, layers, at, stops, "layers",
		fmt.Sprintf("%s layers of thread lie on one another over %s, and more than %s is too many", is, p.units().Spot(), most))
}

// lap is how the covers of pieces lie on one another at a place.
type lap struct {
	how  string
	most float64 // times the limit that sew well so; 1 for what is no lap
	own  bool    // nothing but what these pieces are sewn with stacks there
}

// lapping tells how covers lie on one another at a place, where they do and it reaches no
// further than they cross or lap.
func lapping(p *Pass, s *gridPlace) lap {
	no := lap{most: 1}
	if s.across > crossingSpot {
		return no
	}
	pieces, of := map[int]bool{}, map[int]bool{}
	k := 1 / p.Scale
	at := s.at.Times(k)
	for _, w := range p.Recognised.Pieces {
		for _, t := range w.Cover {
			if t.Box.Meets(geom.Box{Lo: at, Hi: at}.Grown(crossingSpot)) && coversSpot(p, t.Bands, at, spotHalf*k) {
				pieces[w.Number] = true
				of[w.Place.Stop+1], of[w.Tack.Stop+1] = true, true
				for _, stop := range w.Covers {
					of[stop+1] = true
				}
			}
		}
	}
	own := s.across <= lapSpot && !slices.ContainsFunc(p.LayerStops(s.at), func(stop int) bool { return !of[stop] })
	switch {
	case len(pieces) == 0:
		return no
	case len(pieces) == 1 && own:
		return lap{"the cover of a piece laps itself", lapMost, true}
	case len(pieces) == 1:
		return no
	}
	return lap{"the covers of two pieces cross", crossingMost, own}
}

// coversSpot reports whether a satin lies over some of a spot, both at the scale of the
// design as it is.
func coversSpot(p *Pass, bands []int, q geom.Point, half float64) bool {
	for _, n := range bands {
		b := &p.Recognised.Satin.Bands[n]
		for i := 1; i < len(b.Centre); i++ {
			if geom.DistanceToSegment(q, b.Centre[i-1], b.Centre[i]) <= b.Width/2+half {
				return true
			}
		}
	}
	return false
}
