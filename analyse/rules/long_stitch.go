package rules

import (
	"fmt"
	"math"
	"sort"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
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
	leastLong = 4.0 // mm, on the design as it is: no enlarging makes a shorter stitch long
	freePart  = 3.0 // the share of the limit that must lie free is one over this: less cannot catch on anything
	freeStep  = 0.5 // mm between places where a long stitch is looked at
	freeMost  = 200 // such places on one stitch; 100 mm of it, and longer is a damaged file, not a stitch
	freePiece = 4.0 // mm of it about which thread is looked for at once
	freeSlack = 0.2 // mm: fills lie 0.4 mm apart, and between their rows a thread is held too
)

// liesFree reports whether more than most mm of a long stitch, which ends at point k,
// lie free when all is sewn: no later stitching lies over them. The next stitch begins
// in its hole and holds nothing. x is the thread near it, at least.
func liesFree(x *measure.Thread, k int, from, to geom.Point, most float64) bool {
	l := geom.Distance(from, to)
	n := int(min(freeMost, l/freeStep)) + 1
	free := 0
	for i := range n {
		if l*float64(free+n-i)/float64(n) <= most {
			return false // nor with all that is left
		}
		if !x.Over(geom.Lerp(from, to, (float64(i)+0.5)/float64(n)), k+2, x.All(), freeSlack) {
			if free++; l*float64(free)/float64(n) > most {
				return true
			}
		}
	}
	return false
}

// FreeStitch is the length in mm of the longest stitch of a stop, counted from 1, that
// the rule would warn of if it were longer than its limit: no satin, and free of later
// thread along so much of it. It is 0 where there is none.
func FreeStitch(p *measure.Pass, stop int) float64 {
	t := &p.Sewn.Track
	type stitch struct {
		end    int
		length float64
	}
	var long []stitch
	t.EachSewn(stop-1, func(k int, from, to geom.Point) {
		if l := geom.Distance(from, to); l > leastLong*p.Scale && t.Kind[k] != report.KindSatin {
			long = append(long, stitch{k, l})
		}
	})
	sort.Slice(long, func(i, j int) bool { return long[i].length > long[j].length })
	for _, s := range long {
		if liesFree(p.Thread(), s.end, t.Pts[s.end-1], t.Pts[s.end], s.length/freePart) {
			return s.length
		}
	}
	return 0
}

func longStitch(p *Pass) []report.Finding {
	limit := p.Limit("long-stitch")
	t := &p.Sewn.Track
	shortest := max(limit, leastLong*p.Scale)
	most := shortest * shortest * (1 - byRoot)
	var long []int32 // stitches, by the points where they end
	for _, seg := range t.Segs {
		pts := t.Pts[seg.First:seg.Last]
		for k := 1; k < len(pts); k++ {
			if v := pts[k].Sub(pts[k-1]); v.Dot(v) > most && v.Norm() > shortest && t.Kind[seg.First+k] != report.KindSatin {
				long = append(long, int32(seg.First+k))
			}
		}
	}
	if len(long) == 0 {
		return nil
	}
	thread := p.ThreadNear(func(place func(geom.Box)) {
		for _, k := range long {
			// Piece by piece: one box around all of it may be as large as the design.
			a, b := t.Pts[k-1], t.Pts[k]
			n := math.Ceil(min(freeMost, geom.Distance(a, b)/freePiece))
			for i := 0.0; i < n; i++ {
				place(geom.BoxOf([]geom.Point{geom.Lerp(a, b, i/n), geom.Lerp(a, b, (i+1)/n)}).Grown(freeSlack))
			}
		}
	})
	var out []report.Finding
	for i := range p.Report.Stops {
		var worst float64
		var where geom.Point
		n := 0
		for of := t.Of(i); len(long) > 0 && len(of) > 0 && int(long[0]) < of[len(of)-1].Last; long = long[1:] {
			k := int(long[0])
			from, to := t.Pts[k-1], t.Pts[k]
			if !liesFree(thread, k, from, to, limit/freePart) {
				continue
			}
			n++
			if l := geom.Distance(from, to); l > worst {
				worst, where = l, geom.Middle(from, to)
			}
		}
		if n == 0 {
			continue
		}
		is, than := p.units().StitchPast(worst, limit)
		out = append(out, report.Finding{Severity: report.Caution, Stop: i + 1, AtMM: at(where), Measured: worst, Limit: limit, Unit: "mm",
			Message: longer(n, "stitch is longer than "+than, "stitches are longer than "+than, is),
			Advice:  "Long stitches snag in use and in the wash. Look at the place on the picture before you sew; do not enlarge this design."})
	}
	return out
}

// longer says of how many it is, and how long the longest is or the only one.
func longer(n int, one, more, longest string) string {
	if n == 1 {
		return "1 " + one + ": " + longest
	}
	return fmt.Sprintf("%d %s, the longest %s", n, more, longest)
}
