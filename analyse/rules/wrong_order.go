package rules

import (
	"fmt"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

var wrongOrderRule = Rule{
	ID:       "wrong-order",
	Doc:      "the cover of a piece is sewn before its tack-down, so the cloth would hide it; or embroidery on it is sewn before the tack-down; or the backing before the batting, which would lie outside it",
	Severity: report.Fault,
	Bounds:   "the tack-down must come first, and the batting",
	Requires: []*measure.Step{measure.Pieces, measure.Hands},
	Check:    wrongOrder,
}

func wrongOrder(p *Pass) []report.Finding {
	var out []report.Finding
	for _, w := range p.Pieces {
		if w.Hole || !w.CoverFirst {
			continue
		}
		cover, tack := w.Covers[0]+1, w.Tack.Stop+1
		out = append(out, report.Finding{Severity: report.Fault, Stop: cover, Piece: w.Number, AtMM: at(w.Tack.Line[0]), Unit: "stops",
			Message: fmt.Sprintf("piece %d: the order cannot work: stop %d covers its edge before stop %d tacks it down", w.Number, cover, tack),
			Advice:  fmt.Sprintf("Sew stop %d before stop %d if your machine lets you choose the stop, with the cloth laid before it and trimmed after it. Else ask the maker for a file in the right order.", tack, cover)})
	}
	for _, w := range p.Pieces {
		if on := w.SewnFirst(); on != nil && !w.MayBePlain() {
			out = append(out, report.Finding{Severity: report.Caution, Stop: on.Stop + 1, Piece: w.Number, AtMM: at(on.Line[0].Times(p.Scale)), Unit: "stops",
				Message: fmt.Sprintf("piece %d: stop %d sews inside its line before stop %d tacks its cloth down", w.Number, on.Stop+1, w.Tack.Stop+1),
				Advice:  fmt.Sprintf("Lay its cloth before stop %d, fixed so that it cannot shift: laid later it would hide that stitching. Ask the maker whether the cloth was meant to be held first; a pause in stop %d may be lost.", on.Stop+1, w.Place.Stop+1)})
		}
	}
	return append(out, outerBatting(p)...)
}

// outerBatting tells of batting that goes on the underside over the backing. No file is made
// so; notes may say it of one.
func outerBatting(p *Pass) []report.Finding {
	under := func(s *report.Stop, what report.Material) bool {
		return slices.ContainsFunc(s.LiesInHoop, func(l report.Lying) bool { return l.What == what && l.Side == report.Underside && !l.FaceDown })
	}
	backing := 0
	for i := range p.Report.Stops {
		s := &p.Report.Stops[i]
		batted := under(s, report.Batting)
		switch {
		case batted && backing > 0:
			return []report.Finding{{Severity: report.Fault, Stop: s.Number, AtMM: at(geom.Point{X: s.BoundsMM[0], Y: (s.BoundsMM[1] + s.BoundsMM[3]) / 2}), Unit: "stops",
				Message: fmt.Sprintf("the backing is sewn on in stop %d and the batting over it in stop %d: the batting would lie on the outside", backing, s.Number),
				Advice:  "Batting goes between the cloth and the backing. If the notes have the two exchanged, put that right; else lay both before the first of these stops, the batting first."}}
		case batted:
			return nil
		case backing == 0 && under(s, report.Backing):
			backing = s.Number
		}
	}
	return nil
}
