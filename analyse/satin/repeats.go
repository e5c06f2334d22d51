package satin

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// repeats finds the places of a column at which all lies as at the place before, further on:
// straight columns are mostly sewn so, and there as much is hidden, too.
type repeats struct {
	next int        // the first crossing that was not looked at
	run  int        // crossings up to there whose threads lie as those two before, shifted
	by   geom.Point // so far
}

// shiftSlack is how far in mm two lengths may differ that are called the same: points lie on
// a grid of 0.1 mm times the scale, and what arithmetic leaves is a thousandth of this.
const shiftSlack = 1e-10

// at reports whether the place from station k on is as the one before, with every thread
// that may hide some of it. Places are asked for in order.
func (r *repeats) at(w *columnWork, x []crossing, c *report.SatinColumn, k int) bool {
	end := 2*k - 1 + laneReach + 1
	if w.folds || end > len(x) || len(w.threads) != len(w.threadsOf)-1 {
		return false
	}
	threads, of := w.threads, w.threadsOf
	if first := w.base + 2; r.next < first {
		r.next, r.run = first, 0
	}
	for j := r.next; j < end; j++ {
		by := x[j].a.Sub(x[j-2].a)
		if !sameShift(by, r.by) {
			r.by, r.run = by, 0
		} else if i := j - w.base; int(of[i-2]) == i-2 && int(of[i+1]) == i+1 && threads[i].repeats(&threads[i-2], by) {
			r.run++
		} else {
			r.run = 0
		}
	}
	r.next = end
	if r.run <= 2*laneReach || k < 2 {
		return false
	}
	for i := k; i <= k+1; i++ {
		if !sameShift(c.Right[i].Sub(c.Right[i-1]), r.by) || !sameShift(c.Left[i].Sub(c.Left[i-1]), r.by) {
			return false
		}
	}
	return true
}

func sameShift(u, v geom.Point) bool { return sameLength(u.X, v.X) && sameLength(u.Y, v.Y) }

func sameLength(a, b float64) bool { return math.Abs(a-b) <= shiftSlack }

// repeats reports whether a thread lies as s does, shifted.
func (t *thread) repeats(s *thread, by geom.Point) bool {
	return sameLength(t.l, s.l) && sameShift(t.u, s.u) &&
		sameLength(t.across-s.across, t.u.Cross(by)) && sameLength(t.along-s.along, t.u.Dot(by))
}
