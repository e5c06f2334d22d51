package truth

import (
	"math"

	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// Beans are designs of several pieces whose lines of one stop are bean lines that no cut
// parts: the needle travels on from one to the next, in single stitches or in the same
// three as the lines themselves, and mostly sews a little past where a line closes. Some are
// drawings without applique that are sewn so.
func Beans(seed uint64) []Way {
	s := &waySet{names: map[string]int{}, seed: seed}
	for i := range 8 {
		s.add(FamilySeveralPieces, "bean tack-downs joined by travel", false, func(w *way) {
			ks := w.beanRow(3, i, single)
			w.placeStop(ks...)
			w.beanTacks(ks, i%2 == 1, i%3)
			w.coverStop(ks...)
			w.sound()
		})
		s.add(FamilySeveralPieces, "bean placement lines joined by travel", false, func(w *way) {
			ks := w.beanRow(2+i%3, i, bean)
			w.beanPlaces(ks, i%2 == 1, i%3)
			w.tackStop(ks...)
			w.coverStop(ks...)
			w.sound()
		})
		s.add(FamilySeveralPieces, "bean lines and bean tack-downs joined by travel", false, func(w *way) {
			ks := w.beanRow(3, i, bean)
			w.beanPlaces(ks, i%2 == 1, 1)
			w.beanTacks(ks, i%4 > 1, 1)
			w.coverStop(ks...)
			w.sound()
		})
		s.add(FamilySeveralPieces, "bean on a heart and a square, joined by travel", false, func(w *way) {
			ks := w.beanRow(2, i, single)
			ks[i%2].shape, ks[1-i%2].shape = wayShapes[3], wayShapes[1]
			w.placeStop(ks...)
			w.beanTacks(ks, i%4 > 1, i%3)
			w.coverStop(ks...)
		})
		s.add(FamilyNoApplique, "bean figures in figures, joined by travel", false, func(w *way) {
			n, r, narrow := pick(w, 10, 12), w.between(11, 15), w.between(4.5, 6)
			for _, less := range []float64{0, w.between(1.8, 2.6)} {
				w.plain()
				for k := range n {
					sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(n))
					p := circle(0, 0, 1).Map(func(q st.Point) st.Point {
						x, y := 2*r+(r-less)*q.X, (narrow-less)*q.Y
						return xy(x*cos-y*sin, x*sin+y*cos)
					})
					w.beanOn(p, k == 0, i%2 == 1, i%3)
				}
				w.TieOff()
			}
			w.plain()
			w.Bean(w.path(circle(0, 0, 5)), 2, 3).TieOff()
		})
		s.add(FamilyNoApplique, "a drawing in one bean line", false, func(w *way) {
			for c := range 2 {
				w.plain()
				for k := range 3 + i%3 {
					shape := wayShapes[[]int{0, 3, 4, 8}[(i+k)%4]]
					at := xy(48*float64(k)+14*float64(c), 9*float64(k%2)-20*float64(c))
					p := shape.outline(w.between(24, 38)).Map(func(q st.Point) st.Point { return xy(q.X+at.X, q.Y+at.Y) })
					w.beanOn(startAt(p, w.Float64()), k == 0, i%2 == 0, i%3)
				}
				w.Bean(w.path(wave(0, -50, 60, 4, 2)), 2.5, 3).TieOff()
			}
		})
	}
	return s.out
}

// beanRow are pieces side by side.
func (w *way) beanRow(n, i int, place string) []*piece {
	var ks []*piece
	for j := range n {
		k := w.sturdy(i+j, place, bean)
		k.size = w.between(40, 52)
		k.at = xy(64*float64(j), 5*float64(j%2))
		ks = append(ks, k)
	}
	return ks
}

func (w *way) beanPlaces(ks []*piece, threefold bool, past int) {
	w.stop(placement)
	for i, k := range ks {
		w.beanOn(k.lines(0)[0], i == 0, threefold, past)
	}
	w.TieOff()
}

func (w *way) beanTacks(ks []*piece, threefold bool, past int) {
	w.stop(tackDown)
	w.lay(AppliqueCloth)
	for i, k := range ks {
		w.beanOn(k.lines(k.inset)[0], i == 0, threefold, past)
		w.pieces++
	}
	w.TieOff()
	w.trims(AppliqueCloth, w.here(), w.here()+1)
}

// beanOn sews a closed bean line from where the needle is, and so many stitches past
// where it closes. Its way there is sewn in three as well where threefold is set.
func (w *way) beanOn(p st.Path, first, threefold bool, past int) {
	p = w.path(p)
	length := 2 + 0.05*float64(w.IntN(11))
	switch from := w.At(); {
	case first:
		w.TieIn(p[0], xy(p[1].X-p[0].X, p[1].Y-p[0].Y))
	case threefold && math.Hypot(p[0].X-from.X, p[0].Y-from.Y) > 1:
		w.Bean(st.Path{from, p[0]}, 2.5, 3)
	}
	w.Bean(p, length, 3)
	if past > 0 {
		total := p.Length()
		w.Bean(p.Sample(int(total / length))[:past+1], length, 3)
	}
}
