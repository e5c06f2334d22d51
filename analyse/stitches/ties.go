package stitches

import (
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

const (
	tieStitch = 1.05 // mm: lock stitches are 0.3 to 0.8 mm, some a whole millimetre
	tieReach  = 1.2  // mm: and they stay where they are
	tieMost   = 10   // stitches in one tie
	tieHole   = 0.12 // mm: as near as rounding lets a needle come back to its hole
	lockSteps = 0.65 // mm: a few tiny steps in line lock a thread as well
)

// markTies marks the lock stitches at both ends of a segment and returns the
// range of points between them: lo is the last point of the tie at the start,
// hi is one past the first point of the tie at the end.
func markTies(pts []geom.Point, kind []report.Kind, s Segment) (lo, hi int) {
	n := tieLength(pts[s.First:s.Last])
	for i := 0; i <= n && n > 0; i++ {
		kind[s.First+i] = report.KindTie
	}
	lo, hi = s.First+n, s.Last
	rest := pts[lo:s.Last]
	if len(rest) < 2 {
		return lo, hi
	}
	var tail [tieMost + 2]geom.Point
	m := 0
	for m < len(tail) && m < len(rest) {
		tail[m] = rest[len(rest)-1-m]
		m++
	}
	// The last point of a tie at an end is where the passage before it ends.
	if n := tieLength(tail[:m]); n > 0 {
		for i := range n {
			kind[s.Last-1-i] = report.KindTie
		}
		hi = s.Last - n
	}
	return lo, hi
}

// tieLength is the number of lock stitches that pts begins with: short ones that
// go nowhere, up to the last that comes back to a hole, or at least three tiny
// ones before longer stitches.
func tieLength(pts []geom.Point) int {
	back := 0
	for n := 1; n <= tieMost && n < len(pts); n++ {
		q := pts[n]
		if geom.Distance(pts[n-1], q) > tieStitch || geom.Distance(pts[0], q) > tieReach {
			break
		}
		for j := range n - 1 {
			if geom.Distance(pts[j], q) < tieHole {
				back = n
			}
		}
	}
	if back >= 2 {
		return back
	}
	n := 0
	for n < tieMost && n+1 < len(pts) && geom.Distance(pts[n], pts[n+1]) <= lockSteps {
		n++
	}
	if n >= 3 && n < tieMost && n+1 < len(pts) && geom.Distance(pts[n], pts[n+1]) > 2*lockSteps {
		return n
	}
	return 0
}
