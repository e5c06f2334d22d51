package rules

import (
	"fmt"
	"slices"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// EdgeUncoveredRule is the rule edge-uncovered.
var EdgeUncoveredRule = Rule{
	ID:       "edge-uncovered",
	Doc:      "the cut edge of an applique piece lies outside its cover",
	Severity: report.Fault,
	Limits:   limits("edge-uncovered"),
	Requires: []*measure.Step{measure.Pieces},
	Check:    edgeUncovered,
}

// KnownGap is the shortest gap in mm that is told of: less is the width of two
// threads.
const KnownGap = 0.75

// BareMM is what shows of a piece's edge in gaps that are told of, in mm.
func BareMM(c *report.Piece) (bare float64) {
	for _, g := range c.Gaps {
		if !g.Open && g.LengthMM >= KnownGap {
			bare += g.LengthMM
		}
	}
	return bare
}

// coverLost tells of a cover that lies elsewhere. One that is turned or of another size may be
// another figure, so that the pattern is asked.
func coverLost(u words.Units, w *applique.Piece, limit float64) report.Finding {
	f := report.Finding{Severity: report.Fault, Stop: w.LostStop + 1, Piece: w.Number, AtMM: at(w.Tack.Line[0]), Measured: w.Tack.Length, Limit: limit, Unit: "mm",
		Message: fmt.Sprintf("piece %d: its cover (stop %d) lies %s aside of it: all round the cut edge would show, %s of it", w.Number, w.LostStop+1, u.Stitch(w.LostBy), u.Stretch(w.Tack.Length)),
		Advice:  "Do not sew it so: the satin belongs over the tack-down. Take another format or size from the pack, or ask its maker for a mended file."}
	if w.LostTurned {
		f.Severity = report.Caution
		f.Message = fmt.Sprintf("piece %d: what may be its cover (stop %d) is of its shape, but turned or of another size, and lies up to %s off it: the cut edge would show", w.Number, w.LostStop+1, u.Stitch(w.LostBy))
		f.Advice = "Ask the pattern whether that satin belongs over the tack-down. If so, do not sew it so: take another format or size from the pack, or ask its maker for a mended file."
	}
	return f
}

// edgeUncovered looks at the gaps in closed covers. What shows between the stitches
// of an open one is thin-cover.
func edgeUncovered(p *Pass) []report.Finding {
	limit, allow, u := p.Limit("edge-uncovered"), p.Settings.TrimAllowanceMM, p.units()
	loose := map[looseEdge][]int{} // told of, once for all pieces that one stop finishes
	var out []report.Finding
	for _, w := range p.Pieces {
		if w.LostBy > 0 && limit >= 0 {
			out = append(out, coverLost(u, w, limit))
		}
	}
	for i := range p.Report.Pieces {
		c := &p.Report.Pieces[i]
		if c.CoverStop == 0 {
			continue
		}
		if c.Finish.Loose() {
			if l := (looseEdge{c.CoverStop, c.Finish}); loose[l] == nil {
				loose[l] = loosePieces(p.Report, l)
				out = append(out, report.Finding{Severity: report.Note, Stop: c.CoverStop, Piece: c.Number, Limit: limit, Unit: "mm",
					Message: fmt.Sprintf("%s finished with a %s, which does not hide the cut edge: it shows by design", words.Pieces(loose[l], "is", "are"), c.Finish),
					Advice:  "Trim evenly, a little closer than for satin, and choose cloth that does not fray much."})
			}
			continue
		}
		var worst report.Gap
		bare := BareMM(c)
		n := 0
		for _, g := range c.Gaps {
			if g.Open || g.LengthMM < KnownGap {
				continue
			}
			n++
			if g.LengthMM > worst.LengthMM {
				worst = g
			}
		}
		if n == 0 && limit >= 0 {
			continue
		}
		f := report.Finding{Severity: report.Caution, Stop: c.CoverStop, Piece: c.Number, AtMM: &worst.AtMM, Measured: bare, Limit: limit, Unit: "mm",
			Message: fmt.Sprintf("piece %d: %s of its cut edge, in %s, would show; the cover must reach %s past the tack-down (stop %d) and %s",
				c.Number, u.Stitch(bare), words.Plural(n, "stretch", "stretches"), u.Small(allow), max(c.TackDownStop, c.PlacementStop), reaches(u, worst.LeastMM, allow)),
			Advice: "Trim closer than usual along the marked stretch, hoop off the machine, and do not cut the stitches."}
		switch {
		case bare <= limit:
			f.Severity = report.Note
		case tooFarIn(p, c.Number):
			f.Severity = report.Fault
			f.Message = fmt.Sprintf("piece %d: the tack-down (stop %d) lies so far inside its line (stop %d) that the cover misses the edge of cloth trimmed close to it: %s of it would show inside the cover",
				c.Number, c.TackDownStop, c.PlacementStop, u.Stretch(bare))
			f.Advice = "Do not trim close to the tack-down: cut along the placement line, which shows on the underside, so that the edge comes under the cover, and sew a trial piece. Better take another size from the pack, or ask its maker."
		case bare-tipsMM(p, c) <= limit:
			f.Advice = "The cloth shows at its tips only: cut each tip blunt, close to the stitching, hoop off the machine, and do not cut the stitches."
		case worst.LeastMM < 0.3:
			f.Severity = report.Fault
			f.Advice = "Trimming cannot mend this: the satin does not reach the cloth's edge there. Take another size from the pack, or ask its maker."
		}
		out = append(out, f)
	}
	return out
}

// tipsMM is how much of what shows of a piece's edge is the tips of its cloth.
func tipsMM(p *Pass, c *report.Piece) (mm float64) {
	for _, w := range p.Pieces {
		if w.Number != c.Number || w.Hole {
			continue
		}
		for i := range c.Gaps {
			if g := &c.Gaps[i]; !g.Open && g.LengthMM >= KnownGap && tipOnly(p, w, g) {
				mm += g.LengthMM
			}
		}
	}
	return mm
}

// tooFarIn reports whether the tack-down of a piece lies so far inside its line that
// the cover misses what it holds.
func tooFarIn(p *Pass, piece int) bool {
	return slices.ContainsFunc(p.Pieces, func(w *applique.Piece) bool { return w.Number == piece && w.Missed })
}

// looseEdge is a finish that is loose by design, and the stop that sews it.
type looseEdge struct {
	stop   int
	finish report.Finish
}

// loosePieces are the numbers of the pieces that are finished so.
func loosePieces(r *report.Report, l looseEdge) (pieces []int) {
	for i := range r.Pieces {
		if c := &r.Pieces[i]; c.CoverStop == l.stop && c.Finish == l.finish {
			pieces = append(pieces, c.Number)
		}
	}
	return pieces
}

// reaches says how far a cover reaches at its worst place.
func reaches(u words.Units, least, allow float64) string {
	switch {
	case least <= -report.ReachMM:
		return "is missing at the worst place"
	case least < 0:
		return fmt.Sprintf("lies %s inside it at the worst place", u.Stitch(-least))
	case least >= allow:
		return "opens at the worst place"
	}
	return fmt.Sprintf("reaches %s at the worst place", u.Stitch(least))
}
