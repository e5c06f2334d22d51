package applique

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
)

const (
	gapLeast  = 20.0 // mm: a smaller opening is none to turn a block through
	gapMost   = 0.34 // share of the way round: what is open wider is no seam round the block
	gapAlong  = 0.95 // of a seam with a gap that goes along the outline
	gapBeside = 3.0  // mm: the outline is sewn where the seam runs this near to it
)

// gapOf is the opening in mm that a line leaves in its way round the block, or 0
// where it leaves none through which a block could be turned.
func gapOf(block, t *Trace) float64 {
	if t == block {
		return 0 // nothing tells how far it was to go
	}
	if !mostlyNear(t.Line, block, roundSlack/2, gapAlong) {
		return 0
	}
	line, g := block.Line, t.Near()
	n := len(line) - 1
	if n < 2 {
		return 0
	}
	// Mostly a seam lies near the outline all along, wherever it is looked at.
	if far := roundSlack / 2; !opens(line, g, gapBeside, gapLeast-nearEnds(far, far+gapBeside)) {
		return 0
	}
	off := offsetOf(block, t)
	reach := off + gapBeside
	var open, most, turn float64
	for i := range 2 * n { // twice round, so that an opening over the seam's beginning counts whole
		step := geom.Distance(line[i%n], line[i%n+1])
		if i < n {
			turn += step
		}
		if g.Within(line[i%n], reach) {
			if open = 0; i >= n {
				break // the rest is as before
			}
			continue
		}
		open += step
		most = max(most, open)
	}
	if most == 0 {
		return 0
	}
	most += nearEnds(off, reach)
	if most < gapLeast || most > gapMost*turn {
		return 0
	}
	return most
}

// nearEnds is so much of an opening, in mm, as lies within reach of the ends of a seam
// that runs so far off.
func nearEnds(off, reach float64) float64 { return 2 * math.Sqrt(reach*reach-off*off) }

// opens reports whether a closed line may go for so many mm without coming within reach of
// another: it is looked at so often that no such stretch is missed.
func opens(line []geom.Point, g *geom.LineGrid, reach, least float64) bool {
	since := 0.0 // mm from the place after the last that was looked at
	for i := 0; i+1 < len(line); i++ {
		step := geom.Distance(line[i], line[i+1])
		if i > 0 && since+step < least {
			since += step
			continue
		}
		if !g.Within(line[i], reach) {
			return true
		}
		since = 0
	}
	return false
}

// offsetOf is the median distance of a line from the block's outline, in mm.
func offsetOf(block, t *Trace) float64 {
	d, _ := distances(t.Line, block, roundSlack/2)
	return geom.QuantileOf(d, 0.5)
}
