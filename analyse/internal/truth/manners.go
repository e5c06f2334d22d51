package truth

import (
	"math"

	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// Manners are designs as digitisers differ in making them where the pattern is the same:
// in how often a line is gone round, where it is drawn, what it is sewn with. Their numbers
// are drawn from the seed.
func Manners(seed uint64) []Way {
	s := &waySet{names: map[string]int{}, seed: seed}
	s.mannersOfTacking()
	s.slipsOfPlace()
	s.lostStops()
	s.mannersOfLines()
	s.rawEdges()
	s.mannersOfBlocks()
	s.closeZigzags()
	return s.out
}

// mannersOfTacking are pieces whose tack-down is more than a line.
func (s *waySet) mannersOfTacking() {
	for i := range 8 {
		s.add(FamilySeveralPieces, "tack-downs in two rounds", false, func(w *way) {
			ks := w.row(1+i%3, i)
			for _, k := range ks {
				k.tack = single
				w.placeStop(k)
				w.tackStop(k)
				w.Trim()
				// The second round lies a little inside the first, or is a zigzag over it.
				if i%2 == 0 {
					w.sewLine(single, k.lines(k.inset + w.between(0.4, 1.2))[0], 0, 0)
				} else {
					w.sewLine(zigzag, k.lines(k.inset + 0.3)[0], 2, 2)
				}
				w.stop(cover)
				p := w.path(k.lines(k.coverInset)[0])
				w.Run(p, 2.5).Satin(p, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
			}
		})
		s.add(FamilySeveralPieces, "tack-downs in two rounds, stop by stop", false, func(w *way) {
			ks := w.row(2+i%2, i)
			w.placeStop(ks...)
			w.stop(tackDown)
			w.lay(AppliqueCloth)
			for _, k := range ks {
				w.sewLine(single, k.lines(k.inset)[0], 0, 0)
				w.sewLine(zigzag, k.lines(k.inset + 0.3)[0], 2, 2)
				w.Trim()
				w.pieces++
			}
			w.trims(AppliqueCloth, w.here(), w.here()+1)
			w.stop(cover)
			for _, k := range ks {
				p := w.path(k.lines(k.coverInset)[0])
				w.Run(p, 2.5).Satin(p, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Trim()
			}
		})
	}
}

// slipsOfPlace are pieces whose stops do not lie where they should, and figures that lie so
// by intent.
func (s *waySet) slipsOfPlace() {
	for i := range 8 {
		s.add(FamilyFlawed, "tack-down and cover moved aside together", false, func(w *way) {
			ks := w.row(1+i%3, i)
			for n, k := range ks {
				w.placeStop(k)
				if n == 0 {
					far := w.between(5.5, 8)
					k.at.X, k.at.Y = k.at.X+far*math.Cos(float64(i)), k.at.Y+far*math.Sin(float64(i))
				}
				w.tackStop(k)
				if n == 0 {
					w.out.Wrong = append(w.out.Wrong, Flaw{FlawAstray, []int{w.here() - 1, w.here(), w.here() + 1}})
				}
				w.coverStop(k)
			}
			w.out.Verdict = Unsound
		})
		s.add(FamilyFlawed, "tack-down away from under its cover", false, func(w *way) {
			k := w.sturdy([]int{0, 1, 8, 4}[i%4], single, pick(w, single, double, bean))
			k.size, k.width, k.coverInset = w.between(55, 80), 4, 0
			w.placeStop(k)
			in, at := k.inset, k.at
			if i%2 == 0 {
				k.inset = -w.between(2.8, 6)
			} else {
				k.at = xy(at.X+w.between(4.5, 7), at.Y)
			}
			w.tackStop(k)
			k.inset, k.at = in, at
			flaw := FlawAstray
			if i%2 == 0 {
				flaw = FlawFarInside // its raw edge lies beyond the cover as well
			}
			w.out.Wrong = append(w.out.Wrong, Flaw{flaw, []int{w.here() - 1, w.here(), w.here() + 1}})
			w.out.Verdict = Unsound
			w.coverStop(k)
		})
		s.add(FamilyNoApplique, "rings that overlap, in a line and in satin", false, func(w *way) {
			r, far := w.between(18, 30), w.between(6, 11)
			w.plain()
			w.sewLine(pick(w, single, double, bean), circle(0, 0, r), 0, 0)
			w.plain()
			w.sewLine(pick(w, single, double, bean), circle(far, far/2, r), 0, 0)
			w.plain()
			p := w.path(circle(far/2, far, r))
			w.Run(p, 2.5).Satin(p, st.SatinAlong{Width: 3, Pitch: 0.4}).TieOff()
		})
	}
}

// lostStops are pieces made alike, one of which lacks a stop.
func (s *waySet) lostStops() {
	for i := range 6 {
		s.add(FamilyFlawed, "one cover lost of three, over blanket-stitched tack-downs", false, func(w *way) { w.loseCover(i, single, blanket) })
		s.add(FamilyFlawed, "one cover lost of three, over heavy lines", false, func(w *way) { w.loseCover(i, bean, double) })
		s.add(FamilyFlawed, "one tack-down lost, all lines in one stop", false, func(w *way) {
			ks := w.row(3, i)
			w.placeStop(ks...)
			for n, k := range ks {
				if n != i%3 {
					w.tackStop(k)
				}
				w.stop(cover)
				if n == i%3 {
					w.lay(AppliqueCloth)
					w.pieces++
					w.out.Wrong = append(w.out.Wrong, Flaw{FlawNoTack, []int{w.here() - 1, w.here()}})
				}
				w.sewCover(k)
			}
			w.out.Verdict = Unsound
		})
		s.add(FamilyFlawed, "one tack-down lost, under blanket stitches", false, func(w *way) {
			ks := w.row(3, i)
			for n, k := range ks {
				k.cover, k.width, k.pitch, k.tack = blanket, 2.6, 3, pick(w, single, double)
				w.placeStop(k)
				if n != i%3 {
					w.tackStop(k)
					w.coverStop(k)
					continue
				}
				w.stop(append(finish(blanket), tackDown)...)
				w.sewCover(k)
				w.lay(AppliqueCloth)
				w.pieces++
				w.hand(Hand{Kind: Trim, What: AppliqueCloth, From: w.here() + 1, To: w.here() + 1, May: true})
				w.out.Wrong = append(w.out.Wrong, Flaw{FlawNoTack, []int{w.here() - 1, w.here()}})
			}
			w.out.Verdict = Unsound
		})
		s.add(FamilyFlawed, "one tack-down lost, covered last", false, func(w *way) {
			ks := w.row(3, i)
			for _, k := range ks {
				k.cover = []string{satin, blanket}[i%2]
				k.width, k.pitch = []float64{4, 2.6}[i%2], []float64{0.4, 3}[i%2]
			}
			w.placeStop(ks[0])
			for _, k := range ks[1:] {
				w.placeStop(k)
				w.tackStop(k)
			}
			w.coverStop(ks...)
			w.lay(AppliqueCloth)
			w.pieces++
			w.out.Wrong = append(w.out.Wrong, Flaw{FlawNoTack, []int{w.here() - 1, w.here()}})
			w.out.Verdict = Unsound
			w.lateTrims()
		})
	}
}

// loseCover is a row of three of which one has no cover.
func (w *way) loseCover(i int, place, tack string) {
	ks := w.row(3, i)
	for n, k := range ks {
		k.place, k.tack, k.tackWidth, k.tackPitch = place, tack, 1.8, 2.5
		w.placeStop(k)
		w.tackStop(k)
		if n != i%3 {
			w.coverStop(k)
			continue
		}
		w.out.Wrong = append(w.out.Wrong, Flaw{FlawNoCover, []int{w.here() - 1, w.here()}})
	}
	w.out.Verdict = Unsound
}

// mannersOfLines are pieces whose lines are sewn otherwise than most.
func (s *waySet) mannersOfLines() {
	for i := range 6 {
		s.add(FamilySeveralPieces, "placement lines sewn forward two and back one", false, func(w *way) {
			for n, k := range w.row(1+i%3, i+1) {
				k.shape = wayShapes[[]int{1, 2, 3, 0}[(n+i)%4]]
				w.stop(placement)
				w.forwardBack(k.lines(0)[0], w.between(1.2, 1.8))
				w.tackStop(k)
				w.coverStop(k)
			}
		})
	}
}

// forwardBack sews a closed line forward by two steps and back by one, again and again.
func (w *way) forwardBack(p st.Path, step float64) {
	p = w.path(p)
	w.TieIn(p[0], xy(p[1].X-p[0].X, p[1].Y-p[0].Y))
	n := int(p.Length() / step)
	for k := range n - 1 {
		for _, at := range []int{k + 2, k + 1} {
			q, _ := p.At(p.Length() * float64(at) / float64(n))
			w.StitchTo(q)
		}
	}
	w.StitchTo(p[0]).TieOff()
}

// rawEdges are pieces with a raw edge that a heavy line inside it finishes, over tack-downs
// as near to the line as under satin; and drawings gone over more than once.
func (s *waySet) rawEdges() {
	for i := range 8 {
		s.add(FamilySeveralPieces, "raw edges finished by a bean line", false, func(w *way) {
			ks := w.row(1+i%3, i)
			place, tack := pick(w, single, double), pick(w, single, double, bean, zigzag)
			for _, k := range ks {
				k.tackWidth, k.tackPitch = 2, 2.2
				k.place, k.tack, k.cover, k.inset = place, tack, rawEdge, w.between(0.4, 0.8)
			}
			beans := func(ks ...*piece) {
				w.stop(edgeRun, decoration, cover)
				for n, k := range ks {
					if n > 0 {
						w.Trim()
					}
					w.sewLine(bean, k.lines(w.between(1.2, 2))[0], 0, 0)
				}
			}
			if i%2 == 0 {
				for _, k := range ks {
					w.placeStop(k)
					w.tackStop(k)
					beans(k)
				}
				return
			}
			w.placeStop(ks...)
			w.tackStop(ks...)
			beans(ks...)
		})
		s.add(FamilySeveralPieces, "raw edges over a run and a zigzag", false, func(w *way) {
			ks := w.row(1+i%3, i)
			place := pick(w, single, double)
			for _, k := range ks {
				k.place, k.tack, k.cover, k.inset = place, single, rawEdge, w.between(0.4, 0.8)
			}
			w.placeStop(ks...)
			w.stop(tackDown)
			w.lay(AppliqueCloth)
			for _, k := range ks {
				w.sewLine(single, k.lines(k.inset)[0], 0, 0)
				w.sewLine(zigzag, k.lines(k.inset)[0], 2, 2.1)
				w.Trim()
				w.pieces++
				w.trimAfterTack(k, w.here()+1)
			}
			w.stop(edgeRun, decoration, cover)
			for _, k := range ks {
				w.sewLine(bean, k.lines(w.between(1.2, 1.6))[0], 0, 0)
				w.Trim()
			}
		})
		s.add(FamilyNoApplique, "an outline gone over in three colours", false, func(w *way) {
			p := w.closedShape()
			w.plain()
			w.sewLine(pick(w, single, double), p, 0, 0)
			w.plain()
			w.sewLine(pick(w, single, double), p.Map(func(q st.Point) st.Point { return xy(q.X+0.4, q.Y+0.2) }), 0, 0)
			w.plain()
			w.sewLine(bean, p, 0, 0)
		})
	}
}

// closeZigzags are pieces tacked down with a zigzag so close that it looks like satin, as a
// design made smaller has it.
func (s *waySet) closeZigzags() {
	for i := range 6 {
		s.add(FamilySeveralPieces, "close zigzags under a blanket stitch", false, func(w *way) {
			for _, k := range w.row(1+i%3, i) {
				k.tack, k.tackWidth, k.tackPitch, k.inset = zigzag, w.between(1.8, 2.1), w.between(0.92, 1), 0.4
				k.cover, k.width, k.pitch, k.coverInset = blanket, w.between(2.4, 3), w.between(2.4, 3), 0
				w.sew(k)
			}
		})
		s.add(FamilySeveralPieces, "close zigzags, and a bean line inside", false, func(w *way) {
			for _, k := range w.row(1+i%3, i) {
				k.tack, k.tackWidth, k.tackPitch, k.inset, k.cover = zigzag, w.between(1.8, 2.1), w.between(0.92, 1), 0.5, rawEdge
				w.placeStop(k)
				w.stop(tackDown, cover) // or cloth cut beforehand under a narrow satin
				w.lay(AppliqueCloth)
				w.sewTack(k)
				w.trimAfterTack(k, w.here()+1)
				w.stop(edgeRun, decoration)
				w.sewLine(bean, k.lines(w.between(1.3, 1.8))[0], 0, 0)
			}
		})
	}
}

// mannersOfBlocks are blocks whose pieces and borders are not as in most.
func (s *waySet) mannersOfBlocks() {
	for i := range 6 {
		s.add(FamilyBlock, "a piece that reaches into the seam", true, func(w *way) {
			b := w.newGround()
			w.ground(b)
			k := w.plainPiece([]int{0, 1, 8}[i%3], 0.5*b.side)
			k.shape = wayShapes[0]
			k.at = xy(b.side/2-k.size/2+w.between(2, 5), 0)
			w.sew(k)
			w.battingLast(b)
			w.quilted(b)
		})
	}
}
