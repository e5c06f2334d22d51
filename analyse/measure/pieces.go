package measure

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/satin"
)

// Pieces measures the pieces of applique cloth and the cover along their cut edges.
var Pieces = &Step{
	Name:     "pieces",
	Doc:      "applique pieces: placement, tack-down, cover, and the cover along the cut edge",
	Requires: []*Step{Columns},
	Run:      measurePieces,
}

func measurePieces(p *Pass) {
	p.cover = satin.NewBandIndex(p.bands)
	p.Pieces = applique.PiecesAt(p.Recognised.Pieces, p.Scale)
	for k, w := range p.Pieces {
		if !w.Hole {
			p.Report.Pieces = append(p.Report.Pieces, p.measurePiece(k))
		}
	}
}

// measurePiece measures the piece and the holes in it.
func (p *Pass) measurePiece(k int) report.Piece {
	w := p.Pieces[k]
	out := report.Piece{Number: w.Number, PlacementStop: w.Place.Stop + 1, Holes: len(w.Holes)}
	if !w.PreCut {
		out.TackDownStop = w.Tack.Stop + 1
	}
	out.Finish, out.PreCut, out.OneStop, out.TackCover, out.CoverFirst = w.Finish, w.PreCut, w.OneStop, w.TackCover, w.CoverFirst
	out.Confidence, out.NextReading = w.Confidence, w.Next
	if len(w.Covers) > 0 {
		out.CoverStop = w.Covers[0] + 1
	}
	out.AreaMM2 = math.Abs(geom.PolygonArea(w.Tack.Line))
	out.PerimeterMM = w.Tack.Length
	b := geom.BoxOf(slices.Concat(w.Tack.Line, w.Place.Line))
	margin := 2 * p.Settings.ClothMarginMM
	if !w.Held {
		margin = 0 // nothing tacks it down: it is cut to the line itself
	}
	out.CutSizeMM = [2]float64{b.Width() + margin, b.Height() + margin}
	out.Placement, out.TackDown = w.Place.Line, w.Tack.Line
	out.Gaps, out.OffCloth = []report.Gap{}, []report.Gap{}
	for _, h := range w.Holes {
		out.AreaMM2 -= math.Abs(geom.PolygonArea(h.Tack.Line))
	}
	if len(w.Covers) == 0 {
		return out
	}
	for _, part := range append([]*applique.Piece{w}, w.Holes...) {
		last := part.Tack.Stop
		e := edgeWork{piece: part, admits: func(b int32) bool {
			s := p.bands[b].Stop
			return s > last || s == last && (part.TackCover || part.PreCut) || part.CoverFirst && slices.Contains(part.Covers, s)
		}}
		// Cloth laid later lies over this piece.
		e.hidden = func(q geom.Point) bool {
			for _, v := range p.Pieces {
				if v != w && v != part && !v.Hole && v.Held && v.Tack.Closed && v.Tack.Stop > last &&
					q.X >= v.Tack.Box.Lo.X && q.X <= v.Tack.Box.Hi.X && q.Y >= v.Tack.Box.Lo.Y && q.Y <= v.Tack.Box.Hi.Y &&
					geom.InsidePolygon(q, v.Tack.Line) {
					return true
				}
			}
			return false
		}
		measureEdge(p, &e, &out)
	}
	sumUpEdge(&out, edgeStep, p.Settings.TrimAllowanceMM)
	return out
}
