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
