package applique

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
)

// guide is a line for measuring distances from: with fewer points than its stitches.
type guide struct {
	sides []side // by the point that each begins at; the last is the end of the line, without any length
	cells geom.Cells
	box   geom.Box

	last   int // the segment last found
	looked int // segments that were looked at
}

// side is a segment made ready for distances.
type side struct {
	from  geom.Point
	way   geom.Point
	per   float64 // one over the square of its length; 0 for a segment without any
	along float64 // mm from the beginning of the line to it
	clear float64 // see clearance; 0 where that is not known yet
}

func newGuide(line []geom.Point) *guide {
	// Most guides are shorter than this, and take no more room than they need.
	var ptsRoom [256]geom.Point
	var sidesRoom [256]side
	pts, sides := append(ptsRoom[:0], line[0]), append(sidesRoom[:0], side{from: line[0]})
	var s float64
	last := 0
	for i := 1; i < len(line); i++ {
		s += geom.Distance(line[i-1], line[i])
		if i+1 < len(line) && s-sides[len(sides)-1].along < guideStep &&
			geom.CosBetween(line[i].Sub(line[last]), line[i+1].Sub(line[i])) > guideBend {
			continue
		}
		pts, sides = append(pts, line[i]), append(sides, side{from: line[i], along: s})
		last = i
	}
	for i := range len(sides) - 1 {
		v := &sides[i]
		v.way = pts[i+1].Sub(pts[i])
		if l := v.way.Dot(v.way); l > 0 {
			v.per = 1 / l
		}
	}
	return &guide{sides: slices.Clone(sides), box: geom.BoxOf(pts), cells: geom.NewLineCells(guideStep, pts)}
}

const (
	guideStep = 3.0   // mm between points of a guide at most: on a circle of 10 mm it strays by 0.1 mm
	guideBend = 0.985 // cosine of 10 degrees: the guide has a point where a line bends more
)

// nearest gives the distance of q from the line, the segment and how far along it
// the place lies; the segment is -1 where none is within reach. Of segments equally near
// it is the one that the last cell within reach has.
//
// Places are mostly asked for one after another, so the line is gone along from the
// segment last found to the nearest about it. Mostly nothing else of the line can come as
// near; otherwise that tells how far to look.
func (g *guide) nearest(q geom.Point, reach float64) (d float64, segment int, along float64) {
	if b := &g.box; q.X < b.Lo.X-reach || q.X > b.Hi.X+reach || q.Y < b.Lo.Y-reach || q.Y > b.Hi.Y+reach {
		return math.Inf(1), -1, 0
	}
	best, at, part := reach*reach, -1, 0.0
	sides := g.sides
	first, end := g.last, min(len(sides)-1, g.last+nextSides+1)
	for i := first; i < end; i++ {
		if d, t := sides[i].away(q); d < best || d == best && at >= 0 && g.later(i, at, q, reach) {
			best, at, part = d, i, t
			end = min(len(sides)-1, i+nextSides+1)
		}
	}
	for about := max(g.last, at); first > 0 && first > about-nextSides; {
		first--
		if d, t := sides[first].away(q); d < best || d == best && at >= 0 && g.later(first, at, q, reach) {
			best, at, part, about = d, first, t, first
		}
	}
	g.looked += end - first
	if at >= 0 {
		if c := g.clearance(at); c > 0 && 4*best < c*c {
			g.last = at
			return math.Sqrt(best), at, sides[at].along + part*(sides[at+1].along-sides[at].along)
		}
	}
	near := reach
	if at >= 0 {
		near = min(reach, math.Sqrt(best)*(1+1e-9)+1e-9) // none is lost to rounding
	}
	x0, y0, x1, y1, ok := g.cells.Range(geom.Box{Lo: q, Hi: q}.Grown(near))
	for y := y0; ok && y <= y1; y++ {
		items := g.cells.Row(y, x0, x1)
		g.looked += len(items)
		for _, k := range items {
			i := int(k)
			if i >= first && i < end {
				continue
			}
			if d, t := sides[i].away(q); d < best || d == best && i != at && (at < 0 || g.later(i, at, q, reach)) {
				best, at, part = d, i, t
			}
		}
	}
	if at < 0 {
		return math.Inf(1), -1, 0
	}
	g.last = at
	return math.Sqrt(best), at, sides[at].along + part*(sides[at+1].along-sides[at].along)
}

// later reports whether segment i has a later cell within reach of q than segment j.
func (g *guide) later(i, j int, q geom.Point, reach float64) bool {
	in := geom.Box{Lo: q, Hi: q}.Grown(reach)
	a, b := g.cells.Last(g.boxOf(i), in), g.cells.Last(g.boxOf(j), in)
	return a > b || a == b && i > j
}

// boxOf is the box around a segment.
func (g *guide) boxOf(i int) geom.Box {
	return geom.BoxOf([]geom.Point{g.sides[i].from, g.sides[i+1].from})
}

// away is the square of the distance of a place from a segment, and where on it, from 0
// to 1, the nearest one lies.
func (s *side) away(q geom.Point) (d, part float64) {
	x, y := q.X-s.from.X, q.Y-s.from.Y
	if part = (x*s.way.X + y*s.way.Y) * s.per; part < 0 {
		part = 0
	} else if part > 1 {
		part = 1
	}
	x, y = x-part*s.way.X, y-part*s.way.Y
	return x*x + y*y, part
}

// clearance is how near in mm the rest of the line comes to a segment at least, but for the
// segments next to it: a place that is nearer than half of it has none of them as near.
// What is further than mostClear is not looked for.
func (g *guide) clearance(segment int) float64 {
	v := &g.sides[segment]
	if v.clear != 0 {
		return v.clear
	}
	half := v.way.Norm() / 2
	q := geom.Lerp(v.from, g.sides[segment+1].from, 0.5)
	least := mostClear + half
	x0, y0, x1, y1, ok := g.cells.Range(geom.Box{Lo: q, Hi: q}.Grown(least))
	least *= least
	for y := y0; ok && y <= y1; y++ {
		items := g.cells.Row(y, x0, x1)
		g.looked += len(items)
		for _, k := range items {
			if i := int(k); i < segment-nextSides || i > segment+nextSides {
				d, _ := g.sides[i].away(q)
				least = min(least, d)
			}
		}
	}
	if v.clear = math.Sqrt(least) - half - 1e-6; v.clear <= 0 { // none is lost to rounding
		v.clear = -1
	}
	return v.clear
}

const (
	nextSides = 2   // segments to either side that are next to one
	mostClear = 6.5 // mm: the needle holes of most covers are nearer than half of it
)
