package measure

import (
	"math"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// cutRing is one ring of a cut edge: where scissors leave the cloth of a piece, or
// of a hole in it.
type cutRing struct {
	part  *applique.Piece
	line  []geom.Point      // closed; its first point is repeated
	away  float64           // 1 where the cloth lies to the right of the line, -1 to its left
	allow float64           // mm from the tack-down
	cells []edgeCell        // it is cut into, once it is
	over  []*applique.Piece // see laidOver
}

const (
	outerWindow = 3    // needle points to either side among which the outermost are looked for
	outerShare  = 0.35 // of the way in from the outermost to the innermost that still counts as outside
	wayOver     = 12   // needle points to either side that tell which way round a line is sewn
	nearLately  = 3    // segments of a line to either side of the nearest one that is the next place's, or near it
	leastTooth  = 0.4  // mm that a zigzag goes to and fro; less is a line
)

// cutEdge gives the rings of the cut edge of a piece or of a hole: the outside of
// its tack-down's stitches set out by the trim allowance, by which holes are set
// in. Cloth that no tack-down holds is cut to its line before it is laid.
func (p *Pass) cutEdge(part *applique.Piece) []cutRing {
	allow := p.Settings.TrimAllowanceMM
	if !part.Held {
		allow = 0
	}
	d, corners := allow, geom.SharpCorners
	if part.Hole {
		d = -allow
	}
	if p.Settings.Corners == report.RoundCorners {
		corners = geom.RoundCorners
	}
	var out []cutRing
	for _, line := range geom.Offset([][]geom.Point{p.tackOutline(part)}, d, corners) {
		r := cutRing{part: part, line: line, away: -1, allow: allow}
		if part.Hole {
			r.away = 1
		}
		out = append(out, r)
	}
	return out
}

// tackOutline is the outermost line of a tack-down's stitches, closed: the line of
// a run, the outer needle points of a zigzag or of a blanket stitch. Scissors go
// along it.
func (p *Pass) tackOutline(part *applique.Piece) []geom.Point {
	t := part.Tack
	if !t.Kind.Surface() || len(t.Bands) == 0 || len(t.Line) < 3 {
		return t.Line
	}
	out := 1.0 // side of the centre line that is outward: 1 left, -1 right
	if geom.PolygonArea(t.Line) > 0 {
		out = -1
	}
	if part.Hole {
		out = -out
	}
	var pts []geom.Point
	for _, s := range t.Spans {
		pts = append(pts, p.Sewn.Track.Pts[s[0]:s[1]]...)
	}
	outer := outerRail(t, pts, out)
	if tips, line := teeth(pts); len(tips)*4 > len(pts) {
		// A blanket stitch: teeth on a line. They may point either way.
		if outer = line; (math.Abs(geom.PolygonArea(tips)) > math.Abs(geom.PolygonArea(line))) != part.Hole {
			outer = tips
		}
	}
	if len(outer) < 3 {
		return t.Line
	}
	return outer
}

// teeth parts needle points into the tips of teeth, from which the thread goes back
// to the very hole that it came from, and the line that they stand on.
func teeth(pts []geom.Point) (tips, line []geom.Point) {
	for i, q := range pts {
		if i > 0 && i+1 < len(pts) && geom.Distance(pts[i-1], pts[i+1]) < 0.2 && geom.Distance(q, pts[i-1]) > leastTooth {
			tips = append(tips, q)
		} else if m := len(line); m == 0 || geom.Distance(line[m-1], q) > 0.05 {
			line = append(line, q)
		}
	}
	return tips, line
}

// outerRail are the needle points of a zigzag that lie outermost, out being the side
// of its centre line: 1 for the left, -1 for the right.
//
// How far outside a needle point lies is told from its neighbours in the thread: at a
// corner the centre line of a wide zigzag folds over itself, and points near a fold lie
// on either side of it.
func outerRail(t *applique.Trace, pts []geom.Point, out float64) []geom.Point {
	n := len(pts)
	at := func(i int) (geom.Point, bool) {
		if t.Closed {
			i = (i + n) % n
		}
		if i < 0 || i >= n {
			return geom.Point{}, false
		}
		return pts[i], true
	}
	ways := waysAlong(t, pts, at)
	side := make([]float64, n)
	for i, q := range pts {
		a, okA := at(i - 1)
		b, okB := at(i + 1)
		switch {
		case !okA && !okB:
			continue
		case !okA:
			a = b
		case !okB:
			b = a
		}
		side[i] = ways[i].Left().Dot(q.Times(2).Sub(a).Sub(b)) / 4 * out
	}
	var outer []geom.Point
	for i := range pts {
		lo, hi := side[i], side[i]
		for k := i - outerWindow; k <= i+outerWindow; k++ {
			j := k
			if t.Closed {
				j = (k + n) % n
			}
			if j >= 0 && j < n {
				lo, hi = min(lo, side[j]), max(hi, side[j])
			}
		}
		if hi-lo < leastTooth || side[i] >= hi-outerShare*(hi-lo) {
			if m := len(outer); m == 0 || geom.Distance(outer[m-1], pts[i]) > 0.05 {
				outer = append(outer, pts[i])
			}
		}
	}
	return outer
}

// waysAlong gives the way of the centre line of a tack-down at each needle point, as
// the thread goes along it there, turned round where it is sewn against its line.
func waysAlong(t *applique.Trace, pts []geom.Point, at func(int) (geom.Point, bool)) []geom.Point {
	grid := t.Near()
	ways, with := make([]geom.Point, len(pts)), make([]float64, len(pts)+1)
	lately := 0 // the segment of the line that was nearest last
	for i, q := range pts {
		var u geom.Point
		for k := 1; k <= outerWindow; k++ {
			a, okA := at(i - k)
			b, okB := at(i + k)
			if okA && okB {
				u = u.Add(b.Sub(a))
			}
		}
		if u.Norm() == 0 && i > 0 {
			u = ways[i-1]
		}
		ways[i] = u.Unit()
		best, along := math.Inf(1), 0.0
		// The needle goes along the line: what is near it lies about where it was last.
		reach := outlineReach
		for k := max(0, lately-nearLately); k <= min(lately+nearLately, len(t.Line)-2); k++ {
			reach = min(reach, geom.DistanceToSegment(q, t.Line[k], t.Line[k+1])*(1+1e-9)+1e-9) // none is lost to rounding
		}
		grid.Each(geom.Box{Lo: q, Hi: q}.Grown(reach), func(k int32) {
			a, b := t.Line[k], t.Line[k+1]
			if d := geom.DistanceToSegment(q, a, b); d < best {
				best, along, lately = d, b.Sub(a).Unit().Dot(ways[i]), int(k)
			}
		})
		with[i+1] = with[i] + along
	}
	for i := range ways {
		// A fold of the line is outvoted by what lies beside it.
		if lo, hi := max(0, i-wayOver), min(len(pts), i+wayOver+1); with[hi] < with[lo] {
			ways[i] = ways[i].Times(-1)
		}
	}
	return ways
}

// outlineReach is how far from the centre line of a tack-down its needle points lie
// at most, in mm.
const outlineReach = 6.0

// round is a number of up to twice n counted on round a ring of n.
func round(i, n int) int {
	if i >= n {
		return i - n
	}
	return i
}
