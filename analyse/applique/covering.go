package applique

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// coveredIn reports whether satin of one stop lies over most of a line.
func (p *finder) coveredIn(a *Trace, stop int) bool {
	if s := &p.sewn.Stops[stop]; !p.sewsSatin[stop] || !boxOfStop(s).Grown(coverBeside).Meets(a.Box) {
		return false
	}
	return p.covering(a)[stop] >= coverLeast
}

func boxOfStop(s *report.Stop) geom.Box {
	return geom.Box{Lo: geom.Point{X: s.BoundsMM[0], Y: s.BoundsMM[1]}, Hi: geom.Point{X: s.BoundsMM[2], Y: s.BoundsMM[3]}}
}

// coveredBy lists the stops after the given one whose satin lies over the line,
// each with a fair share of it, and the share that all of them cover.
func (p *finder) coveredBy(a *Trace, after int) ([]int, float64) {
	var stops []int
	for s, share := range p.covering(a) {
		if s > after && share >= 0.2 {
			stops = append(stops, s)
		}
	}
	if len(stops) == 0 {
		return nil, 0
	}
	slices.Sort(stops)
	any := 0
	for _, here := range a.over {
		if slices.ContainsFunc(here, func(s int) bool { return s > after }) {
			any++
		}
	}
	return stops, float64(any) / float64(len(a.over))
}

// coverSamples is how many places of a line are looked at for satin over it.
const coverSamples = 120

// covering gives the share of a line that lies under satin running along it, by
// stop.
func (p *finder) covering(a *Trace) map[int]float64 {
	if a.under != nil {
		return a.under
	}
	a.under = map[int]float64{}
	step := max(1, len(a.Line)/coverSamples)
	for i := 0; i < len(a.Line); i += step {
		var here []int
		dir := a.Line[min(i+1, len(a.Line)-1)].Sub(a.Line[max(0, i-1)])
		p.cover.Near(a.Line[i], coverBeside, coverMisses, func(b int32, along geom.Point) {
			band := &p.satin.Bands[b]
			// Satin that merely crosses the line does not cover an edge.
			if band.Kind != report.KindOpenZigzag && band.Width >= narrowCover && math.Abs(geom.CosBetween(dir, along)) >= alongCover && !slices.Contains(here, band.Stop) {
				here = append(here, band.Stop)
			}
		})
		for _, s := range here {
			a.under[s]++
		}
		a.over = append(a.over, here)
	}
	for s := range a.under {
		a.under[s] /= float64(len(a.over))
	}
	return a.under
}

// filledBetween reports whether the inside of a line is sewn full between it and
// the given stop: then nobody lays cloth there.
func (p *finder) filledBetween(a *Trace, stop int) bool {
	return stop > a.Stop+1 && a.Closed && p.filled(a, a.Stop, stop-1)
}

// filled reports whether stitching of the stops after the first given, up to the
// last, fills the inside of a line, so that no cloth would show there.
func (p *finder) filled(a *Trace, after, last int) bool {
	if p.filledLooks++; p.filledLooks > mostFilled {
		return true // nothing sure can be said of so many lines
	}
	inside, sewn := 0, 0
	var fill []geom.Point
	for _, g := range p.sewn.Passages {
		if g.Kind == report.KindFill && g.Stop-1 > after && g.Stop-1 <= last {
			for i := g.From; i < g.To; i += 1 + (g.To-g.From)/4000 {
				if q := p.sewn.Track.Pts[i]; q.X >= a.Box.Lo.X && q.X <= a.Box.Hi.X && q.Y >= a.Box.Lo.Y && q.Y <= a.Box.Hi.Y {
					fill = append(fill, q)
				}
			}
		}
	}
	if len(fill) == 0 {
		return false
	}
	grid := geom.NewCells(2, len(fill), func(i int) geom.Box { return geom.Box{Lo: fill[i], Hi: fill[i]} })
	const n = 20
	for y := range n {
		for x := range n {
			q := geom.Point{X: a.Box.Lo.X + a.Box.Width()*(float64(x)+0.5)/n, Y: a.Box.Lo.Y + a.Box.Height()*(float64(y)+0.5)/n}
			if !geom.InsidePolygon(q, a.Line) {
				continue
			}
			inside++
			hit := false
			grid.Each(geom.Box{Lo: q, Hi: q}.Grown(2), func(i int32) { hit = hit || geom.Distance(q, fill[i]) < 2.5 })
			if hit {
				sewn++
			}
		}
	}
	return float64(sewn) > fillShare*float64(inside)
}
