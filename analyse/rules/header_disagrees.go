package rules

import (
	"cmp"
	"errors"
	"fmt"
	"math"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

var headerDisagreesRule = Rule{
	ID:       "header-disagrees",
	Doc:      "the file's header and its stitches tell different figures",
	Severity: report.Note,
	Limits:   limits("header-disagrees"),
	Bounds:   "any difference in stitches, records or colour changes; writers may count the end as a record, and colours in place of changes; a warning where stops seem to be lost that a block needs",
	Requires: []*measure.Step{measure.Sizes},
	Check:    headerDisagrees,
}

func headerDisagrees(p *Pass) []report.Finding {
	d := p.Sewn.Design
	if errors.Is(d.Damage, stitchfile.ErrTruncated) {
		return nil // the rest is missing, which damaged-file tells
	}
	c, n := d.Claims, d.Counts()
	var out []report.Finding // one, of all figures
	say := func(claimed, is float64, unit, message string, args ...any) {
		if len(out) > 0 {
			out[0].Message += "; and " + fmt.Sprintf(message, args...)
			return
		}
		out = append(out, report.Finding{Severity: report.Note, Measured: is, Limit: claimed, Unit: unit,
			Message: fmt.Sprintf("the file's header says "+message, args...),
			Advice:  "Stopcard goes by the stitches themselves. A machine may show the header's figure."})
	}
	count := func(what string, claimed, is int) {
		if claimed == 0 && what != "changes" {
			return // not filled in
		}
		if claimed > is && d.Whole == stitchfile.NotWhole {
			return // the rest may be missing, which damaged-file tells
		}
		told := map[string]string{"changes": "colour changes"}[what]
		say(float64(claimed), float64(is), what, "%d %s, its stitches say %d", claimed, cmp.Or(told, what), is)
	}
	// Writers count either the changes or the threads, which are one more.
	if c.ColourStops >= 0 && c.ColourStops != n.ColourStops && c.ColourStops != n.ColourStops+1 {
		count("changes", c.ColourStops, n.ColourStops)
		if len(out) > 0 && stopsLost(p, c.ColourStops, n.ColourStops) {
			out[0].Severity, out[0].Advice = report.Caution, lostStops
		}
	}
	if c.Stitches >= 0 && c.Stitches != n.Stitches {
		count("stitches", c.Stitches, n.Stitches)
	}
	// The end may count as a record; some count stitches alone.
	r := d.Records
	if r == 0 {
		r = records(d)
	}
	if c.Records >= 0 && c.Records != r && c.Records != r+1 && c.Records != n.Stitches {
		count("records", c.Records, r)
	}
	limit := p.Limit("header-disagrees")
	for _, e := range []struct {
		what    string
		claimed int
		is      float64
	}{{"wide", c.Width, p.Recognised.Sewn.WidthMM}, {"high", c.Height, p.Recognised.Sewn.HeightMM}} {
		if c.Width <= 0 && c.Height <= 0 {
			break // not filled in
		}
		if claimed := float64(e.claimed) / 10; claimed > e.is && d.Whole == stitchfile.NotWhole && n.Stitches == 0 {
			continue // nothing is there, which damaged-file tells
		} else if e.claimed >= 0 && math.Abs(claimed-e.is) > limit {
			say(claimed, e.is, "mm", "it is %s %s, its stitches say %s", p.units().Stitch(claimed), e.what, p.units().Stitch(e.is))
		}
	}
	return out
}

const lostStops = "The machine pauses less often than the maker meant. Where a lost stop was for laying or trimming cloth, it sews straight on: take another copy or format of the design, or ask the maker. Stopcard goes by the stitches themselves."

// stopsLost reports whether a header that counts more colour changes than there are tells
// of stops that the hands need: where there are none at all, of which nothing else might
// tell, or where cloth is laid. Plain embroidery in fewer colours sews as well.
func stopsLost(p *Pass, claimed, changes int) bool {
	return claimed > changes && (changes == 0 || len(p.Recognised.Pieces) > 0)
}

// records counts the moves that the file itself holds, the end apart: they are its
// records where the reader does not tell otherwise.
func records(d *stitchfile.Design) int {
	n := 0
	for _, m := range d.Moves {
		if m.Kind != stitchfile.End && m.Mark&stitchfile.MarkDerived == 0 {
			n++
		}
	}
	return n
}
