package resize

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

const (
	tipTurn = math.Pi / 6 // by which an edge turns at a tip at least; less is a bend
	tipOver = 2           // samples to either side of a tip, about 1 mm, that lie at it
)

// tip is a corner of a cut edge. Scissors cut it at the trim allowance on either side, so
// that it sticks out by more than that, and by as much on a smaller design, whose cover
// reaches less far. What shows of each may be short: a piece has several.
type tip struct {
	reach float64 // of the cover outwards at the corner, mm
	falls float64 // what that falls by at most as the design shrinks to nothing, mm; 0 for no corner
}

// holds is the ratio of scales down to which the cover surely reaches so many mm at the
// tip: the least there is where there is none, and 0 where it may not even now.
func (t tip) holds(least float64) float64 {
	switch {
	case t.falls == 0:
		return math.SmallestNonzeroFloat64
	case t.reach <= least:
		return 0
	}
	return grained(max(math.SmallestNonzeroFloat64, 1-(t.reach-least)/t.falls)).sure
}

// barestTip is the tip of a piece that begins to show first as the design shrinks. At a
// corner that turns by a, what lies on the line that halves it moves past the edge
// 1/cos(a/2) times as fast as it moves. past tells how far the cover goes past a place of
// the edge in a direction, and allow how far outside its line scissors cut.
func barestTip(c *report.Piece, allow float64, past func(q, way geom.Point) float64) (barest tip) {
	first := math.Inf(1)
	least := allow - measure.ReachSlackMM
	n := len(c.Edge)
	for i := range c.Edge {
		a, b := &c.Edge[i], &c.Edge[(i+1)%n]
		if a.Ring != b.Ring || a.Outward.Dot(b.Outward) > math.Cos(tipTurn) {
			continue
		}
		half := max(math.Sqrt(max(0, 1+a.Outward.Dot(b.Outward))/2), leastHalf)
		ask := func(t tip) {
			if spare := (t.reach - least) / t.falls; spare < first {
				first, barest = spare, t
			}
		}
		for k := 1 - tipOver; k <= tipOver; k++ {
			s := &c.Edge[(i+k+n)%n]
			if s.Ring != a.Ring || s.State == report.EdgeHidden {
				continue
			}
			ask(tip{s.Outer, max(c.OuterCoverMM.Median, s.Outer) / half})
		}
		if hidden := a.State == report.EdgeHidden || b.State == report.EdgeHidden; !hidden && sticksOut(a, b) {
			// The point itself lies allow/half from the corner of the line it is cut along.
			over := past(a.To, a.Outward.Add(b.Outward).Unit())
			if over > 0 {
				ask(tip{allow + over, allow/half + over})
			} else {
				ask(tip{least, allow / half})
			}
		}
	}
	return barest
}

// leastHalf is the least cosine of half the turn of a corner: a needle of cloth has no end.
const leastHalf = 0.1

// sticksOut reports whether cloth sticks out at the corner between two samples of its edge,
// rather than in.
func sticksOut(a, b *report.EdgeSample) bool {
	return b.Outward.Sub(a.Outward).Dot(a.To.Sub(a.From)) > 0
}
