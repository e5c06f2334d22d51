package stitches

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// A knot of candlewicking, a spider or a star is sewn in spokes, out from one hole and back
// into it, all round. Its spokes turn back on one another as crossings do, but they have no
// rails: it is no satin. The fan at a corner of satin goes round less.
const (
	spokesFewest = 5   // spokes; fewer are crosses, and triple stitches round a corner
	spokesApart  = 100 // degrees from spoke to spoke at most, all round
)

// knotted stands for the stitches of a knot until surfaces are found: they are of none.
const knotted = report.Kind(102)

// markKnots finds knots between the points lo and hi.
func (t *Track) markKnots(lo, hi int) {
	pts := t.Pts
	for i := lo; i+2*spokesFewest < hi; i++ {
		last := i
		for last+2 < hi && within(pts[i], pts[last+2], tripleHole) && geom.Distance(pts[i], pts[last+1]) > tieHole {
			last += 2
		}
		if last-i < 2*spokesFewest {
			continue
		}
		if allRound(pts[i : last+1]) {
			for k := i + 1; k <= last; k++ {
				t.Kind[k] = knotted
				t.Marks[k] |= spoke
			}
			t.Knots = true
		}
		i = last - 1
	}
}

// allRound reports whether spokes, every other point from the second on, go all round the first.
func allRound(pts []geom.Point) bool {
	const parts = 36
	var taken [parts]bool
	for k := 1; k < len(pts); k += 2 {
		v := pts[k].Sub(pts[0])
		taken[int(math.Floor(math.Atan2(v.Y, v.X)/(2*math.Pi)*parts+parts))%parts] = true
	}
	gap, most := 0, 0
	for k := range 2 * parts {
		if gap++; taken[k%parts] {
			gap = 0
		}
		most = max(most, gap)
	}
	return most*360/parts < spokesApart
}

// untie gives the stitches of knots back to lines.
func untie(kind []report.Kind) {
	for i := range kind {
		if kind[i] == knotted {
			kind[i] = report.KindRun
		}
	}
}
