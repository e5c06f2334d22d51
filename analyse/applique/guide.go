package applique

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
)

// guide is a line for measuring distances from: with fewer points than its stitches.
type guide struct {
	pts   []geom.Point
	along []float64 // mm from the beginning to each point
	cells geom.Cells

	last   int // the segment last found
	looked int // segments that were looked at
}

func newGuide(line []geom.Point) *guide {
	g := &guide{pts: []geom.Point{line[0]}, along: []float64{0}}
	var s float64
	last := 0
	for i := 1; i < len(line); i++ {
		s += geom.Distance(line[i-1], line[i])
		if i+1 < len(line) && s-g.along[len(g.along)-1] < guideStep &&
			geom.CosBetween(line[i].Sub(line[last]), line[i+1].Sub(line[i])) > guideBend {
			continue
		}
		g.pts, g.along = append(g.pts, line[i]), append(g.along, s)
		last = i
	}
	g.cells = geom.NewCells(guideStep, len(g.pts)-1, func(i int) geom.Box { return geom.BoxOf(g.pts[i : i+2]) })
	return g
}

const (
	guideStep = 3.0   // mm between points of a guide at most: on a circle of 10 mm it strays by 0.1 mm
	guideBend = 0.985 // cosine of 10 degrees: the guide has a point where a line bends more
)

// nearest gives the distance of q from the line, the segment and how far along it
// the place lies; the segment is -1 where none is within reach. Of segments equally near
// it is the one that the last cell within reach has.
//
// Places are mostly asked for one after another, so the segments about the last one
// found tell how far to look.
func (g *guide) nearest(q geom.Point, reach float64) (d float64, segment int, along float64) {
	all := geom.Box{Lo: q, Hi: q}.Grown(reach)
	best, at, part := reach*reach, -1, 0.0
	for i := max(0, g.last-1); i <= min(g.last+1, len(g.pts)-2); i++ {
		if d, t := g.away(q, i); d < best {
			best, at, part = d, i, t
		}
	}
	g.looked += 3
	near := all
	if at >= 0 {
		near = geom.Box{Lo: q, Hi: q}.Grown(min(reach, math.Sqrt(best)*(1+1e-9)+1e-9)) // none is lost to rounding
	}
	g.cells.EachCell(near, func(cell int) {
		items := g.cells.At(cell)
		g.looked += len(items)
		for _, k := range items {
			i := int(k)
			if d, t := g.away(q, i); d < best || d == best && i != at && (at < 0 || g.later(i, at, all)) {
				best, at, part = d, i, t
			}
		}
	})
	if at < 0 {
		return math.Inf(1), -1, 0
	}
	g.last = at
	return math.Sqrt(best), at, g.along[at] + part*(g.along[at+1]-g.along[at])
}

// later reports whether segment i has a later cell within a box than segment j.
func (g *guide) later(i, j int, in geom.Box) bool {
	a, b := g.cells.Last(geom.BoxOf(g.pts[i:i+2]), in), g.cells.Last(geom.BoxOf(g.pts[j:j+2]), in)
	return a > b || a == b && i > j
}

// away is the square of the distance of q from a segment, and where on it, from 0 to 1,
// the nearest place lies.
func (g *guide) away(q geom.Point, i int) (d, part float64) {
	a, b := g.pts[i], g.pts[i+1]
	v, w := b.Sub(a), q.Sub(a)
	if l := v.Dot(v); l > 0 {
		part = max(0, min(1, w.Dot(v)/l))
	}
	w = w.Sub(v.Times(part))
	return w.Dot(w), part
}
