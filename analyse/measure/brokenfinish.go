package measure

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

const (
	// BrokenMM is the stretch of edge in mm, on the design as it was drawn, along which a
	// finish that is loose by design is missing: its stitches, and the figures of a motif,
	// lie 2 to 5 mm apart (common practice, no single source), and at openMost two are
	// taken for ends.
	BrokenMM = openMost

	// brokenTimes is how many times as long it must be besides as what usually lies between
	// two stitches: a design may have been made so large that all lie far apart.
	brokenTimes = 2

	finishNear  = 4.0 // mm from the tack-down that stitches lie at which finish it
	finishEvery = 0.5 // mm along the tack-down between the places that are looked at
)

// brokenFinish gives the stretches of a ring's tack-down along which no stitch that is sewn
// over it lies near, where they are too long to lie between two stitches of its finish.
// What lies under other cloth or in a seam needs none.
func (p *Pass) brokenFinish(r *cutRing) []report.Gap {
	t := r.part.Tack
	if !t.Closed {
		return nil
	}
	places := geom.Resample(t.Line, finishEvery*p.Scale)
	places = places[:max(0, len(places)-1)] // the last is the first
	n := len(places)
	near := finishNear * p.Scale
	grid, box := geom.NewPointCells(near, places), geom.BoxOf(places).Grown(near)
	met := make([]bool, n)
	for _, s := range p.Sewn.Track.Segs {
		if !r.part.OverBy(s.Stop) {
			continue
		}
		pts := p.Sewn.Track.Pts[s.First:s.Last]
		p.watch.Step(len(pts))
		for _, q := range pts {
			if !box.Holds(q) {
				continue
			}
			best, least := int32(-1), near
			grid.Each(geom.Box{Lo: q, Hi: q}.Grown(near), func(i int32) {
				if d := geom.Distance(places[i], q); d < least {
					best, least = i, d
				}
			})
			if best >= 0 {
				met[best] = true
			}
		}
	}
	seam := seamLook{Pass: p}
	for i, q := range places {
		met[i] = met[i] || r.underCloth(q) || seam.has(r, q)
	}
	type stretch struct {
		from, to int
		length   float64
	}
	var between []stretch // from one place that is met to the next
	var lengths []float64
	start := 0
	for start < n && !met[start] {
		start++
	}
	for k := start; k < start+n && start < n; {
		from := k
		for k++; k < start+n && !met[k%n]; k++ {
		}
		l := geom.PathLength(along(places, from, k))
		between, lengths = append(between, stretch{from, k, l}), append(lengths, l)
	}
	least := max(BrokenMM*p.Scale, brokenTimes*usualOf(lengths))
	var out []report.Gap
	for _, s := range between {
		if s.length >= least {
			out = append(out, report.Gap{LengthMM: s.length, AtMM: places[(s.from+s.to)/2%n].Place()})
		}
	}
	return out
}

// usualOf is the length of a stretch in the middle of all of them, laid end to end from the
// shortest to the longest; 0 for none.
func usualOf(lengths []float64) float64 {
	slices.Sort(lengths)
	var all, sum float64
	for _, l := range lengths {
		all += l
	}
	for _, l := range lengths {
		if sum += l; 2*sum >= all {
			return l
		}
	}
	return 0
}

// along is the places of a closed line from one to another, both with it.
func along(places []geom.Point, from, to int) []geom.Point {
	var out []geom.Point
	for k := from; k <= to; k++ {
		out = append(out, places[k%len(places)])
	}
	return out
}
