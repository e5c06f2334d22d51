package analyse

import "fmt"

var (
	longStitchRule = Rule{ID: "long-stitch", Doc: "a stitch so long that it snags; satin has a rule of its own",
		Limit: inWords("long-stitch"), Check: longStitch}
	shortStitchRule = Rule{ID: "short-stitch", Doc: "stitches so short that thread knots and breaks; ties are meant to be short",
		Limit: inWords("short-stitch") + "; half of that within satin and fills, whose turns are short", Check: shortStitch}
)

const (
	sameHole  = 0.05 // mm: the needle goes into the same hole; it knots nothing
	fewShort  = 8    // short stitches in a stop that nobody would notice
	manyShort = 20   // and so many that they are worth a warning
)

func longStitch(p *Pass) []Finding {
	limit := p.Settings.Limit("long-stitch")
	var out []Finding
	for i := range p.Report.Stops {
		var worst float64
		var where Point
		n := 0
		p.Sewn.Track.EachSewn(i, func(k int, from, to Point) {
			if l := distance(from, to); l > limit && p.Sewn.Track.Kind[k] != KindSatin {
				n++
				if l > worst {
					worst, where = l, middle(from, to)
				}
			}
		})
		if n == 0 {
			continue
		}
		out = append(out, Finding{Severity: Caution, Stop: i + 1, AtMM: at(where), Measured: worst, Limit: limit, Unit: "mm",
			Message: fmt.Sprintf("%s longer than %.0f mm, the longest %.1f mm", plural(n, "stitch is", "stitches are"), limit, worst),
			Advice:  "Long stitches snag in use and in the wash. Look at the place on the picture before you sew; do not enlarge this design."})
	}
	return out
}

func shortStitch(p *Pass) []Finding {
	limit := p.Settings.Limit("short-stitch")
	var out []Finding
	for i := range p.Report.Stops {
		worst := limit
		var where Point
		n := 0
		p.Sewn.Track.EachSewn(i, func(k int, from, to Point) {
			kind := p.Sewn.Track.Kind[k]
			if kind == KindTie {
				return
			}
			least := limit
			if kind.Surface() {
				least = limit / 2
			}
			if l := distance(from, to); l < least && l > sameHole {
				n++
				if l <= worst {
					worst, where = l, to
				}
			}
		})
		if n <= fewShort {
			continue
		}
		f := Finding{Severity: Note, Stop: i + 1, AtMM: at(where), Measured: worst, Limit: limit, Unit: "mm",
			Message: fmt.Sprintf("%d stitches are shorter than %.2g mm, the shortest %.1f mm", n, limit, worst),
			Advice:  "Thread may knot or break here: sew slowly, with a fresh needle. Do not shrink this design."}
		if n >= manyShort {
			f.Severity = Caution
		}
		out = append(out, f)
	}
	return out
}
