package rules

import (
	"math"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// At a tip of the cloth, scissors leave no more than they are led to: it may be cut blunt,
// close to the stitching. Where the cover hides the stitching itself there, that mends what
// little would show (common practice, no single source).
const (
	tipMost  = 1.3                // mm of edge: little more than the rim that scissors leave, and more is a corner that the cover misses
	tipTurn  = 50 * math.Pi / 180 // that the tack-down turns by
	tipNear  = 4.0                // mm along the tack-down about the gap that the tip is looked for
	tipFrom  = 1.0                // mm to either side of the tip from which
	tipTo    = 4.0                // mm to which the way of the tack-down is taken: stitches cut corners
	tipAlike = 0.02               // radians: by arithmetic and rounding
	tipSlack = 0.35               // mm: between the crossings of a satin
)

// tipOnly reports whether a gap is the tip of the cloth, beyond stitching that the cover hides.
func tipOnly(p *Pass, w *applique.Piece, g *report.Gap) bool {
	if g.LengthMM > tipMost || !w.Tack.Closed {
		return false
	}
	tip, ok := tipNextTo(w.Tack.Line, geom.Point{X: g.AtMM[0], Y: g.AtMM[1]}, p.Scale)
	if !ok {
		return false
	}
	for _, stop := range w.Covers {
		if sewnOver(p, stop, tip, p.Settings.LaidWidth()/2+tipSlack) {
			return true
		}
	}
	return false
}

// tipNextTo is the sharpest corner of a closed line near a place, where it makes a tip and
// the place lies beyond it.
func tipNextTo(line []geom.Point, q geom.Point, scale float64) (tip geom.Point, ok bool) {
	g := newRounds(line)
	_, near := g.nearest(q)
	way := func(from, to float64) geom.Point { return g.at(to).Sub(g.at(from)).Unit() }
	// The way turns alike all along where the corner lies between the two sides: the tip is
	// in the middle of that.
	best, from, to := tipTurn, 0.0, 0.0
	for s := -tipNear; s <= tipNear; s += tipFrom / 4 {
		along := near + s*scale
		turn := math.Acos(max(-1, min(1, way(along-tipTo*scale, along-tipFrom*scale).Dot(way(along+tipFrom*scale, along+tipTo*scale)))))
		switch {
		case turn > best+tipAlike:
			best, from, to, ok = turn, along, along, true
		case ok && turn > best-tipAlike:
			to = along
		}
	}
	if !ok {
		return tip, false
	}
	along := (from + to) / 2
	tip = g.at(along)
	out := way(along-tipTo*scale, along).Sub(way(along, along+tipTo*scale))
	return tip, out.Dot(q.Sub(tip)) > 0
}

// rounds measures along a closed line, round and round.
type rounds struct {
	line  []geom.Point
	along []float64 // mm from its first point
}

func newRounds(line []geom.Point) rounds {
	if n := len(line); n > 0 && line[0] != line[n-1] {
		line = append(line[:n:n], line[0])
	}
	r := rounds{line, make([]float64, len(line))}
	for i := 1; i < len(line); i++ {
		r.along[i] = r.along[i-1] + geom.Distance(line[i-1], line[i])
	}
	return r
}

// nearest is how far a place lies off the line, and how far along.
func (r rounds) nearest(q geom.Point) (off, along float64) {
	off = math.Inf(1)
	for i := 1; i < len(r.line); i++ {
		if d := geom.DistanceToSegment(q, r.line[i-1], r.line[i]); d < off {
			v := r.line[i].Sub(r.line[i-1])
			off, along = d, r.along[i-1]+min(max(0, q.Sub(r.line[i-1]).Dot(v.Unit())), v.Norm())
		}
	}
	return off, along
}

// at is the place so far along.
func (r rounds) at(along float64) geom.Point {
	n := len(r.line)
	all := r.along[n-1]
	if all <= 0 {
		return r.line[0]
	}
	if along = math.Mod(along, all); along < 0 {
		along += all
	}
	for i := 1; i < n; i++ {
		if l := r.along[i] - r.along[i-1]; along <= r.along[i] && l > 0 {
			return geom.Lerp(r.line[i-1], r.line[i], (along-r.along[i-1])/l)
		}
	}
	return r.line[n-1]
}

// sewnOver reports whether a stitch of a stop passes a place within reach.
func sewnOver(p *Pass, stop int, q geom.Point, reach float64) bool {
	t := &p.Sewn.Track
	for _, s := range t.Of(stop) {
		for k := s.First + 1; k < s.Last; k++ {
			if geom.DistanceToSegment(q, t.Pts[k-1], t.Pts[k]) <= reach {
				return true
			}
		}
	}
	return false
}
