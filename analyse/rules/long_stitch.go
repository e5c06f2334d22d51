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
	Requires: []*measure.Step{measure.Sizes},
	Check:    longStitch,
}

func longStitch(p *Pass) []report.Finding {
	limit := p.Limit("long-stitch")
	var out []report.Finding
	for i := range p.Report.Stops {
		var worst float64
		var where geom.Point
		n := 0
		p.Sewn.Track.EachSewn(i, func(k int, from, to geom.Point) {
			if l := geom.Distance(from, to); l > limit && p.Sewn.Track.Kind[k] != report.KindSatin {
				n++
				if l > worst {
					worst, where = l, geom.Middle(from, to)
				}
			}
		})
		if n == 0 {
			continue
		}
		out = append(out, report.Finding{Severity: report.Caution, Stop: i + 1, AtMM: at(where), Measured: worst, Limit: limit, Unit: "mm",
			Message: fmt.Sprintf("%s longer than %.0f mm, the longest %.1f mm", words.Plural(n, "stitch is", "stitches are"), limit, worst),
			Advice:  "Long stitches snag in use and in the wash. Look at the place on the picture before you sew; do not enlarge this design."})
	}
	return out
}
