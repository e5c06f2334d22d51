package truth

import (
	"math"
	"slices"
)

// slips are designs as less careful hands make them, sound or not, and ornaments that
// repeat a figure within itself. They come last, so that the numbers of the others
// stay as they are.
func (s *waySet) slips() {
	for i := range 6 {
		s.add(FamilyOnePiece, "tack-down led in from the middle", false, func(w *way) {
			k := w.sturdy(i, single, pick(w, single, double, bean, zigzag))
			w.placeStop(k)
			w.heldFrom(k, func() { w.Run(w.path(line(0, 0, 3, 1)), 2.5) })
			w.coverStop(k)
			w.sound()
		})
		s.add(FamilyOnePiece, "cloth held across before its tack-down", false, func(w *way) {
			k := w.sturdy(i, single, pick(w, single, double, bean, zigzag))
			w.placeStop(k)
			w.heldFrom(k, func() {
				r := 0.25 * k.size
				w.Run(w.path(line(-r, -r, r, r)), 3).TieOff().Trim()
				w.Run(w.path(line(-r, r, r, -r)), 3).TieOff()
				if i%2 == 0 {
					w.Trim()
				}
			})
			w.coverStop(k)
			w.sound()
		})
		s.add(FamilySeveralPieces, "joined by travel, no thread cut", false, func(w *way) {
			ks := w.row(3, i)
			w.sewJoined(ks...)
			w.sound()
		})
		s.add(FamilyFlawed, "tack-down moved aside", false, func(w *way) {
			k := w.sturdy(i, single, pick(w, single, double, bean))
			w.placeStop(k)
			k.at = xy(w.between(2.4, 3.2)*float64(1-2*(i%2)), 0)
			w.tackStop(k)
			w.out.Wrong = append(w.out.Wrong, Flaw{FlawAstray, []int{w.here() - 1, w.here(), w.here() + 1}})
			w.out.Verdict = Unsound
			w.coverStop(k)
		})
		s.add(FamilyFlawed, "no tack-down on one of three", false, func(w *way) {
			ks := w.row(3, i)
			ks[i%3].tack = preCut
			for n, k := range ks {
				w.sew(k)
				if n == i%3 {
					w.out.Wrong = append(w.out.Wrong, Flaw{FlawNoTack, []int{w.here() - 1, w.here()}})
				}
			}
			w.out.Verdict = Unsound
		})
	}
	for i := range 6 {
		s.add(FamilyFlawed, "every pause lost", false, func(w *way) {
			ks := w.row(1+i%3, i)
			w.stop(stitching, placement, tackDown, cover)
			for n, k := range ks {
				if n > 0 {
					w.Trim()
				}
				w.sewPlace(k)
				w.Trim()
				w.sewTack(k)
				w.Trim()
				w.sewCover(k)
			}
			w.missing(Lay, AppliqueCloth)
			w.out.Pieces = -1
		})
		s.add(FamilyFlawed, "a tack-down that leaves a side open", false, func(w *way) {
			k := w.sturdy(0, single, double)
			w.placeStop(k)
			w.stop(tackDown)
			w.lay(AppliqueCloth)
			p := w.path(k.lines(k.inset)[0])
			p = p[:len(p)*(80+3*i)/100]
			w.TieIn(p[0], xy(p[1].X-p[0].X, p[1].Y-p[0].Y))
			w.Run(p, 2.2)
			if i%2 == 0 {
				w.Run(p.Reverse(), 2.2)
			}
			w.TieOff()
			w.pieces++
			w.trimAfterTack(k, w.here()+1)
			w.out.Wrong = append(w.out.Wrong, Flaw{FlawOpen, []int{w.here() - 1, w.here()}})
			w.out.Verdict = Unsound
			w.coverStop(k)
		})
	}
	for _, line := range []string{single, double, bean} {
		for _, inner := range []string{single, double, bean} {
			s.add(FamilyNoApplique, "figures in figures, in two colours", false, func(w *way) { w.figures(line, inner) })
		}
	}
}

// heldFrom is the stop that tacks a piece down after something that leads to it.
func (w *way) heldFrom(k *piece, lead func()) {
	w.stop(tackDown)
	w.lay(AppliqueCloth)
	lead()
	w.sewTack(k)
	w.trimAfterTack(k, w.here()+1)
}

// row are sturdy pieces side by side, sewn alike.
func (w *way) row(n, i int) []*piece {
	tack := pick(w, single, double, bean, zigzag)
	var ks []*piece
	for j := range n {
		k := w.sturdy(i+j, single, tack)
		k.size, k.tackPitch = min(k.size, 50), min(k.tackPitch, 3) // flatter zigzags are seldom sewn
		k.at = xy(62*float64(j), 4*float64(j%2))
		ks = append(ks, k)
	}
	return ks
}

// figures are petals round a middle, and in another colour smaller ones inside them.
func (w *way) figures(outer, inner string) {
	n, r := pick(w, 10, 12), w.between(11, 15)
	narrow := w.between(4.5, 6)
	ring := func(kind string, less float64) {
		w.plain()
		for i := range n {
			if i > 0 {
				w.Trim()
			}
			a := 2 * math.Pi * float64(i) / float64(n)
			sin, cos := math.Sincos(a)
			p := circle(0, 0, 1)
			for j, q := range p {
				x, y := 2*r+(r-less)*q.X, (narrow-less)*q.Y
				p[j] = xy(x*cos-y*sin, x*sin+y*cos)
			}
			w.sewLine(kind, slices.Clip(p), 0, 0)
		}
	}
	ring(outer, 0)
	ring(inner, w.between(1.8, 2.6))
	w.plain()
	w.Bean(w.path(circle(0, 0, 5)), 2, 3).TieOff()
}
