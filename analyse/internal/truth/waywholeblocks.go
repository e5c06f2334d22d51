package truth

import (
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// groundPlan is the outline of a block.
type groundPlan struct {
	side float64
	path st.Path
}

// at is the outline drawn in by d mm.
func (b groundPlan) at(d float64) st.Path { return inset(b.path, d) }

// newGround makes up a block: mostly square, now and then round.
func (w *way) newGround() groundPlan {
	side := w.between(110, 230)
	if w.IntN(6) == 0 {
		return groundPlan{side, circle(0, 0, side/2)}
	}
	return groundPlan{side, rect(0, 0, side, side*pick(w, 1, 1, 1, 0.8))}
}

func (w *way) single(p st.Path) { w.sewLine(single, p, 0, 0) }

// inBlock makes a sturdy piece that lies within a block.
func (w *way) inBlock(b groundPlan, i int) *piece {
	k := w.sturdy(i, pick(w, lineKinds[:4]...), pick(w, double, bean, single, zigzag, blanket))
	k.size = w.between(0.3, 0.5) * b.side
	return k
}

// ground lays the block cloth.
func (w *way) ground(b groundPlan) {
	kind := pick(w, single, single, double, bean, zigzag)
	w.stop(outline)
	w.sewLine(kind, b.at(0), 2, 2.5)
	w.stop(holdDown)
	w.lay(BlockCloth)
	w.sewLine(kind, b.at(pick(w, -1, -0.5, 0, 0.5)), 2, 2.5)
}

// battingLast puts batting and backing to the underside and holds them.
func (w *way) battingLast(b groundPlan) {
	w.stop(batting)
	w.lay(Batting)
	w.hand(Hand{Kind: Turn, From: w.here(), To: w.here(), May: true})
	out := pick(w, -1.5, -1.5, -0.5, 3, 6)
	w.sewLine(pick(w, single, single, double, zigzag), b.at(out), 2.5, 3)
	if out > 0 && w.out.Verdict == Sound {
		w.out.Verdict = Open // meant so, or drawn in: the pattern says
	}
	w.trims(Batting, w.here(), w.here()+1)
	w.backingStop(b)
}

func (w *way) backingStop(b groundPlan) {
	w.stop(backing)
	w.lay(Backing)
	w.hand(Hand{Kind: Turn, From: w.here(), To: w.here()})
	w.sewLine(pick(w, single, single, double), b.at(-2), 0, 0)
	w.trimAtLast(Backing)
}

// trimAtLast allows what every block may be told at its end: to cut it to size.
func (w *way) trimAtLast(string) {
	w.hand(Hand{Kind: Trim, What: "", From: w.here() + 1, To: w.here() + 1, May: true})
}

// quilted sews quilting over everything.
func (w *way) quilted(b groundPlan) {
	w.stop(quilting)
	n := 3 + w.IntN(4)
	switch w.IntN(2) {
	case 0:
		for i := range n {
			y := b.side * 0.33 * (2*float64(i)/float64(n-1) - 1)
			w.Run(w.path(wave(-0.33*b.side, y, 0.66*b.side, 3, 4)), 2.5).TieOff().Trim()
		}
	case 1:
		for i := range n {
			w.Run(w.path(circle(0, 0, b.side*(0.29+0.018*float64(i)))), 2.5).TieOff().Trim()
		}
	}
	w.hand(Hand{Kind: Trim, What: "", From: w.here() + 1, To: w.here() + 1, May: true})
}

// blocks are whole blocks: batting last, batting first, and turned work.
func (s *waySet) blocks() {
	for i := range 24 {
		s.add(FamilyBlock, "batting last", true, func(w *way) {
			b := w.newGround()
			w.ground(b)
			w.piecesOn(b, i)
			w.sound()
			w.battingLast(b)
			if i%3 > 0 {
				w.quilted(b)
			}
		})
	}
	for i := range 12 {
		s.add(FamilyBlock, "no batting", true, func(w *way) {
			b := w.newGround()
			w.ground(b)
			w.piecesOn(b, i)
			w.sound()
		})
	}
	for i := range 16 {
		s.add(FamilyBlock, "batting first", true, func(w *way) {
			b := w.newGround()
			kind := pick(w, single, single, double, zigzag)
			w.stop(outline, batting)
			w.sewLine(single, b.at(0), 0, 0)
			w.stop(batting)
			w.lay(Batting)
			w.sewLine(kind, b.at(pick(w, 0, 0.5, 1)), 2, 2.5)
			w.trims(Batting, w.here(), w.here()+1)
			w.stop(holdDown)
			w.lay(BlockCloth)
			w.sewLine(single, b.at(pick(w, 0, -0.5)), 0, 0)
			w.piecesOn(b, i)
			if i%2 == 0 {
				w.quilted(b)
				w.stops[len(w.stops)-1].Roles = []string{quilting, decoration}
				w.out.Hands = w.out.Hands[:len(w.out.Hands)-1]
			}
			if i%4 < 3 {
				w.backingStop(b)
			}
			w.sound()
		})
	}
	for i := range 8 {
		s.add(FamilyBlock, "mug rug turned through a gap", true, func(w *way) {
			b := w.newGround()
			w.stop(outline, batting)
			w.single(b.at(0))
			w.stop(batting)
			w.lay(Batting)
			w.single(b.at(0.5))
			w.trims(Batting, w.here(), w.here()+1)
			w.stop(holdDown)
			w.lay(BlockCloth)
			w.single(b.at(0))
			w.sew(w.inBlock(b, i))
			w.sound()
			// The back lies face down on the front; the seam leaves a gap.
			w.stop(backing)
			w.lay(Backing)
			p := w.path(startAt(b.at(-0.3), 0.1))
			total := p.Length()
			gap := w.between(40, 60)
			open := p.Sample(int(total / 0.5))
			open = open[:int((total-gap)/0.5)]
			w.Run(open, 2.5)
			w.Run(open.Reverse(), 2.5).TieOff()
			w.hand(Hand{Kind: Trim, What: "", From: w.here() + 1, To: w.here() + 1, May: true})
			w.hand(Hand{Kind: Turn, From: w.here() + 1, To: w.here() + 1, May: true})
		})
	}
}

// piecesOn sews the pieces of a block, from one of them to four, some with edge
// runs and decoration.
func (w *way) piecesOn(b groundPlan, i int) {
	switch i % 4 {
	case 0:
		w.sew(w.inBlock(b, i))
	case 1:
		var ks []*piece
		place, tack := pick(w, lineKinds[:4]...), pick(w, double, bean, single, zigzag, blanket)
		for k := range 2 + w.IntN(3) {
			one := w.sturdy(i+k, place, tack)
			one.size = 0.32 * b.side
			one.at = xy(b.side*(0.2-0.4*float64(k%2)), b.side*0.19*(1-2*float64(k/2)))
			one.at.Y *= 0.8
			ks = append(ks, one)
		}
		orders[w.IntN(len(orders))].sew(w, ks)
	case 2:
		k := w.inBlock(b, i)
		w.sew(k)
		w.stop(edgeRun)
		for _, d := range []float64{-2.8, 2.8} {
			for _, p := range k.lines(d) {
				p = w.path(p)
				w.Bean(p, 2.5, 3).TieOff().Trim()
			}
		}
	case 3:
		k := w.inBlock(b, i)
		w.placeStop(k)
		w.tackStop(k)
		w.stop(decoration)
		w.Satin(w.path(line(-0.1*k.size, 0, 0.1*k.size, 0.05*k.size)), st.SatinAlong{Width: 3, Pitch: 0.4}).TieOff().Trim()
		w.Run(w.path(wave(-0.15*k.size, -0.1*k.size, 0.3*k.size, 2, 2)), 2).TieOff()
		w.coverStop(k)
		w.lateTrims()
	}
}

// badges have felt above and below and are cut before the satin of their edge.
func (s *waySet) badges() {
	for i := range 10 {
		s.add(FamilyBlock, "badge with felt on both sides", false, func(w *way) {
			k := w.newPiece(wayShapes[[]int{0, 3, 4, 8}[i%4]], single, pick(w, single, double), satin)
			k.size, k.width, k.pitch, k.inset, k.coverInset = w.between(50, 90), 4.5, 0.4, 0.5, 0
			w.stop(placement, outline)
			w.sewPlace(k)
			w.stop(tackDown, holdDown)
			w.hand(Hand{Kind: Lay, From: w.here(), To: w.here()}) // felt, whatever it is called
			w.sewTack(k)
			held := w.here()
			w.stop(decoration, stitching)
			if i%2 == 0 {
				w.letters("HOTEL", -0.3*k.size, -0.05*k.size, 0.12*k.size)
			} else {
				w.Fill(w.path(leaf(0, 0, 0.4*k.size, 0.2*k.size)), 0.4, 3.5, w.angle(0.6)).TieOff()
			}
			w.stop(backing)
			w.lay(Backing)
			w.hand(Hand{Kind: Turn, From: w.here(), To: w.here(), May: true})
			for _, p := range k.lines(0.8) {
				w.single(p)
			}
			w.hand(Hand{Kind: Trim, From: w.here() + 1, To: w.here() + 1})
			w.hand(Hand{Kind: Trim, From: held + 1, To: held + 1, May: true})
			w.stop(cover)
			w.sewCover(k)
			w.out.Pieces = -1
		})
	}
}
