package rules

import (
	"fmt"
	"slices"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

var coverMissingRule = Rule{
	ID:       "cover-missing",
	Doc:      "a piece has no cover, and other pieces of the design have one; or its blanket stitch, motif or bean line breaks off",
	Severity: report.Caution,
	Bounds:   "any piece without, where others have a cover, but for an edge that another line finishes or whose heavy tack-down lies 0.9 mm or more inside its line to be seen; 8 mm of edge without a stitch of its blanket stitch, motif or bean line (2 to 5 mm apart; common practice, no single source), and twice as much as usually lies between two",
	Requires: []*measure.Step{measure.Pieces},
	Check:    coverMissing,
}

// coverMissing tells of pieces that are left raw, or held by an open zigzag alone,
// beside pieces that are covered, and of those whose finish breaks off.
func coverMissing(p *Pass) []report.Finding {
	covered := slices.ContainsFunc(p.Pieces, func(w *applique.Piece) bool { return !w.Hole && len(w.Covers) > 0 })
	out := brokenOff(p)
	for _, w := range p.Pieces {
		over := "nothing covers its edge after the tack-down"
		switch {
		case w.Hole || len(w.Covers) > 0 || !covered || w.LostBy > 0:
			continue
		case w.Finish == report.FinishMissing:
		case w.Finish == report.FinishZigzag:
			over = "nothing but an open zigzag covers its edge"
		default:
			continue
		}
		out = append(out, report.Finding{Severity: report.Caution, Stop: w.Tack.Stop + 1, Piece: w.Number, AtMM: at(w.Tack.Line[0]), Unit: "covers", Limit: 1,
			Message: fmt.Sprintf("piece %d: %s (stop %d), and other pieces have a cover: the raw edge shows all round", w.Number, over, w.Tack.Stop+1),
			Advice:  "Ask the pattern whether that is meant. If not, a stop is missing from this file: try another format or size from the pack, or ask its maker."})
	}
	return out
}

// brokenOff tells of finishes that are loose by design and are missing along a stretch.
func brokenOff(p *Pass) []report.Finding {
	u := p.units()
	var out []report.Finding
	for i := range p.Report.Pieces {
		c := &p.Report.Pieces[i]
		var worst report.Gap
		for _, g := range p.Broken[c.Number] {
			if g.LengthMM > worst.LengthMM {
				worst = g
			}
		}
		if worst.LengthMM > 0 {
			stop, finish := c.CoverStop, string(c.Finish)
			if stop == 0 {
				stop, finish = finishedBy(p, c.Number), "bean line"
			}
			out = append(out, report.Finding{Severity: report.Caution, Stop: stop, Piece: c.Number, AtMM: &worst.AtMM, Measured: worst.LengthMM, Limit: measure.BrokenMM * p.Scale, Unit: "mm",
				Message: fmt.Sprintf("piece %d: its %s (stop %d) breaks off along %s of the edge, and nothing else finishes it there", c.Number, finish, stop, u.Stretch(worst.LengthMM)),
				Advice:  "Ask the pattern whether that is meant. If not, stitches are missing from this file: try another format or size from the pack, or finish the edge there by hand."})
		}
	}
	return out
}

// finishedBy is the stop whose line finishes the raw edge of a piece, from 1.
func finishedBy(p *Pass, piece int) int {
	for _, w := range p.Pieces {
		if w.Number == piece && w.FinishedBy > 0 {
			return w.FinishedBy
		}
	}
	return 0
}
