package analyse

// measurePiece measures the piece and the holes in it.
func (p *Pass) measurePiece(k int) Piece {
	w := p.work[k]
	out := Piece{Number: w.number, PlacementStop: w.place.stop + 1, Holes: len(w.holes)}
	if w.held {
		out.TackDownStop = w.tack.stop + 1
	}
	if len(w.covers) > 0 {
		out.CoverStop = w.covers[0] + 1
	}
	out.AreaMM2 = abs(polygonArea(w.tack.line))
	out.PerimeterMM = w.tack.length
	b := boxOf(append(append([]Point(nil), w.tack.line...), w.place.line...))
	out.CutSizeMM = [2]float64{b.width() + 2*p.Settings.ClothMarginMM, b.height() + 2*p.Settings.ClothMarginMM}
	out.Placement, out.TackDown = w.place.line, w.tack.line
	out.Gaps, out.OffCloth = []Gap{}, []Gap{}
	for _, h := range w.holes {
		out.AreaMM2 -= abs(polygonArea(h.tack.line))
	}
	if len(w.covers) == 0 {
		return out
	}
	for _, part := range append([]*pieceWork{w}, w.holes...) {
		last := part.tack.stop
		part.admits = func(b int32) bool { return p.bands[b].stop > last }
		// Cloth laid later lies over this piece.
		part.hidden = func(q Point) bool {
			for _, v := range p.work {
				if v != w && v != part && !v.hole && v.held && v.tack.closed && v.tack.stop > last &&
					q.X >= v.tack.box.lo.X && q.X <= v.tack.box.hi.X && q.Y >= v.tack.box.lo.Y && q.Y <= v.tack.box.hi.Y &&
					insidePolygon(q, v.tack.line) {
					return true
				}
			}
			return false
		}
		measureEdge(p, part, &out)
	}
	sumUpEdge(&out, edgeStep, p.Settings.TrimAllowanceMM)
	return out
}
