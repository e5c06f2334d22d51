package applique

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
)

// firstLoop finds the first loop of a line from a point of it on: it leaves pts[from] and
// comes back to it with pts[to]; to is 0 where it never does. Where a lead meets its loop
// there is mostly a corner, so the beginning and the corners are tried before
// any crossing counts: the lead itself may cross the loop.
func (c *course) firstLoop(begin int) (from, to int) {
	pts, end := c.pts, len(c.pts)
	if c.length(begin, end-1) <= loopApart || c.headsOneWay(begin, end) {
		return 0, 0
	}
	sharp := 0
	for j := begin; j+3 < end && sharp < mostSharp; j++ {
		if j > begin && goesStraight(pts[j].Sub(pts[j-1]), pts[j+1].Sub(pts[j])) {
			continue
		}
		sharp++
		if to := c.returnsTo(j, end); to > 0 {
			if from, to := c.loopOnTheWay(begin, j+1); to > 0 {
				return from, to
			}
			return j, to
		}
	}
	return c.firstCrossing(begin, end)
}

// goesStraight reports whether one vector goes on from another without a corner.
func goesStraight(u, v geom.Point) bool {
	const cos = 0.87 // 30 degrees
	dot := u.Dot(v)
	return dot > 0 && dot*dot > cos*cos*u.Dot(u)*v.Dot(v)
}

// loopOnTheWay finds a loop that a lead meets without a corner on its way to the next: it
// comes back to the hole where it began. What only crosses the lead is no loop, nor is
// what leaves a ring that all but closes where the lead begins.
func (c *course) loopOnTheWay(begin, end int) (from, to int) {
	if c.length(begin, end-1) <= loopApart || c.headsOneWay(begin, end) {
		return 0, 0
	}
	from, to = c.firstCrossing(begin, end)
	if to == 0 || !sameHoles(c.pts[from:min(to, from+meetMost)], c.pts[to:min(end, to+meetMost)]) {
		return 0, 0
	}
	if from > begin && slices.ContainsFunc(c.pts[from+1:to], func(q geom.Point) bool { return geom.Distance(q, c.pts[begin]) < allButCloses }) {
		return 0, 0
	}
	return from, to
}

// firstCrossing finds the first place where a line, from one point to before another,
// crosses or meets itself round a loop.
func (c *course) firstCrossing(begin, end int) (from, to int) {
	pts := c.pts
	before := begin // the first segment that is not yet so far behind
	for i := begin + 1; i < end; i++ {
		for before+1 < i && c.length(before+1, i) > loopApart {
			before++
		}
		best := c.meets(pts[i], begin, before, loopNear, false)
		if best < 0 {
			continue
		}
		if geom.Distance(pts[i], pts[best+1]) < geom.Distance(pts[i], pts[best]) {
			best++
		}
		if math.Abs(c.area(best, i)) > loopWide*c.length(best, i) {
			if from := c.hitAgain(best, i, end); from > 0 {
				if to := c.returnsTo(from, end); to > i {
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
func (c *course) hitAgain(lead, crossing, end int) int {
	round := c.length(lead, crossing)
	for k := crossing + 1; k < end && c.length(crossing, k) <= round; k++ {
		hit := c.meets(c.pts[k], lead+1, crossing, sameHole, true)
		if hit < 0 {
			continue
		}
		if c.length(lead, hit) <= loopApart || c.length(hit, crossing) <= loopApart {
			return 0
		}
		return hit
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
