package analyse

import (
	"math"
	"slices"
)

// Pieces measures the pieces of applique cloth and the cover along their cut edges.
var Pieces = &Analyser{
	Name:     "pieces",
	Doc:      "applique pieces: placement, tack-down, cover, and the cover along the cut edge",
	Requires: []*Analyser{Columns},
	Run:      measurePieces,
}

func measurePieces(p *Pass) {
	p.cover = newBandIndex(p.bands)
	p.pieces = piecesAt(p.Recognised.pieces, p.Scale)
	for k, w := range p.pieces {
		if !w.hole {
			p.Report.Pieces = append(p.Report.Pieces, p.measurePiece(k))
		}
	}
}

// measurePiece measures the piece and the holes in it.
func (p *Pass) measurePiece(k int) Piece {
	w := p.pieces[k]
	out := Piece{Number: w.number, PlacementStop: w.place.stop + 1, Holes: len(w.holes)}
	if w.held {
		out.TackDownStop = w.tack.stop + 1
	}
	if len(w.covers) > 0 {
		out.CoverStop = w.covers[0] + 1
	}
	out.AreaMM2 = math.Abs(polygonArea(w.tack.line))
	out.PerimeterMM = w.tack.length
	b := boxOf(slices.Concat(w.tack.line, w.place.line))
	out.CutSizeMM = [2]float64{b.width() + 2*p.Settings.ClothMarginMM, b.height() + 2*p.Settings.ClothMarginMM}
	out.Placement, out.TackDown = w.place.line, w.tack.line
	out.Gaps, out.OffCloth = []Gap{}, []Gap{}
	for _, h := range w.holes {
		out.AreaMM2 -= math.Abs(polygonArea(h.tack.line))
	}
	if len(w.covers) == 0 {
		return out
	}
	for _, part := range append([]*pieceWork{w}, w.holes...) {
		last := part.tack.stop
		e := edgeWork{piece: part, admits: func(b int32) bool { return p.bands[b].Stop > last }}
		// Cloth laid later lies over this piece.
		e.hidden = func(q Point) bool {
			for _, v := range p.pieces {
				if v != w && v != part && !v.hole && v.held && v.tack.closed && v.tack.stop > last &&
					q.X >= v.tack.box.lo.X && q.X <= v.tack.box.hi.X && q.Y >= v.tack.box.lo.Y && q.Y <= v.tack.box.hi.Y &&
					insidePolygon(q, v.tack.line) {
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
