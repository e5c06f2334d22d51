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
	line  []geom.Point // closed; its first point is repeated
	away  float64      // 1 where the cloth lies to the right of the line, -1 to its left
	allow float64      // mm from the tack-down
}

const (
	outerWindow = 3    // needle points to either side among which the outermost are looked for
	outerShare  = 0.35 // of the way in from the outermost to the innermost that still counts as outside
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
	last := -1
	for _, b := range t.Bands {
		g := p.bands[b].Passage
		if g == last {
			continue // a passage that a corner parts into several bands
		}
		last = g
		from := p.Sewn.Passages[g].From
		if from > 0 && p.Sewn.Track.Joined(from) {
			from--
		}
		pts = append(pts, p.Sewn.Track.Pts[from:p.Sewn.Passages[g].To]...)
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
func outerRail(t *applique.Trace, pts []geom.Point, out float64) []geom.Point {
	// How far outside the centre line each needle point lies.
	grid := t.Near()
	side := make([]float64, len(pts))
	for i, q := range pts {
		best := math.Inf(1)
		grid.Each(geom.Box{Lo: q, Hi: q}.Grown(outlineReach), func(k int32) {
			a, b := t.Line[k], t.Line[k+1]
			if d := geom.DistanceToSegment(q, a, b); d < best {
				best = d
				side[i] = math.Copysign(d, b.Sub(a).Cross(q.Sub(a))*out)
			}
		})
	}
	var outer []geom.Point
	n := len(pts)
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

// outlineReach is how far from the centre line of a tack-down its needle points lie
// at most, in mm.
const outlineReach = 6.0
