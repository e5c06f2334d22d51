package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

// ShortStitchRule is the rule short-stitch.
var ShortStitchRule = Rule{
	ID:       "short-stitch",
	Doc:      "stitches so short that thread knots and breaks; ties are meant to be short",
	Severity: report.Caution,
	Limits:   limits("short-stitch"),
	Bounds:   "half of that within satin and fills, whose turns are short",
	Requires: []*measure.Step{measure.Sizes},
	Check:    shortStitch,
}

const (
	SameHole  = 0.05 // mm: the needle goes into the same hole; it knots nothing
	fewShort  = 8    // short stitches in a stop that nobody would notice
	ManyShort = 20   // and so many that they are worth a warning
)

func shortStitch(p *Pass) []report.Finding {
	limit := p.Limit("short-stitch")
	var out []report.Finding
	for i := range p.Report.Stops {
		worst := limit
		var where geom.Point
		n := 0
		p.Sewn.Track.EachSewn(i, func(k int, from, to geom.Point) {
			kind := p.Sewn.Track.Kind[k]
			if kind == report.KindTie {
				return
			}
			least := limit
			if kind.Surface() {
				least = limit / 2
			}
			if l := geom.Distance(from, to); l < least && l > SameHole {
				n++
				if l <= worst {
					worst, where = l, to
				}
			}
		})
		if n <= fewShort {
			continue
		}
		f := report.Finding{Severity: report.Note, Stop: i + 1, AtMM: at(where), Measured: worst, Limit: limit, Unit: "mm",
			Message: fmt.Sprintf("%d stitches are shorter than %.2g mm, the shortest %.1f mm", n, limit, worst),
			Advice:  "Thread may knot or break here: sew slowly, with a fresh needle. Do not shrink this design."}
		if n >= ManyShort {
			f.Severity = report.Caution
		}
		out = append(out, f)
	}
	return out
}
