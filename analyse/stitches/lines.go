package stitches

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

const (
	retraceWithin = 0.6   // mm: a line this near to itself is sewn over itself
	retraceLeast  = 3.0   // mm of it
	roundLeast    = 3.0   // mm that a line goes away from where it comes back to
	turnRound     = -0.87 // cosine of 150 degrees
	straightLine  = 0.97  // chord over length of a travel line
)

// lines tells double runs and travel from single runs.
func (c *classifier) lines(s Segment) {
	kind := c.t.Kind
	for i := s.First + 1; i < s.Last; {
		if kind[i] != report.KindRun {
			i++
			continue
		}
		from := i - 1
		for i < s.Last && kind[i] == report.KindRun {
			i++
		}
		c.retraced(from, i)
		c.twiceRound(from, i)
		c.travel(s, from, i)
	}
}

// retraced marks what goes back over itself from a turning point, between the
// points from and to.
func (c *classifier) retraced(from, to int) {
	pts := c.t.Pts
	turns := append(c.points[:0], from)
	for i := from + 1; i+1 < to; i++ {
		u, v := pts[i].Sub(pts[i-1]), pts[i+1].Sub(pts[i])
		if dot := u.Dot(v); dot < 0 && dot < turnRound*math.Sqrt(u.Dot(u)*v.Dot(v)) {
			turns = append(turns, i)
		}
	}
	turns = append(turns, to-1)
	c.points = turns
	// Each turn looks no further than its neighbours, so that every stitch is
	// looked at twice at most.
	for k := 1; k+1 < len(turns); k++ {
		t := turns[k]
		ahead, behind := t, t
		var a, b float64 // mm walked each way
		for ahead+1 <= turns[k+1] {
			l := geom.Distance(pts[ahead], pts[ahead+1])
			for behind > turns[k-1] && b < a+l {
				b += geom.Distance(pts[behind], pts[behind-1])
				behind--
			}
			if b < a+l-retraceWithin || !nearSpan(pts[ahead+1], pts, behind, min(behind+3, t)) {
				break
			}
			a += l
			ahead++
		}
		if a < retraceLeast {
			continue
		}
		for i := behind + 1; i <= ahead; i++ {
			c.t.Kind[i] = report.KindDoubleRun
		}
	}
}

// nearSpan reports whether q lies by the line pts[lo..hi].
func nearSpan(q geom.Point, pts []geom.Point, lo, hi int) bool {
	for i := lo; i < hi; i++ {
		if geom.DistanceToSegment(q, pts[i], pts[i+1]) < retraceWithin {
			return true
		}
	}
	return geom.Distance(q, pts[lo]) < retraceWithin
}

// twiceRound marks a line that comes back to where it began and goes the same
// way again.
func (c *classifier) twiceRound(from, to int) {
	pts := c.t.Pts
	// The line may begin with a lead, so the first corners serve as beginnings too.
	begin := from
	for try := 0; try < 3; try++ {
		away := false
		back := -1
		for i := begin + 1; i < to; i++ {
			if v := pts[i].Sub(pts[begin]); v.Dot(v) > roundLeast*roundLeast {
				away = true
			} else if away && geom.DistanceToSegment(pts[begin], pts[i-1], pts[i]) < retraceWithin {
				back = i
				break
			}
		}
		if back > 0 {
			l := geom.PathLength(pts[begin : back+1])
			i, j := back, begin
			var again, a, b float64
			for i+1 < to {
				a += geom.Distance(pts[i], pts[i+1])
				for j < back && b < a {
					b += geom.Distance(pts[j], pts[j+1])
					j++
				}
				if !nearSpan(pts[i+1], pts, max(begin, j-3), min(j+1, back)) {
					break
				}
				again = a
				i++
			}
			if again > 0.6*l {
				for k := begin + 1; k <= i; k++ {
					c.t.Kind[k] = report.KindDoubleRun
				}
				return
			}
		}
		for begin++; begin+1 < to; begin++ {
			if geom.CosBetween(pts[begin].Sub(pts[begin-1]), pts[begin+1].Sub(pts[begin])) < 0.9 {
				break
			}
		}
		if begin+1 >= to || begin-from > 20 {
			return
		}
	}
}

// travel marks a straight line that only leads to or from a surface. A line
// under the satin that comes back over it is underlay and stays a run.
func (c *classifier) travel(s Segment, from, to int) {
	kind, pts := c.t.Kind, c.t.Pts
	if from == s.First || to >= s.Last || kind[from+1] != report.KindRun || kind[to-1] != report.KindRun {
		return
	}
	before, after := kind[from], kind[to]
	if !before.Surface() && !after.Surface() {
		return
	}
	if geom.Distance(pts[from], pts[to-1]) < straightLine*geom.PathLength(pts[from:to]) {
		return
	}
	if after.Surface() {
		end := to
		for end+1 < s.Last && kind[end+1] == after {
			end++
		}
		l := geom.Distance(pts[from], pts[to-1])
		if l > 4 && geom.Distance(pts[end], pts[from]) < max(3, 0.25*l) {
			return
		}
	}
	for i := from + 1; i < to; i++ {
		kind[i] = report.KindTravel
	}
}
