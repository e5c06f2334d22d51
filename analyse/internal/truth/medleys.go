package truth

import (
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// MixedBlocks are blocks with pieces to one side and plain embroidery to the other, which
// comes before them, after them, or in the colours of their lines and their covers.
func MixedBlocks(seed uint64, n int) []Way {
	s := &waySet{names: map[string]int{}, seed: seed}
	for i := range n {
		s.add(FamilyBlock, "pieces and embroidery", true, func(w *way) { w.mixedBlock(i) })
	}
	return s.out
}

func (w *way) mixedBlock(i int) {
	b := groundPlan{220, rect(0, 0, 220, 220)}
	if i%3 > 0 {
		w.ground(b)
	}
	figure := func(n int) {
		at := xy(55, 60-60*float64(n))
		p := wayShapes[[]int{0, 1, 4, 8}[w.IntN(4)]].outline(w.between(24, 44)).Map(func(q st.Point) st.Point { return xy(q.X+at.X, q.Y+at.Y) })
		switch w.IntN(5) {
		case 0:
			w.fillOf(p)
		case 1:
			w.EdgeRun(w.path(p), 3, 0.6, 2.5)
			w.bordering(p, 3)
		case 2:
			w.sewLine(pick(w, single, double, bean), p, 0, 0)
		case 3:
			w.letters("HOT", at.X-16, at.Y-6, 12)
		case 4:
			w.fillOf(inset(p, 0.6))
			w.Trim()
			w.Run(w.path(p), 2.5)
			w.bordering(p, 3)
		}
	}
	var ks []*piece
	tack := pick(w, single, double, bean, zigzag, blanket)
	for n := range 1 + w.IntN(3) {
		k := w.sturdy(i+n, single, tack)
		k.size = max(w.between(46, 58), k.shape.least)
		k.at = xy(-55, 62-62*float64(n))
		ks = append(ks, k)
	}
	when := w.IntN(4)
	if when == 0 {
		w.stop(decoration, stitching)
		figure(0)
	}
	w.placeStop(ks...)
	if when == 1 {
		w.Trim()
		figure(0)
		w.stops[len(w.stops)-1].Roles = []string{placement, decoration}
	}
	w.tackStop(ks...)
	w.coverStop(ks...)
	if when == 2 {
		w.Trim()
		figure(0)
	}
	w.stop(plainRoles...)
	figure(1)
	w.Trim()
	figure(2)
	if i%3 == 2 {
		w.battingLast(b)
		if i%2 == 0 {
			w.quilted(b)
		}
	}
}

// Medleys are embroideries without applique: figures of every plain kind side by side,
// each sewn layer by layer in colours that they share. Which figures, how many, how large
// and in which colours is drawn from the seed.
func Medleys(seed uint64, n int) []Way {
	s := &waySet{names: map[string]int{}, seed: seed}
	for range n {
		s.add(FamilyNoApplique, "medley", false, medley)
	}
	return s.out
}

func medley(w *way) {
	const colours = 4
	var layers [colours][]func()
	put := func(colour int, sew func()) { layers[colour] = append(layers[colour], sew) }
	for k := range 3 + w.IntN(4) {
		at := xy(70*float64(k%3), 70*float64(k/3))
		shape := wayShapes[[]int{0, 1, 4, 8}[w.IntN(4)]]
		p := shape.outline(w.between(24, 52)).Map(func(q st.Point) st.Point { return xy(q.X+at.X, q.Y+at.Y) })
		first := w.IntN(2)
		second := first + 1 + w.IntN(colours-first-1)
		width := w.between(2.5, 4.5)
		kind := pick(w, single, double, bean)
		switch w.IntN(8) {
		case 0: // a fill with a satin border
			put(first, func() { w.fillOf(inset(p, 0.6)) })
			put(second, func() { w.Run(w.path(p), 2.5); w.bordering(p, width) })
		case 1: // a fill with a line round it
			put(first, func() { w.fillOf(p) })
			put(second, func() { w.sewLine(kind, p, 0, 0) })
		case 2: // a satin ring over its own underlay, and a line in it
			put(first, func() { w.EdgeRun(w.path(p), width, 0.6, 2.5); w.bordering(p, width) })
			put(second, func() { w.sewLine(kind, inset(p, w.between(4, 7)), 0, 0) })
		case 3: // redwork
			put(first, func() { w.sewLine(bean, p, 0, 0) })
			put(second, func() { w.Bean(w.path(wave(at.X-8, at.Y, 16, 2, 2)), 2, 3).TieOff() })
		case 4: // letters in a line
			put(first, func() { w.sewLine(kind, p, 0, 0) })
			put(second, func() { w.letters([]string{"H", "T", "E", "S"}[k%4], at.X-4, at.Y-5, 10) })
		case 5: // leaves
			put(first, func() {
				for n := range 5 {
					d := w.path(line(at.X-20+9*float64(n), at.Y, at.X-14+9*float64(n), at.Y+9))
					w.Satin(d, st.SatinAlong{Width: 3, Pitch: 0.4}).TieOff().Trim()
				}
			})
		case 6: // a satin ring whose inside is filled in another colour
			put(first, func() { w.fillOf(inset(p, width/2)) })
			put(second, func() { w.EdgeRun(w.path(p), width, 0.6, 2.5); w.bordering(p, width) })
		case 7: // lines at a distance, in one colour
			put(first, func() {
				for n := range 3 {
					w.sewLine(kind, inset(p, 3*float64(n)), 0, 0)
					w.Trim()
				}
			})
		}
	}
	for _, sews := range layers {
		if len(sews) == 0 {
			continue
		}
		w.plain()
		for i, sew := range sews {
			if i > 0 {
				w.Trim()
			}
			sew()
		}
	}
}
