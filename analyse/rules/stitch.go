package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

var (
	LongStitchRule = Rule{ID: "long-stitch", Doc: "a stitch so long that it snags; satin has a rule of its own",
		Limit: inWords("long-stitch"), Check: longStitch}
	ShortStitchRule = Rule{ID: "short-stitch", Doc: "stitches so short that thread knots and breaks; ties are meant to be short",
		Limit: inWords("short-stitch") + "; half of that within satin and fills, whose turns are short", Check: shortStitch}
)

const (
	SameHole  = 0.05 // mm: the needle goes into the same hole; it knots nothing
	fewShort  = 8    // short stitches in a stop that nobody would notice
	ManyShort = 20   // and so many that they are worth a warning
)

func longStitch(p *measure.Pass) []report.Finding {
	limit := p.Settings.Limit("long-stitch")
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

func shortStitch(p *measure.Pass) []report.Finding {
	limit := p.Settings.Limit("short-stitch")
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
