package truth

import "math"

// finish gives the roles that are right for a cover of the given kind. A loose
// finish is a cover to one and a line along the edge to the next.
func finish(cover string) []string {
	if cover == satin || cover == wide {
		return []string{"cover satin"}
	}
	return []string{"cover satin", "edge run"}
}

// sew sews a piece in its own stops.
func (w *way) sew(k *piece) {
	w.stop(placement)
	w.sewPlace(k)
	if k.tack == preCut {
		w.pieces++
		if k.shape.hole != nil {
			w.holes++
		}
	} else {
		w.tackStop(k)
	}
	w.coverStop(k)
}

// tackStop lays and tacks pieces, and has them trimmed before the next stop.
func (w *way) tackStop(ks ...*piece) {
	w.stop(tackDown)
	w.lay(AppliqueCloth)
	for i, k := range ks {
		if i > 0 {
			w.Trim()
		}
		w.sewTack(k)
		w.trimAfterTack(k, w.here()+1)
	}
}

// trimAfterTack asks for the trim of a piece just tacked, before the given stop
// at the latest. A raw edge may be cut to shape beforehand as well.
func (w *way) trimAfterTack(k *piece, before int) {
	h := Hand{Kind: Trim, What: AppliqueCloth, From: w.here() + 1, To: before, May: !k.mustTrim()}
	if h.May {
		h.To = math.MaxInt32
	}
	w.hand(h)
}

// sewJoined sews pieces together, stop by stop, with no thread cut between their lines nor
// between their tack-downs.
func (w *way) sewJoined(ks ...*piece) {
	w.stop(placement)
	for _, k := range ks {
		w.sewPlace(k)
	}
	w.stop(tackDown)
	w.lay(AppliqueCloth)
	for _, k := range ks {
		w.sewTack(k)
		w.trimAfterTack(k, w.here()+1)
	}
	w.coverStop(ks...)
}

// coverStop sews the covers of pieces in one stop, where they have any.
func (w *way) coverStop(ks ...*piece) {
	if ks[0].cover == rawEdge {
		return
	}
	w.stop(finish(ks[0].cover)...)
	for i, k := range ks {
		if i > 0 {
			w.Trim()
		}
		if k.tack == preCut {
			w.lay(AppliqueCloth)
		}
		w.sewCover(k)
	}
}

// judge says whether a piece sewn in stops of its own is sound beyond doubt: a
// dense cover that hides 1 mm of cloth outside the tack-down and the tack-down
// itself, over lines that follow one another. Tips as sharp as a star's crowd.
func (w *way) judge(k *piece) {
	if k.cover != satin || k.width < 3 || k.width > 6 || k.pitch > 0.42 || !k.shape.round && !k.shape.cornery ||
		k.size < 35 || k.shape.name == "star" || k.rough > 0 || w.colours != 1 || k.place == dashed || k.tack == dashed || math.Abs(k.inset) > 1.2 {
		return
	}
	reachOut, reachIn := k.width/2-k.coverInset, k.width/2+k.coverInset
	if k.tack == preCut {
		if k.width >= 3.5 {
			w.out.Verdict = Sound
		}
		return
	}
	out, in := -k.inset, k.inset
	switch k.tack {
	case zigzag:
		out, in = out+k.tackWidth/2, in+k.tackWidth/2
	case blanket:
		in += k.tackWidth
	}
	if reachOut >= out+1.5 && reachIn >= k.inset+0.5 && reachIn >= in-2 {
		w.out.Verdict = Sound
	}
}

// rawEdged tells whether a piece is ever left with its raw edge in sight after
// such lines: a placement line that shows would be a decoration beside it, and a
// dashed tack-down would let the edge lift.
func rawEdged(place, tack string) bool {
	return (place == single || place == double || place == dashed) && tack != dashed
}

// onePieces are single pieces: each placement line with each tack-down, each
// under several covers, and cloth cut beforehand.
func (s *waySet) onePieces() {
	n := 0
	for _, place := range lineKinds {
		for _, tack := range append([]string{preCut}, tackKinds...) {
			covers := []string{satin, satin, coverKinds[1+n%5], coverKinds[1+(n+2)%5]}
			if tack == preCut {
				covers = []string{satin, satin}
			}
			for _, cover := range covers {
				if cover == rawEdge && !rawEdged(place, tack) {
					cover = zigzag
				}
				shape := wayShapes[n%len(wayShapes)]
				n++
				s.add(FamilyOnePiece, place+" line, "+tack+", "+cover+", "+shape.name, false, func(w *way) {
					k := w.newPiece(shape, place, tack, cover)
					if w.IntN(6) == 0 && cover != wide && k.size > 30 {
						k.rough = w.between(0.2, 0.6)
					}
					w.sew(k)
					w.judge(k)
				})
			}
		}
	}
	// As a careful digitiser makes them.
	for _, place := range lineKinds[:5] {
		for _, tack := range []string{single, double, triple, bean, zigzag, blanket} {
			n++
			s.add(FamilyOnePiece, "sturdy, "+place+" line, "+tack, false, func(w *way) {
				w.sew(w.sturdy(n, place, tack))
				w.sound()
			})
		}
	}
	// Covers that lie off their line.
	for i := range 8 {
		s.add(FamilyOnePiece, "cover moved off its line", false, func(w *way) {
			k := w.newPiece(wayShapes[[]int{0, 1, 4, 8}[i%4]], single, double, satin)
			k.size, k.width, k.inset = max(k.size, 40), pick(w, 4.0, 5), pick(w, 0, 0.5)
			k.coverInset = -w.between(1, 2.3)
			w.sew(k)
		})
	}
	// Lines guided by hand.
	for i := range 8 {
		s.add(FamilyOnePiece, "rough lines", false, func(w *way) {
			k := w.newPiece(wayShapes[[]int{0, 3, 4, 8}[i%4]], pick(w, single, double, bean), pick(w, tackKinds...), satin)
			k.size, k.rough = max(k.size, 45), w.between(0.5, 0.9)
			k.width, k.inset, k.coverInset = max(k.width, 4), 0.5, 0
			w.sew(k)
		})
	}
	// A hundredth part of a sheet, and all of it.
	for _, size := range []float64{10, 11, 12, 13, 14, 15, 225, 235, 245, 250} {
		s.add(FamilyOnePiece, "very small or very large", false, func(w *way) {
			k := w.newPiece(wayShapes[w.IntN(2)], pick(w, single, double, bean), pick(w, single, double, bean), satin)
			k.size, k.width, k.inset, k.coverInset = size, 2, 0.3, 0
			if size > 100 {
				k.width, k.inset = 4, 0.5
			}
			w.sew(k)
		})
	}
}

// several makes n pieces side by side.
func (w *way) several(n int, place, tack, cover string) []*piece {
	var ks []*piece
	x := 0.0
	for i := range n {
		k := w.newPiece(wayShapes[w.IntN(len(wayShapes))], place, tack, cover)
		k.size = min(k.size, max(60, k.shape.least))
		k.fit()
		k.at = xy(x+k.size/2, 12*float64(i%2))
		x += 1.1*k.size + 8
		ks = append(ks, k)
	}
	return ks
}

// ways of parting several pieces into stops.
var orders = []struct {
	name string
	sew  func(w *way, ks []*piece)
}{
	{"stop by stop", func(w *way, ks []*piece) {
		for _, k := range ks {
			w.sew(k)
		}
	}},
	{"in the same stops", func(w *way, ks []*piece) {
		w.placeStop(ks...)
		w.tackStop(ks...)
		w.coverStop(ks...)
	}},
	{"covers last, one by one", func(w *way, ks []*piece) {
		for _, k := range ks {
			w.placeStop(k)
			w.tackStop(k)
		}
		for _, k := range ks {
			w.coverStop(k)
		}
		w.lateTrims()
	}},
	{"covers last, in one stop", func(w *way, ks []*piece) {
		for _, k := range ks {
			w.placeStop(k)
			w.tackStop(k)
		}
		w.coverStop(ks...)
		w.lateTrims()
	}},
	{"lines first", func(w *way, ks []*piece) {
		for _, k := range ks {
			w.placeStop(k)
		}
		w.tackStop(ks...)
		w.coverStop(ks...)
	}},
	{"lines in one stop, tack-downs apart", func(w *way, ks []*piece) {
		w.placeStop(ks...)
		for _, k := range ks {
			w.tackStop(k)
		}
		w.coverStop(ks...)
		w.lateTrims()
	}},
}

// lateTrims lets trims wait for the first stop that is a cover.
func (w *way) lateTrims() {
	first := len(w.stops) + 1
	for i, t := range w.stops {
		if t.Roles[0] == cover {
			first = min(first, i+1)
		}
	}
	for i := range w.out.Hands {
		if h := &w.out.Hands[i]; h.Kind == Trim && !h.May {
			h.To = max(h.To, first)
		}
	}
}

func (w *way) placeStop(ks ...*piece) {
	w.stop(placement)
	for i, k := range ks {
		if i > 0 {
			w.Trim()
		}
		w.sewPlace(k)
	}
}

// severalPieces are designs of two to five pieces.
func (s *waySet) severalPieces() {
	for i := range 36 {
		o := orders[i%len(orders)]
		s.add(FamilySeveralPieces, o.name, false, func(w *way) {
			cover := pick(w, satin, satin, satin, zigzag, blanket, motif)
			o.sew(w, w.several(2+w.IntN(4), pick(w, lineKinds...), pick(w, tackKinds...), cover))
		})
	}
	for range 8 {
		s.add(FamilySeveralPieces, "partly under the next", false, func(w *way) {
			place, tack := pick(w, single, double, bean), pick(w, single, double, bean, zigzag)
			under, over := w.newPiece(wayShapes[0], place, tack, satin), w.newPiece(wayShapes[8], place, tack, satin)
			for _, k := range []*piece{under, over} {
				k.size, k.width, k.inset, k.coverInset = w.between(45, 80), 4, 0.5, 0.25
				k.tackWidth = min(k.tackWidth, 2)
			}
			over.at = xy(0.36*(under.size+over.size), 0.1*over.size)
			w.placeStop(under)
			w.tackStop(under)
			w.placeStop(over)
			w.tackStop(over)
			w.coverStop(under, over)
			w.lateTrims()
		})
	}
	for range 6 {
		s.add(FamilySeveralPieces, "one on another", false, func(w *way) {
			place, tack := pick(w, single, double, bean), pick(w, single, double, bean, zigzag, blanket)
			below, above := w.newPiece(wayShapes[0], place, tack, satin), w.newPiece(wayShapes[3], place, tack, satin)
			for _, k := range []*piece{below, above} {
				k.width, k.inset, k.coverInset = 4, 0.5, 0.25
				k.tackWidth = min(k.tackWidth, 2)
			}
			above.size = w.between(30, 50)
			below.size = 2.2*above.size + 10
			w.sew(below)
			w.sew(above)
		})
	}
	for i := range 6 {
		s.add(FamilySeveralPieces, "with decoration between", false, func(w *way) {
			k := w.newPiece(wayShapes[[]int{0, 4, 8}[i%3]], pick(w, single, bean), pick(w, double, bean, zigzag, blanket), satin)
			k.size, k.width, k.inset, k.coverInset = w.between(50, 90), 4, 0.5, 0.2
			k.tackWidth = min(k.tackWidth, 2)
			w.placeStop(k)
			w.tackStop(k)
			w.stop(decoration, stitching)
			switch i % 2 {
			case 0:
				w.Fill(w.path(leaf(0, 0, 0.3*k.size, 0.14*k.size)), 0.4, 3.5, w.angle(0.6)).TieOff()
			case 1:
				w.triple(wave(-0.2*k.size, 0, 0.4*k.size, 3, 2))
			}
			w.coverStop(k)
			w.lateTrims()
		})
	}
}
