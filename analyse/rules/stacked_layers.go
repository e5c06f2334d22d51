package rules

import (
	"fmt"

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
	Bounds:   "over 3 x 3 mm; a note where the covers of two pieces cross on a spot of 10 mm at most, up to 1.2 times as much",
	Requires: []*measure.Step{measure.DensityGrid},
	Check:    stacked,
}

// Where the covers of two pieces cross, two satins and their lines lie on one another
// however well they are made, and it is soon past (common practice, no single source).
// What lies so along a stretch is stacked.
const (
	crossingMost = 1.2  // times the limit: two satins at 0.35 mm and the beginnings of four lines
	crossingSpot = 10.0 // mm across: two covers 4.5 mm wide that cross aslant
	spotHalf     = 1.5  // mm from the middle of a spot to its sides
	mostSpots    = 300  // past the limit that are looked at: more are stacked, not crossed
)

func stacked(p *Pass) []report.Finding {
	d := &p.Report.Density
	limit := p.Limit("stacked-layers")
	out := stackedAt(p, d.MaxLayers, d.MaxLayersAt, d.MaxLayersStops)
	if len(out) == 0 || d.MaxLayers > crossingMost*limit {
		return out
	}
	spots := spotsPast(p, limit)
	if len(spots) > mostSpots || !crossing(p, d.MaxLayersAt, spots) {
		return out
	}
	// Another spot may be stacked all the same.
	var worst spot
	for _, s := range spots {
		if s.layers > worst.layers && !crossing(p, s.at, spots) {
			worst = s
		}
	}
	if worst.layers > 0 {
		return stackedAt(p, worst.layers, worst.at, nil)
	}
	f := &out[0]
	f.Severity = report.Note
	f.Message += "; the covers of two pieces cross there"
	f.Advice = "Such a crossing sews well as a rule: sew it slowly, and do not shrink this design."
	return out
}

func stackedAt(p *Pass, layers float64, at geom.Place, stops []int) []report.Finding {
	limit := p.Limit("stacked-layers")
	is, most := words.Past(layers, limit, 1)
	return dense(limit, layers, at, stops, "layers",
		fmt.Sprintf("%s layers of thread lie on one another over %s, and more than %s is too many", is, p.units().Spot(), most))
}

// spot is a cell of the density grid with the layers of the 3 x 3 mm about it.
type spot struct {
	layers float64
	at     geom.Place
}

// spotsPast lists the spots past a limit, one more than mostSpots of them at most.
func spotsPast(p *Pass, limit float64) (out []spot) {
	g := p.Report.Density.Grid
	if g == nil {
		return nil
	}
	for y := range g.NY {
		for x := range g.NX {
			var sum float32
			for yy := max(0, y-1); yy <= min(g.NY-1, y+1); yy++ {
				for xx := max(0, x-1); xx <= min(g.NX-1, x+1); xx++ {
					sum += g.Layers[yy*g.NX+xx]
				}
			}
			if mean := float64(sum) / 9; mean > limit && len(out) <= mostSpots {
				at := geom.Point{X: g.X + (float64(x)+0.5)*g.CellMM, Y: g.Y + (float64(y)+0.5)*g.CellMM}
				out = append(out, spot{mean, at.Place()})
			}
		}
	}
	return out
}

// crossing reports whether the covers of two pieces lie over a spot, and what is past
// the limit about it reaches no further than they cross.
func crossing(p *Pass, at geom.Place, spots []spot) bool {
	q := geom.Point{X: at[0], Y: at[1]}
	if b := hangingTogether(q, spots, p.Report.Density.CellMM); max(b.Width(), b.Height()) > crossingSpot {
		return false
	}
	pieces := map[int]bool{}
	k := 1 / p.Scale
	for _, w := range p.Recognised.Pieces {
		for _, t := range w.Cover {
			if t.Box.Meets(geom.Box{Lo: q.Times(k), Hi: q.Times(k)}.Grown(crossingSpot)) && coversSpot(p, t.Bands, q.Times(k), spotHalf*k) {
				pieces[w.Number] = true
			}
		}
	}
	return len(pieces) > 1
}

// hangingTogether is the box around the spots that hang together with a place.
func hangingTogether(q geom.Point, spots []spot, cell float64) geom.Box {
	b := geom.Box{Lo: q, Hi: q}
	in := make([]bool, len(spots))
	of := []geom.Point{q}
	for len(of) > 0 {
		from := of[len(of)-1]
		of = of[:len(of)-1]
		for i, s := range spots {
			if v := (geom.Point{X: s.at[0], Y: s.at[1]}); !in[i] && geom.Distance(from, v) < 1.5*cell {
				in[i], b, of = true, b.With(geom.Box{Lo: v, Hi: v}), append(of, v)
			}
		}
	}
	return b
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
