package truth

import (
	"math"

	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// Compounds are designs that put together what Ways has apart: pieces within pieces,
// mirrored corners, the smallest pieces, letters on a piece, quilting close round it,
// lines that lie far off one another, and pauses lost between. Their numbers are drawn
// from the seed. All is right here as it is digitised, not as it is analysed.
func Compounds(seed uint64) []Way {
	s := &waySet{names: map[string]int{}, seed: seed}
	s.compoundPieces()
	s.compoundBlocks()
	s.compoundFlaws()
	s.compoundNegatives()
	return s.out
}

// plainPiece is a piece sewn as most are, with nothing about it to tell.
func (w *way) plainPiece(i int, size float64) *piece {
	k := w.sturdy(i, single, pick(w, single, double, bean))
	k.size, k.width = size, 4
	return k
}

// tinyPiece is a piece of 8 to 15 mm.
func (w *way) tinyPiece(i int) *piece {
	k := w.newPiece(wayShapes[[]int{0, 1}[i%2]], single, pick(w, single, double), satin)
	k.size, k.width, k.pitch, k.inset, k.coverInset, k.rough = w.between(11, 15), pick(w, 2, 2.5), 0.4, 0.3, 0, 0
	if k.shape.name == "square" {
		k.size /= 0.8
	}
	return k
}

// compoundPieces are single pieces and several without a block.
func (s *waySet) compoundPieces() {
	for i := range 6 {
		s.add(FamilySeveralPieces, "three, each on the one before", false, func(w *way) {
			for n, size := range []float64{110, 70, 32} {
				k := w.plainPiece([]int{0, 1, 3}[(i+n)%3], size)
				w.sew(k)
			}
			w.sound()
		})
		s.add(FamilySeveralPieces, "three in one another, laid one after another, covered last", false, func(w *way) {
			var ks []*piece
			for n, size := range []float64{110, 70, 32} {
				k := w.plainPiece([]int{0, 1}[(i+n)%2], size)
				w.placeStop(k)
				w.tackStop(k)
				ks = append(ks, k)
			}
			w.coverStop(ks...)
			w.lateTrims()
		})
		s.add(FamilySeveralPieces, "the smallest in a row", false, func(w *way) {
			var ks []*piece
			for n := range 2 + i%4 {
				k := w.tinyPiece(i + n)
				k.at = xy(24*float64(n), 3*float64(n%2))
				ks = append(ks, k)
			}
			orders[i%2].sew(w, ks)
		})
		s.add(FamilySeveralPieces, "corners mirrored in the same stops", true, func(w *way) {
			tack, d := pick(w, single, double, zigzag), w.between(38, 60)
			var ks []*piece
			for n := range 4 {
				k := w.newPiece(cornerShape(n), single, tack, satin)
				k.size, k.width, k.pitch, k.inset, k.coverInset, k.rough = w.between(34, 36), 4, 0.4, 0.5, 0, 0
				k.tackWidth, k.tackPitch = 1.5, 2
				k.at = xy(d*float64(1-2*(n%2)), d*float64(1-2*(n/2)))
				ks = append(ks, k)
			}
			orders[1].sew(w, ks)
			w.sound()
		})
		s.add(FamilySeveralPieces, "flat zigzags joined by travel", false, func(w *way) {
			var ks []*piece
			for n := range 3 {
				k := w.sturdy(i+n, single, zigzag)
				k.size, k.tackPitch, k.tackWidth = w.between(45, 50), w.between(3, 5), w.between(1, 2)
				k.at = xy(62*float64(n), 4*float64(n%2))
				ks = append(ks, k)
			}
			w.sewJoined(ks...)
		})
		s.add(FamilySeveralPieces, "a sliver in sight beside the piece over it", false, func(w *way) {
			under := w.plainPiece(0, w.between(38, 46))
			over := w.plainPiece(0, w.between(85, 95))
			over.tack = under.tack
			r, big := under.size/2, over.size/2
			// So much of its edge, to either side of its tip, does the piece over it leave in sight.
			half := w.between(0.45, 0.85)
			x, y := r*math.Cos(half), r*math.Sin(half)
			over.at = xy(x-math.Sqrt(big*big-y*y), 0)
			w.placeStop(under)
			w.tackStop(under)
			arc := func() {
				w.Satin(w.path(st.Arc(xy(0, 0), r, -half-0.06, half+0.06)), st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
			}
			if i%2 == 0 {
				w.stop(cover)
				arc()
				w.sew(over)
			} else {
				w.placeStop(over)
				w.tackStop(over)
				w.stop(cover)
				arc()
				w.Trim()
				w.sewCover(over)
				w.lateTrims()
			}
			w.sound()
		})
		s.add(FamilySeveralPieces, "a dot that its cover fills", false, func(w *way) {
			k, dot := w.plainPiece(0, 50), w.tinyPiece(0)
			dot.size = w.between(8, 12)
			dot.at = xy(45, 0)
			w.placeStop(k, dot)
			w.tackStop(k, dot)
			w.stop(cover)
			w.sewCover(k)
			w.Trim()
			w.fillOf(circle(45, 0, dot.size/2+1.2))
			w.sound()
		})
		s.add(FamilyOnePiece, "a figured finish round a large piece", false, func(w *way) {
			k := w.newPiece(wayShapes[[]int{0, 4, 8}[i%3]], single, pick(w, single, double), motif)
			k.size, k.seed, k.inset, k.coverInset, k.rough = w.between(140, 220), i, pick(w, 0.5, 0.8), 0, 0
			w.sew(k)
		})
		s.add(FamilyOnePiece, "letters on the piece", false, func(w *way) {
			k := w.plainPiece([]int{0, 1}[i%2], w.between(70, 90))
			w.placeStop(k)
			w.tackStop(k)
			text := func() {
				w.stop(decoration, stitching)
				w.letters([]string{"HOT", "TOE", "LE", "SHE"}[i%4], -0.22*k.size, -6, 12)
			}
			if i%2 == 0 {
				text()
				w.coverStop(k)
				w.lateTrims()
				w.sound()
				return
			}
			w.coverStop(k)
			text()
			w.sound()
		})
		s.add(FamilyOnePiece, "a line drawn inside the finished piece", false, func(w *way) {
			k := w.plainPiece([]int{0, 4, 8}[i%3], w.between(60, 90))
			w.sew(k)
			w.stop(plainRoles...)
			for _, p := range k.lines(w.between(4.5, 7)) {
				w.sewLine(pick(w, single, double, bean), p, 0, 0)
			}
			w.sound()
		})
	}
}

// cornerShape is a quarter of a disc that fills one of four corners.
func cornerShape(n int) wayShape {
	return wayShape{"corner", 30, 0.5, false, true, func(s float64) st.Path {
		x, y := float64(1-2*(n%2)), float64(1-2*(n/2))
		p := st.Path{xy(x*s/2, y*s/2), xy(-x*s/2, y*s/2), xy(-x*0.35*s, -y*0.1*s), xy(-x*0.05*s, -y*0.4*s), xy(x*s/2, -y*s/2), xy(x*s/2, y*s/2)}
		if x*y < 0 {
			p = p.Reverse()
		}
		return p
	}, nil}
}

// compoundBlocks are whole blocks.
func (s *waySet) compoundBlocks() {
	for i := range 12 {
		s.add(FamilyBlock, "one raw edge on a block", true, func(w *way) {
			b := w.newGround()
			w.ground(b)
			k := w.newPiece(wayShapes[[]int{0, 1, 4, 8, 2}[i%5]], pick(w, single, single, double), pick(w, single, double, triple, bean), rawEdge)
			k.inset, k.rough = w.between(2.5, 3.6), 0
			k.size = max(k.shape.least, w.between(0.3, 0.6)*b.side)
			k.fit()
			w.sew(k)
			if i%2 == 1 {
				w.battingLast(b)
				w.quilted(b)
			}
		})
	}
	for i := range 6 {
		s.add(FamilyBlock, "redwork on a block", true, func(w *way) {
			b := w.newGround()
			w.ground(b)
			w.stop(decoration, stitching)
			w.Bean(w.path(blob(0, 0, 0.2*b.side)), 2.5, 3).TieOff().Trim()
			w.Bean(w.path(wave(-0.2*b.side, 0, 0.4*b.side, 4, 2)), 2.5, 3).TieOff()
			if i%2 == 0 {
				w.stop(decoration, stitching)
				w.fillOf(circle(0, 0, 8))
			}
			w.battingLast(b)
			if i%3 > 0 {
				w.quilted(b)
			}
		})
		s.add(FamilyBlock, "quilted close round the piece", true, func(w *way) {
			b := w.newGround()
			w.ground(b)
			k := w.inBlock(b, i)
			w.sew(k)
			w.battingLast(b)
			w.stop(quilting, edgeRun)
			for n := range 3 {
				for _, p := range k.lines(-4 - w.between(3, 5)*float64(n)) {
					w.single(p)
					w.Trim()
				}
			}
			w.hand(Hand{Kind: Trim, What: "", From: w.here() + 1, To: w.here() + 1, May: true})
		})
		s.add(FamilyBlock, "covers that cross", true, func(w *way) {
			b := w.newGround()
			w.ground(b)
			var ks []*piece
			for n := range 2 {
				k := w.sturdy(i+n, single, pick(w, single, double))
				k.size = 0.36 * b.side
				k.at = xy(0.14*b.side*float64(2*n-1), 0.05*b.side*float64(1-2*n))
				ks = append(ks, k)
			}
			w.sew(ks[0])
			w.sew(ks[1])
			w.sound()
		})
	}
}

// compoundFlaws are designs with a flaw each.
func (s *waySet) compoundFlaws() {
	for i := range 12 {
		s.add(FamilyFlawed, "tack-down far inside all round", false, func(w *way) {
			k := w.sturdy([]int{0, 1, 3, 2}[i%4], single, pick(w, single, double, bean))
			k.size, k.width, k.inset, k.coverInset = w.between(60, 90), 4, w.between(3.5, 5.5), 0
			w.placeStop(k)
			w.tackStop(k)
			w.out.Wrong = append(w.out.Wrong, Flaw{FlawFarInside, []int{w.here() - 1, w.here(), w.here() + 1}})
			w.out.Verdict = Unsound
			w.coverStop(k)
		})
		s.add(FamilyFlawed, "placement line and tack-down sewn on", false, func(w *way) {
			// No pause between, and the thread runs on from the one into the other.
			k := w.sturdy([]int{0, 1, 4, 8}[i%4], single, pick(w, single, double))
			k.inset = pick(w, 0, 0, 0.3, 0.6)
			w.stop(placement, tackDown)
			w.hand(Hand{Kind: Lay, What: AppliqueCloth, From: w.here(), To: w.here() + 1, May: true})
			w.hand(Hand{Kind: Trim, What: AppliqueCloth, From: w.here() + 1, To: w.here() + 1, May: true})
			w.sewPlace(k)
			w.sewTack(k)
			w.out.Wrong = append(w.out.Wrong, Flaw{FlawSewnOn, []int{w.here(), w.here() + 1}})
			w.out.Verdict = Unsound
			w.coverStop(k)
		})
		s.add(FamilyFlawed, "no tack-down, and an edge run under the satin", false, func(w *way) {
			ks := w.row(3, i)
			for n, k := range ks {
				k.shape, k.tack = wayShapes[1], pick(w, single, double)
				if n != 1 {
					w.sew(k)
					continue
				}
				w.placeStop(k)
				w.out.Wrong = append(w.out.Wrong, Flaw{FlawNoTack, []int{w.here(), w.here() + 1}})
				w.stop(cover)
				w.lay(AppliqueCloth)
				q := w.path(k.shape.outline(k.size).Map(func(v st.Point) st.Point { return xy(v.X+k.at.X, v.Y+k.at.Y) }))
				w.EdgeRun(q, k.width, 0.6, 2.5).Mitred(q, k.width, k.pitch).TieOff()
				w.pieces++
			}
			w.out.Verdict = Unsound
		})
		s.add(FamilyFlawed, "a tack-down that leaves a little open", false, func(w *way) {
			k := w.sturdy(0, single, single)
			w.placeStop(k)
			w.stop(tackDown)
			w.lay(AppliqueCloth)
			p := w.path(k.lines(k.inset)[0])
			open := w.between(5, 9)
			p = p.Sample(int(p.Length() / 0.5))
			p = p[:len(p)-int(open/0.5)]
			w.TieIn(p[0], xy(p[1].X-p[0].X, p[1].Y-p[0].Y))
			w.Run(p, 2.2).TieOff()
			w.pieces++
			w.trimAfterTack(k, w.here()+1)
			w.out.Wrong = append(w.out.Wrong, Flaw{FlawOpen, []int{w.here() - 1, w.here()}})
			w.out.Verdict = Unsound
			w.coverStop(k)
		})
		s.add(FamilyFlawed, "a small cover lost among others", false, func(w *way) {
			ks := w.row(3, i)
			for _, k := range ks {
				k.tack = pick(w, single, double)
			}
			ks[1].size = 45
			w.placeStop(ks...)
			w.tackStop(ks...)
			w.out.Wrong = append(w.out.Wrong, Flaw{FlawNoCover, []int{w.here() - 1, w.here()}})
			w.out.Verdict = Unsound
			w.coverStop(ks[0], ks[2])
		})
	}
}

// compoundNegatives have no applique.
func (s *waySet) compoundNegatives() {
	for i := range 12 {
		s.add(FamilyNoApplique, "satin ring over underlay in a stop before", false, func(w *way) {
			p := w.closedShape()
			w.plain()
			w.sewLine(single, p, 0, 0)
			w.sewLine(pick(w, single, double), inset(p, w.between(0.5, 1.2)), 0, 0)
			w.plain()
			w.fillOf(inset(p, 2))
			w.plain()
			w.bordering(p, 4)
		})
		s.add(FamilyNoApplique, "satin frame with lines inside, in three colours", false, func(w *way) {
			p := rect(0, 0, w.between(70, 120), w.between(50, 90))
			if i%2 == 1 {
				p = circle(0, 0, w.between(30, 50))
			}
			w.plain()
			w.letters([]string{"HOLE", "TOT"}[i/2%2], -18, -6, 12)
			w.plain()
			w.sewLine(pick(w, double, bean), inset(p, w.between(3.5, 6)), 0, 0)
			w.plain()
			w.EdgeRun(w.path(p), 4, 0.7, 2.5)
			w.bordering(p, 4)
		})
		s.add(FamilyNoApplique, "lines at a distance, in two colours", false, func(w *way) {
			// A heart or a star set out by so much is no such shape any more.
			shape, kind := wayShapes[[]int{0, 1, 4, 8}[i%4]], pick(w, single, double, bean)
			p := shape.outline(w.between(40, 110))
			w.plain()
			w.sewLine(kind, p, 0, 0)
			w.plain()
			w.sewLine(kind, inset(p, -w.between(2.5, 6)), 0, 0)
			w.plain()
			w.Bean(w.path(wave(-10, 0, 20, 2, 2)), 2, 3).TieOff()
		})
		s.add(FamilyNoApplique, "a line sewn three times over", false, func(w *way) {
			p := w.closedShape()
			w.plain()
			w.Rounds(w.path(p), 2.5, 3).TieOff()
			w.plain()
			if i%2 == 0 {
				w.fillOf(circle(0, 0, 6))
			} else {
				w.letters("HO", -6, -3, 6)
			}
			if i%3 == 0 {
				sin, cos := math.Sincos(0.3)
				w.leafAt(14*cos, 14*sin, 9)
			}
		})
	}
}
