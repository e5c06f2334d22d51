package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// ThinCoverRule is the rule thin-cover.
var ThinCoverRule = Rule{
	ID:       "thin-cover",
	Doc:      "satin so open that cloth shows between its stitches",
	Severity: report.Fault,
	Limits:   limits("thin-cover", "thin-cover-stretch"),
	Bounds:   "over the whole column, over any 10 mm of it, and over any 10 mm of the edge that a cover is to hide; other thread hides too, save under applique cloth; the passes of a cover that is sewn in several hide together",
	Requires: []*measure.Step{measure.Columns, measure.Pieces, measure.Roles},
	Check:    thinCover,
}

const (
	farTooThin = 0.15 // share below the limit at which an applique edge will not be hidden
	leastThin  = 5.0  // mm of satin; nobody sees that less is thin, nor can it be measured well
	leap       = 3.0  // mm from one crossing to the next, on the design as it is: no satin is so open, and what is so far apart is two figures with a stitch between
	asThin     = 1e-9 // share: of places that are alike but for rounding the first is told
)

// JudgesCover reports whether the rule thin-cover looks at a column, measured at a scale.
func JudgesCover(c *report.SatinColumn, scale float64) bool {
	length := c.LengthMM / scale
	if length < leastThin || c.Crossings < leastJudged {
		return false
	}
	for k := 1; k < len(c.Centre); k++ {
		if l := geom.Distance(c.Centre[k-1], c.Centre[k]) / scale; l > leap {
			length -= l
		}
	}
	return length >= leastThin
}

// Covered is the share of a column's ground that the rule thin-cover takes for hidden,
// all over and along its thinnest stretch, on a stop that covers applique or not.
func Covered(p *measure.Pass, column int, applique bool) (all, thinnest float64) {
	c := &p.Report.SatinColumns[column]
	if OwnOnly(p, column, applique) {
		return c.Coverage, c.ThinCoverage
	}
	return c.UnderThread, c.ThinUnderThread
}

// OwnOnly reports whether only the own thread of a column counts: on a stop that covers
// applique, where what was sewn before lies under the cloth. But of a cover in several passes
// all count.
func OwnOnly(p *measure.Pass, column int, applique bool) bool {
	return applique && !p.SewnAgain(column)
}

// thin is what is too open in one stop.
type thin struct {
	columns      int
	length       float64 // of them, mm
	value, limit float64 // of the worst place
	at           geom.Place
	pitch        float64       // of the worst column, 0 where an edge is worse
	piece        *report.Piece // the worst piece, nil where a column is worse
	pieces       int
}

// take keeps the worse of what is known and a further place.
func (t *thin) take(value, limit, pitch float64, at geom.Place, piece *report.Piece) {
	if t.columns+t.pieces == 1 || value-limit < t.value-t.limit-asThin {
		t.value, t.limit, t.pitch, t.at, t.piece = value, limit, pitch, at, piece
	}
}

// thinCover looks at each column as a whole and at its thinnest stretch, which may
// fall further, and at what the covers of applique leave bare of the edge under
// them, however they are sewn. Each stop is told once.
func thinCover(p *Pass) []report.Finding {
	whole, stretch := p.Limit("thin-cover"), p.Limit("thin-cover-stretch")
	stops := make([]thin, len(p.Report.Stops)+1)
	covers := map[int]bool{}
	for _, w := range p.Pieces {
		for _, stop := range w.Covers {
			covers[stop+1] = true
		}
	}
	for i := range p.Report.SatinColumns {
		c := &p.Report.SatinColumns[i]
		all, least := Covered(p.Pass, i, covers[c.Stop])
		value, limit := all, whole
		if least-stretch < all-whole {
			value, limit = least, stretch
		}
		if value < limit && JudgesCover(c, p.Scale) {
			t := &stops[c.Stop]
			t.columns++
			t.length += c.LengthMM
			t.take(value, limit, c.Pitch.Median, c.ThinnestAt, nil)
		}
	}
	for i := range p.Report.Pieces {
		c := &p.Report.Pieces[i]
		if c.CoverStop > 0 && !c.Finish.Loose() && c.CoverShare.Median > 0 && c.CoverShare.Min < stretch {
			t := &stops[c.CoverStop]
			t.pieces++
			t.take(c.CoverShare.Min, stretch, 0, c.ThinnestAt, c)
		}
	}
	var out []report.Finding
	for stop := range stops {
		if t := &stops[stop]; t.columns+t.pieces > 0 {
			out = append(out, t.finding(p, stop))
		}
	}
	return out
}

// finding tells of what is thin in a stop.
func (t *thin) finding(p *Pass, stop int) report.Finding {
	f := report.Finding{Severity: report.Caution, Stop: stop, AtMM: &t.at, Measured: t.value, Limit: t.limit, Unit: "share"}
	where := "over the whole column"
	if t.limit == p.Limit("thin-cover-stretch") {
		where = "along its thinnest stretch"
	}
	is, needed := words.PercentPast(t.value, t.limit)
	if c := t.piece; c != nil {
		of := "along " + p.units().Stretch(c.OpenMM) + " of"
		if c.OpenMM < 0.05 { // what is open stands among the gaps
			of = "at a spot of"
		}
		f.Message = fmt.Sprintf("the cover is open %s the edge of piece %d: at worst %s of the cloth there is under thread, and %s is needed", of, c.Number, is, needed)
		if t.pieces > 1 {
			f.Message += fmt.Sprintf("; %s more so", words.Plural(t.pieces-1, "piece", "pieces"))
		}
	} else {
		length := "long"
		if t.columns > 1 {
			length = "together"
		}
		f.Message = fmt.Sprintf("%s thin, %s %s: at worst %s of the cloth is under thread %s, and %s is needed (stitches %s apart)",
			words.Plural(t.columns, "satin column is", "satin columns are"), p.units().Stretch(t.length), length, is, where, needed, p.units().Stitch(t.pitch))
	}
	f.Advice = "Cloth will show through. Do not enlarge; take the size that was digitised for this hoop, or sew this stop twice on a trial piece first."
	if (t.pieces > 0 || p.Report.Stops[stop-1].Role == report.RoleCoverSatin) && t.value < t.limit-farTooThin {
		f.Severity = report.Fault
		f.Advice = "The raw edge will show and fray. Take another size from the pack, or ask its maker for a closer cover."
	}
	return f
}
