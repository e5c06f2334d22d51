package truth

// flaws are designs in which a pause is missing, a cover is, or the order cannot
// work.
func (s *waySet) flaws() {
	for i := range 12 {
		s.add(FamilyFlawed, "placement line and tack-down in one stop", false, func(w *way) {
			k := w.sturdy(i, pick(w, lineKinds[:4]...), pick(w, double, bean, single, zigzag, blanket))
			w.stop(placement, tackDown)
			w.hand(Hand{Kind: Lay, What: AppliqueCloth, From: w.here(), To: w.here(), May: true})
			w.missing(Lay, AppliqueCloth)
			w.sewPlace(k)
			w.Trim()
			w.sewTack(k)
			w.trims(AppliqueCloth, w.here(), w.here()+1)
			w.coverStop(k)
		})
		s.add(FamilyFlawed, "tack-down and cover in one stop", false, func(w *way) {
			k := w.sturdy(i, pick(w, lineKinds[:4]...), pick(w, double, bean, single, zigzag, blanket))
			w.placeStop(k)
			w.stop(tackDown, cover)
			w.lay(AppliqueCloth)
			w.missing(Trim, AppliqueCloth)
			w.hand(Hand{Kind: Trim, What: AppliqueCloth, From: w.here(), To: w.here() + 1, May: true})
			w.sewTack(k)
			w.Trim()
			w.sewCover(k)
		})
	}
	for i := range 6 {
		s.add(FamilyFlawed, "second piece's line and tack-down in one stop", false, func(w *way) {
			a, b := w.sturdy(i, single, double), w.sturdy(i+1, single, pick(w, double, bean, zigzag))
			b.at = xy(a.size/2+b.size/2+15, 0)
			w.sew(a)
			w.stop(placement, tackDown)
			w.hand(Hand{Kind: Lay, What: AppliqueCloth, From: w.here(), To: w.here(), May: true})
			w.missing(Lay, AppliqueCloth)
			w.sewPlace(b)
			w.Trim()
			w.sewTack(b)
			w.trims(AppliqueCloth, w.here(), w.here()+1)
			w.coverStop(b)
		})
		s.add(FamilyFlawed, "no cover on the second piece", false, func(w *way) {
			a, b := w.sturdy(i, single, double), w.sturdy(i+1, single, pick(w, double, bean, zigzag))
			b.at = xy(a.size/2+b.size/2+15, 0)
			w.placeStop(a, b)
			w.tackStop(a, b)
			w.out.Wrong = append(w.out.Wrong, Flaw{FlawNoCover, []int{w.here() - 1, w.here()}})
			w.out.Verdict = Unsound
			w.coverStop(a)
		})
		s.add(FamilyFlawed, "the cover before the tack-down", false, func(w *way) {
			k := w.sturdy(i, single, pick(w, double, bean, zigzag))
			w.placeStop(k)
			w.coverStop(k)
			w.hand(Hand{Kind: Lay, What: AppliqueCloth, From: w.here(), To: w.here() + 1, May: true})
			w.stop(tackDown, edgeRun)
			w.sewTack(k)
			w.hand(Hand{Kind: Trim, What: AppliqueCloth, From: w.here(), To: w.here() + 1, May: true})
			w.out.Wrong = append(w.out.Wrong, Flaw{FlawWrongOrder, []int{w.here() - 1, w.here()}})
			w.out.Verdict = Unsound
		})
	}
	s.unpaused()
}

// sturdy is a piece about which nothing but what is planted is wrong.
func (w *way) sturdy(i int, place, tack string) *piece {
	k := w.newPiece(wayShapes[[]int{0, 1, 4, 8}[i%4]], place, tack, satin)
	k.size, k.width, k.pitch = w.between(45, 80), 4.5, 0.4
	k.inset, k.coverInset, k.tackWidth = 0.5, 0, min(k.tackWidth, 1.5)
	return k
}

// sound says that nothing but notes may be told of a design, unless the file
// says no colours: then a pause where the thread stays may be told.
func (w *way) sound() {
	if w.colours == 1 {
		w.out.Verdict = Sound
	}
}

// unpaused are whole blocks that lack a pause for the cloth they are made on, for
// batting or for backing.
func (s *waySet) unpaused() {
	for i := range 6 {
		s.add(FamilyFlawed, "no pause for the block cloth", true, func(w *way) {
			b := w.newGround()
			w.stop(outline, holdDown)
			w.hand(Hand{Kind: Lay, What: BlockCloth, From: w.here(), To: w.here(), May: true})
			w.missing(Lay, BlockCloth)
			w.single(b.at(0))
			w.Trim()
			w.single(b.at(-1))
			w.sew(w.inBlock(b, i))
			w.battingLast(b)
		})
		s.add(FamilyFlawed, "no pause for the backing", true, func(w *way) {
			b := w.newGround()
			w.ground(b)
			w.sew(w.inBlock(b, i))
			w.stop(batting, backing)
			w.lay(Batting)
			w.hand(Hand{Kind: Lay, What: Backing, From: w.here(), To: w.here() + 1, May: true})
			w.hand(Hand{Kind: Turn, From: w.here(), To: w.here() + 1, May: true})
			w.hand(Hand{Kind: Trim, What: Batting, From: w.here(), To: w.here() + 1, May: true})
			w.missing(Lay, Backing)
			w.single(b.at(-1.5))
			w.Trim()
			w.single(b.at(-2))
			w.quilted(b)
		})
		s.add(FamilyFlawed, "no pause for the batting", true, func(w *way) {
			// Batting first: its line and its hold-down run on.
			b := w.newGround()
			w.stop(outline, batting)
			w.hand(Hand{Kind: Lay, What: Batting, From: w.here(), To: w.here(), May: true})
			w.missing(Lay, Batting)
			w.single(b.at(0))
			w.Trim()
			w.single(b.at(0.5))
			w.hand(Hand{Kind: Trim, What: Batting, From: w.here() + 1, To: w.here() + 1, May: true})
			w.stop(holdDown)
			w.lay(BlockCloth)
			w.single(b.at(0))
			w.sew(w.inBlock(b, i))
		})
	}
}
