package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// LongStitchRule is the rule long-stitch.
var LongStitchRule = Rule{
	ID:       "long-stitch",
	Doc:      "a stitch so long that it snags; satin has a rule of its own",
	Severity: report.Caution,
	Limits:   limits("long-stitch"),
	Bounds:   "one that later stitching holds down is no finding: a third of the limit must lie free",
	Requires: []*measure.Step{measure.Sizes},
	Check:    longStitch,
}

const (
	leastLong = 4.0  // mm, on the design as it is: no enlarging makes a shorter stitch long
	freePart  = 3.0  // the share of the limit that must lie free is one over this: less cannot catch on anything
	freeStep  = 0.5  // mm between places where a long stitch is looked at
	freeMost  = 2000 // such places on one stitch; a damaged file, not a stitch
	freeSlack = 0.2  // mm: fills lie 0.4 mm apart, and between their rows a thread is held too
)

// freeLength is how much of the stitch that ends at point k lies free, with no later
// thread over it.
func freeLength(p *Pass, k int, from, to geom.Point) float64 {
	l := geom.Distance(from, to)
	n := int(min(freeMost, l/freeStep)) + 1
	x := p.Thread()
	free := 0
	for i := range n {
		if !x.Over(geom.Lerp(from, to, (float64(i)+0.5)/float64(n)), k+2, x.All(), freeSlack) {
			free++
		}
	}
	return l * float64(free) / float64(n)
}

func longStitch(p *Pass) []report.Finding {
	limit := p.Limit("long-stitch")
	var out []report.Finding
	for i := range p.Report.Stops {
		var worst float64
		var where geom.Point
		n := 0
		p.Sewn.Track.EachSewn(i, func(k int, from, to geom.Point) {
			if geom.Distance(from, to) <= max(limit, leastLong*p.Scale) || p.Sewn.Track.Kind[k] == report.KindSatin {
				return
			}
			if l := geom.Distance(from, to); freeLength(p, k, from, to) > limit/freePart {
				n++
				if l > worst {
					worst, where = l, geom.Middle(from, to)
				}
			}
		})
		if n == 0 {
			continue
		}
		is, than := p.units().StitchPast(worst, limit)
		out = append(out, report.Finding{Severity: report.Caution, Stop: i + 1, AtMM: at(where), Measured: worst, Limit: limit, Unit: "mm",
			Message: fmt.Sprintf("%s longer than %s, the longest %s", words.Plural(n, "stitch is", "stitches are"), than, is),
			Advice:  "Long stitches snag in use and in the wash. Look at the place on the picture before you sew; do not enlarge this design."})
	}
	return out
}
