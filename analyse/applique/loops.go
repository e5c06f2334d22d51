package applique

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
)

// firstLoop finds the first loop of a line: it leaves pts[from] and comes back to
// it with pts[to]; to is 0 where it never does. Where a lead meets its loop
// there is mostly a corner, so the beginning and the corners are tried before
// any crossing counts: the lead itself may cross the loop.
func firstLoop(pts []geom.Point) (from, to int) {
	if geom.PathLength(pts) <= loopApart || headsOneWay(pts) {
		return 0, 0
	}
	sharp := 0
	for j := 0; j+3 < len(pts) && sharp < mostSharp; j++ {
		if j > 0 && geom.CosBetween(pts[j].Sub(pts[j-1]), pts[j+1].Sub(pts[j])) > 0.87 {
			continue
		}
		sharp++
		if to := returnsTo(pts, j); to > 0 {
			if from, to := loopOnTheWay(pts[:j+1]); to > 0 {
				return from, to
			}
			return j, to
		}
	}
	return firstCrossing(pts)
}

// loopOnTheWay finds a loop that a lead meets without a corner on its way to the next: it
// comes back to the hole where it began. What only crosses the lead is no loop, nor is
// what leaves a ring that all but closes where the lead begins.
func loopOnTheWay(lead []geom.Point) (from, to int) {
	if geom.PathLength(lead) <= loopApart || headsOneWay(lead) {
		return 0, 0
	}
	from, to = firstCrossing(lead)
	if to == 0 || !sameHoles(lead[from:min(to, from+meetMost)], lead[to:min(len(lead), to+meetMost)]) {
		return 0, 0
	}
	if from > 0 && slices.ContainsFunc(lead[from+1:to], func(q geom.Point) bool { return geom.Distance(q, lead[0]) < allButCloses }) {
		return 0, 0
	}
	return from, to
}

// headsOneWay reports whether a line goes one way so steadily that no loop of it can
// close: along loopApart it comes on by more than loopNear, whatever it does.
func headsOneWay(pts []geom.Point) bool {
	way := pts[len(pts)-1].Sub(pts[0]).Unit()
	for i := 1; i < len(pts); i++ {
		v := pts[i].Sub(pts[i-1])
		if on := loopApart * way.Dot(v); on <= 0 || on*on <= loopNear*loopNear*v.Dot(v) {
			return false
		}
	}
	return true
}

// returnsTo finds where a line first comes back to pts[j] round a loop, or 0.
func returnsTo(pts []geom.Point, j int) int {
	var l, area float64
	for i := j + 1; i < len(pts); i++ {
		l += geom.Distance(pts[i-1], pts[i])
		area += pts[i-1].Sub(pts[j]).Cross(pts[i].Sub(pts[j])) // twice the area
		if l > loopApart && geom.Distance(pts[i], pts[j]) < loopNear && math.Abs(area) > loopWide*l {
			return i
		}
	}
	return 0
}

// firstCrossing finds the first place where a line crosses or meets itself round
// a loop.
func firstCrossing(pts []geom.Point) (from, to int) {
	along, swept := make([]float64, len(pts)), make([]float64, len(pts))
	for i := 1; i < len(pts); i++ {
		along[i] = along[i-1] + geom.Distance(pts[i-1], pts[i])
		swept[i] = swept[i-1] + pts[i-1].Sub(pts[0]).Cross(pts[i].Sub(pts[0]))
	}
	grid := geom.NewLineCells(2, pts)
	for i := 1; i < len(pts); i++ {
		if along[i] <= loopApart {
			continue
		}
		best := -1
		grid.Each(geom.Box{Lo: pts[i], Hi: pts[i]}.Grown(loopNear), func(j int32) {
			if int(j)+1 < i && along[i]-along[j+1] > loopApart && (best < 0 || int(j) < best) &&
				geom.DistanceToSegment(pts[i], pts[j], pts[j+1]) < loopNear {
				best = int(j)
			}
		})
		if best < 0 {
			continue
		}
		if geom.Distance(pts[i], pts[best+1]) < geom.Distance(pts[i], pts[best]) {
			best++
		}
		area := swept[i] - swept[best] + pts[i].Sub(pts[0]).Cross(pts[best].Sub(pts[0]))
		if math.Abs(area) > loopWide*(along[i]-along[best]) {
			if from := hitAgain(pts, along, &grid, best, i); from > 0 {
				if to := returnsTo(pts, from); to > i {
					return from, to
				}
			}
			return best, i
		}
	}
	return 0, 0
}

// sameHoles reports whether two stretches of a line have a hole in common.
func sameHoles(a, b []geom.Point) bool {
	return slices.ContainsFunc(a, func(q geom.Point) bool {
		return slices.ContainsFunc(b, func(v geom.Point) bool { return geom.Distance(q, v) < sameHole })
	})
}

const (
	meetMost     = 4   // needle points after a line comes near its loop until it is on it: it turns by less than 30 degrees, else there is a corner
	allButCloses = 4.0 // mm: an opening of a long stitch and the ties that hide it
)

// hitAgain looks past the crossing of a line with what leads into it: where the line
// then comes back to the very hole at which the lead met it, the loop begins. 0 is for
// nowhere. A line that goes the way of its loop again hits the next holes at once, and
// its loop stays as it is.
func hitAgain(pts []geom.Point, along []float64, grid *geom.Cells, lead, crossing int) int {
	round := along[crossing] - along[lead]
	for k := crossing + 1; k < len(pts) && along[k]-along[crossing] <= round; k++ {
		hit := 0
		grid.Each(geom.Box{Lo: pts[k], Hi: pts[k]}.Grown(sameHole), func(j int32) {
			if int(j) > lead && int(j) < crossing && (hit == 0 || int(j) < hit) && geom.Distance(pts[k], pts[j]) < sameHole {
				hit = int(j)
			}
		})
		if hit > 0 {
			if along[hit]-along[lead] <= loopApart || along[crossing]-along[hit] <= loopApart {
				return 0
			}
			return hit
		}
	}
	return 0
}

// roundAgain counts how often rest goes the way of a loop again, and how many of
// its points that takes. What lies beside it all the way round is another line.
func roundAgain(loop, rest []geom.Point) (times, used int) {
	if len(rest) == 0 || !geom.BoxOf(loop).Grown(roundNear).Meets(geom.BoxOf(rest[:1])) {
		return 1, 0
	}
	g := geom.NewLineGrid(loop)
	l := geom.PathLength(loop)
	var sewn, off float64
	for used < len(rest) {
		d := g.Nearest(rest[used], roundNear)
		if d > roundNear {
			break
		}
		off += d
		if used > 0 {
			sewn += geom.Distance(rest[used-1], rest[used])
		}
		used++
	}
	if sewn > besideLeast*l && (off > besideLoop*float64(used) || locks(rest[:min(used, lockMost)]) >= leastLocks) {
		return 1, 0
	}
	return 1 + int(sewn/l+0.35), used
}

const (
	roundNear   = 1.2 // mm from a loop: what goes its way again lies so near
	besideLoop  = 0.3 // mm from a loop, on average: a line so far off is not the loop sewn once more; rounding and short cuts at bends make 0.1 mm
	besideLeast = 0.8 // of the way round that it must go so
)

// oneWay tells how many points of a line that closes nowhere go one way, without the way
// back where it turns and goes back over itself, and how often it is sewn.
func oneWay(pts []geom.Point) (n, times int) {
	if k := turnsBack(pts); k > 0 {
		return k + 1, 2
	}
	far, farAt := 0.0, 0
	for i := range pts {
		if d := geom.Distance(pts[i], pts[0]); d > far {
			far, farAt = d, i
		}
	}
	if n := len(pts); farAt >= 2 && n-1-farAt >= 2 && geom.Distance(pts[n-1], pts[0]) < 0.5*far && foldsAt(pts, farAt) {
		return farAt + 1, 2
	}
	return len(pts), 1
}

// turnsBack finds where, about half-way, a line turns and goes back the way it came, as
// the two passes of a tack-down that is left open do; 0 for nowhere.
func turnsBack(pts []geom.Point) int {
	total, l := geom.PathLength(pts), 0.0
	for k := 1; k+2 < len(pts); k++ {
		l += geom.Distance(pts[k-1], pts[k])
		if math.Abs(l-total/2) <= foldMiddle*total && k > 2 &&
			geom.CosBetween(pts[k].Sub(pts[k-1]), pts[k+1].Sub(pts[k])) < foldSharp && foldsAt(pts, k) {
			return k
		}
	}
	return 0
}

const (
	foldMiddle = 0.05 // share of a line sewn there and back that the turn may lie off its middle
	foldSharp  = -0.5 // cosine of the turn: sharper than 120 degrees
)

// foldsAt reports whether the way back from point k runs over the way there.
func foldsAt(pts []geom.Point, k int) bool {
	m, n := k/2, k+(len(pts)-1-k)/2
	near := func(q geom.Point, lo, hi int) bool {
		for i := lo; i < hi; i++ {
			if geom.DistanceToSegment(q, pts[i], pts[i+1]) < 0.8 {
				return true
			}
		}
		return false
	}
	return near(pts[m], k, len(pts)-1) && near(pts[n], 0, k)
}
