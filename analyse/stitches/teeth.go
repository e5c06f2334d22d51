package stitches

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// A blanket stitch goes along an edge, out to one side, back to the same hole, and
// on. Where its teeth stand close they turn back on one another like the rungs of a
// ladder and are found as a surface; these limits are for those further apart.
// They are usual proportions of finishes (common practice, no single source).
const (
	toothLeast  = 0.8  // mm deep
	toothMost   = 8.0  // mm deep
	teethApart  = 1.5  // mm from tooth to tooth at least
	teethWidest = 7.0  // mm from tooth to tooth at most
	toothSquare = 0.8  // cosine of the angle between a tooth and the way along the edge
	toothTurns  = -0.2 // cosine between neighbouring teeth: they may turn a corner
	toothHole   = 0.15 // mm: the thread comes back to the same hole
	teethFewest = 3
	teethSteps  = 3 // stitches along the edge from tooth to tooth, at most
)

// markTeeth finds blanket stitches between the points lo and hi.
func markTeeth(pts []geom.Point, kind []report.Kind, lo, hi int) {
	tooth := func(i int) bool {
		if i+2 >= hi || kind[i+1] != report.KindRun || kind[i+2] != report.KindRun || !within(pts[i], pts[i+2], toothHole) {
			return false
		}
		d := geom.Distance(pts[i], pts[i+1])
		return d >= toothLeast && d <= toothMost
	}
	next := func(i int) int {
		var l float64
		for k := 1; k <= teethSteps && i+2+k < hi; k++ {
			l += geom.Distance(pts[i+1+k], pts[i+2+k])
			j := i + 2 + k
			if l > teethWidest {
				break
			}
			if geom.Distance(pts[i], pts[j]) < teethApart || !tooth(j) {
				continue
			}
			way, a, b := pts[j].Sub(pts[i]), pts[i+1].Sub(pts[i]), pts[j+1].Sub(pts[j])
			if min(math.Abs(geom.CosBetween(way, a)), math.Abs(geom.CosBetween(way, b))) < toothSquare && geom.CosBetween(a, b) > toothTurns {
				return j
			}
		}
		return -1
	}
	for i := lo; i+2 < hi; {
		if !tooth(i) {
			i++
			continue
		}
		n, last := 1, i
		for j := next(last); j >= 0; j = next(last) {
			n, last = n+1, j
		}
		if n >= teethFewest {
			for k := i + 1; k <= last+2; k++ {
				kind[k] = report.KindOpenZigzag
			}
		}
		i = last + 2
	}
}
