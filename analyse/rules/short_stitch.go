package rules

import (
	"fmt"
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

// ShortStitchRule is the rule short-stitch.
var ShortStitchRule = Rule{
	ID:       "short-stitch",
	Doc:      "so many stitches so short that thread knots and breaks; ties are meant to be short",
	Severity: report.Caution,
	Limits:   limits("short-stitch", "short-stitch-share"),
	Bounds:   "half of that within satin and fills, whose turns are short, and 0.3 mm beside a stitch of 1 mm and more; a few in a stop harm nobody",
	Requires: []*measure.Step{measure.Sizes},
	Check:    shortStitch,
}

const (
	sameHole = 0.05 // mm: the needle goes into the same hole; it knots nothing
	fewShort = 8    // short stitches in a stop that nobody would notice
	// Beside a stitch of 1 mm and more a short one has thread to draw from, and 0.3 mm
	// does: the usual limit is 0.3 to 0.5 mm.
	aloneBeside = 1.0 // mm
	aloneFactor = 0.5 / 0.3
	rowShort    = 12 // short stitches one after another knot wherever they are
)

// tooMany is how many short stitches a stop of so many stitches may have at most.
func tooMany(stitches int, share float64) int {
	return max(fewShort, int(share*float64(stitches)))
}

// KnottingLength is the length in mm that stitches of a stop, counted from 1, must be
// called short below for the rule to warn of them; 0 where no length does. share is
// the limit short-stitch-share. Stitches within satin and fills count as twice as long.
func KnottingLength(p *measure.Pass, stop int, share float64) float64 {
	var all []float64
	n, last, knot := 0, -1, math.Inf(1)
	eachShort(p, stop-1, math.Inf(1), func(k int, l float64, _ geom.Point) {
		all = append(all, l)
		if k != last+1 || l >= knot {
			n = 0
		}
		if last = k; l >= knot {
			return
		}
		// All in a row of so many are shorter than what knots so far.
		if n++; n >= rowShort {
			row := all[len(all)-rowShort:]
			knot = slices.Max(row)
			for n = 0; n < rowShort && row[rowShort-1-n] < knot; {
				n++
			}
		}
	})
	if i := tooMany(p.Report.Stops[stop-1].Stitches, share); i < len(all) {
		knot = min(knot, geom.Nth(all, i))
	}
	if math.IsInf(knot, 1) {
		return 0
	}
	return knot
}

// eachShort calls f for the stitches of a stop, counted from 0, that are shorter than
// limit, with the point where they end. It makes those longer that harm less: twice
// as long within satin and fills, and aloneFactor times beside a long one.
func eachShort(p *measure.Pass, stop int, limit float64, f func(k int, length float64, at geom.Point)) {
	t := &p.Sewn.Track
	length := func(k int) float64 { // 0 for what no thread joins
		if k <= 0 || k >= len(t.Pts) || !t.Joined(k) {
			return 0
		}
		return geom.Distance(t.Pts[k-1], t.Pts[k])
	}
	most := limit * limit * (1 + byRoot)
	for _, seg := range t.Of(stop) {
		for k := seg.First + 1; k < seg.Last; k++ {
			from, to := t.Pts[k-1], t.Pts[k]
			v, kind := to.Sub(from), t.Kind[k]
			if v.Dot(v) > most || kind == report.KindTie {
				continue
			}
			l := v.Norm()
			if l <= sameHole {
				continue
			}
			switch {
			case kind.Surface():
				l *= 2
			case l < limit && max(length(k-1), length(k+1)) >= aloneBeside*p.Scale:
				l *= aloneFactor
			}
			if l < limit {
				f(k, l, to)
			}
		}
	}
}

func shortStitch(p *Pass) []report.Finding {
	limit, share := p.Limit("short-stitch"), p.Limit("short-stitch-share")
	var out []report.Finding
	for i := range p.Report.Stops {
		worst := math.Inf(1)
		var where geom.Point
		n, row, longest, last := 0, 0, 0, -1
		eachShort(p.Pass, i, limit, func(k int, _ float64, to geom.Point) {
			n++
			if k != last+1 {
				row = 0
			}
			row, last = row+1, k
			longest = max(longest, row)
			if l := geom.Distance(p.Sewn.Track.Pts[k-1], to); l < worst {
				worst, where = l, to
			}
		})
		all := p.Report.Stops[i].Stitches
		many := n > tooMany(all, share)
		if !many && longest < rowShort {
			continue
		}
		is, than := p.units().StitchPast(worst, limit)
		what := fmt.Sprintf("%d of %d stitches are shorter than %s", n, all, than)
		if !many {
			what = fmt.Sprintf("%d stitches one after another are shorter than %s", longest, than)
		}
		out = append(out, report.Finding{Severity: report.Caution, Stop: i + 1, AtMM: at(where), Measured: worst, Limit: limit, Unit: "mm",
			Message: fmt.Sprintf("%s, the shortest %s", what, is),
			Advice:  "Thread may knot or break here: sew slowly, with a fresh needle. Do not shrink this design."})
	}
	return out
}
