package truth

import (
	"math"

	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// Scenes are designs as pictures are made of them: pieces that meet, reach to the border
// of their block, or are letters; covers in parts; small round things that are no pieces;
// and slips of a whole stop. Their numbers are drawn from the seed.
func Scenes(seed uint64) []Way {
	s := &waySet{names: map[string]int{}, seed: seed}
	s.scenePieces()
	s.sceneBlocks()
	s.sceneFlaws()
	s.sceneNegatives()
	return s.out
}

// outlined is a piece of an outline of its own; corners are mitred.
func (w *way) outlined(name string, size float64, p st.Path) *piece {
	k := w.newPiece(wayShape{name, 10, 0.9, false, true, func(float64) st.Path { return p }, nil}, single, pick(w, single, double), satin)
	k.size, k.width, k.pitch, k.inset, k.coverInset, k.rough = size, 3, 0.4, 0.5, 0, 0
	return k
}

func (s *waySet) scenePieces() {
	for i := range 6 {
		s.add(FamilySeveralPieces, "letters for pieces", true, func(w *way) {
			h, stroke := w.between(45, 60), w.between(10, 13)
			a := stroke / 2
			glyphs := []st.Path{
				// L, T and I, the way round that a plane has.
				{xy(-a, 0), xy(h/2, 0), xy(h/2, stroke), xy(a, stroke), xy(a, h), xy(-a, h), xy(-a, 0)},
				{xy(-a, 0), xy(a, 0), xy(a, h-stroke), xy(h/3, h-stroke), xy(h/3, h), xy(-h/3, h), xy(-h/3, h-stroke), xy(-a, h-stroke), xy(-a, 0)},
				{xy(-a, 0), xy(a, 0), xy(a, h), xy(-a, h), xy(-a, 0)},
			}
			var ks []*piece
			for n := range 3 {
				k := w.outlined("letter", h, glyphs[(n+i)%3])
				k.at, k.width = xy(0.9*h*float64(n), 0), 2.5
				ks = append(ks, k)
			}
			orders[1].sew(w, ks)
		})
		s.add(FamilySeveralPieces, "a stem under a flower", true, func(w *way) {
			l := w.between(60, 90)
			stem := w.outlined("stem", l, rect(0, -l/2, w.between(8, 11), l))
			stem.width = 2.5
			flower := w.plainPiece(4, w.between(45, 60))
			flower.shape = wayShapes[4]
			w.placeStop(stem)
			w.tackStop(stem)
			w.placeStop(flower)
			w.tackStop(flower)
			w.coverStop(stem, flower)
			w.lateTrims()
		})
		s.add(FamilyOnePiece, "its cover in two colours", false, func(w *way) {
			k := w.plainPiece(0, w.between(50, 90))
			w.placeStop(k)
			w.tackStop(k)
			half := k.lines(0)[0]
			n := len(half)
			for _, p := range []st.Path{half[:n/2+1], half[n/2:]} {
				w.stop(cover)
				w.Satin(w.path(p), st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
			}
			w.sound()
		})
		s.add(FamilySeveralPieces, "two halves that share an edge", true, func(w *way) {
			a, h := w.between(30, 50), w.between(40, 70)
			left, right := w.outlined("half", a, rect(-a/2, 0, a, h)), w.outlined("half", a, rect(a/2, 0, a, h))
			right.tack = left.tack
			w.placeStop(left)
			w.tackStop(left)
			w.placeStop(right)
			w.tackStop(right)
			w.stop(cover)
			q := w.path(rect(0, 0, 2*a, h))
			w.Satin(w.path(line(0, -h/2, 0, h/2)), st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Trim()
			w.Mitred(q, 4, 0.4).TieOff()
			w.lateTrims()
		})
	}
}

func (s *waySet) sceneBlocks() {
	for i := range 6 {
		s.add(FamilyBlock, "land up to the border of the block", true, func(w *way) {
			side := w.between(120, 180)
			b := groundPlan{side, rect(0, 0, side, side)}
			w.stop(outline)
			w.single(b.at(0))
			w.stop(holdDown)
			w.lay(BlockCloth)
			w.single(b.at(-1))
			h := w.between(0.3, 0.5) * side
			land := w.outlined("land", side, rect(0, (h-side)/2, side, h))
			w.placeStop(land)
			w.tackStop(land)
			w.stop(cover)
			w.Satin(w.path(line(-side/2, h-side/2, side/2, h-side/2)), st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
			if i%2 == 0 {
				sun := w.plainPiece(0, 30)
				sun.at = xy(0, 0.27*side)
				w.sew(sun)
			}
			if i%3 == 0 {
				w.battingLast(b)
			}
		})
		s.add(FamilyBlock, "pieces all over, and quilting between them", true, func(w *way) {
			b := w.newGround()
			w.ground(b)
			var ks []*piece
			for n := range 4 {
				k := w.plainPiece([]int{0, 1, 8, 4}[(n+i)%4], 0.26*b.side)
				k.shape = wayShapes[[]int{0, 1, 8, 4}[(n+i)%4]]
				k.size = max(k.size, k.shape.least)
				k.tack = single
				k.at = xy(0.22*b.side*float64(1-2*(n%2)), 0.22*b.side*float64(1-2*(n/2)))
				ks = append(ks, k)
			}
			orders[[]int{1, 3, 4}[i%3]].sew(w, ks)
			w.battingLast(b)
			w.stop(quilting, edgeRun)
			for _, k := range ks {
				w.single(k.lines(-3.5)[0])
				w.Trim()
			}
			w.Run(w.path(wave(-0.4*b.side, 0, 0.8*b.side, 3, 6)), 2.5).TieOff()
			w.hand(Hand{Kind: Trim, What: "", From: w.here() + 1, To: w.here() + 1, May: true})
		})
	}
}

func (s *waySet) sceneFlaws() {
	for i := range 6 {
		s.add(FamilyFlawed, "tack-down of another size", true, func(w *way) {
			width, height := w.between(80, 110), w.between(36, 50)
			f := w.between(0.85, 0.9)
			k := w.outlined("label", width, rect(0, 0, width, height))
			k.width = 4
			w.placeStop(k)
			k.shape.outline = func(float64) st.Path { return rect(0, 0, f*width, f*height) }
			k.inset = 0
			w.tackStop(k)
			w.out.Wrong = append(w.out.Wrong, Flaw{FlawFarInside, []int{w.here() - 1, w.here(), w.here() + 1}})
			w.out.Verdict = Unsound
			k.shape.outline = func(float64) st.Path { return rect(0, 0, width, height) }
			w.coverStop(k)
		})
		s.add(FamilyFlawed, "one tack-down lost of three in one stop", false, func(w *way) {
			ks := w.row(3, i)
			w.placeStop(ks...)
			held := []*piece{ks[(i+1)%3], ks[(i+2)%3]}
			w.tackStop(held...)
			w.pieces++
			w.out.Wrong = append(w.out.Wrong, Flaw{FlawNoTack, []int{w.here() - 1, w.here(), w.here() + 1}})
			w.out.Verdict = Unsound
			w.coverStop(ks...)
			w.hand(Hand{Kind: Lay, What: AppliqueCloth, From: w.here(), To: w.here(), May: true})
		})
		s.add(FamilyFlawed, "cover moved inwards, clear of the edge", false, func(w *way) {
			k := w.sturdy([]int{0, 1, 8}[i%3], single, pick(w, single, double))
			k.size, k.width, k.coverInset = w.between(60, 80), 4, w.between(2.6, 3.4)
			w.placeStop(k)
			w.tackStop(k)
			w.out.Wrong = append(w.out.Wrong, Flaw{FlawFarInside, []int{w.here(), w.here() + 1}})
			w.out.Verdict = Unsound
			w.coverStop(k)
		})
	}
}

func (s *waySet) sceneNegatives() {
	for range 6 {
		s.add(FamilyNoApplique, "eyelets", false, func(w *way) {
			n, r := 6+w.IntN(8), w.between(2, 3.4)
			at := func(k int) (x, y float64) {
				sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(n))
				return 30 * cos, 30 * sin
			}
			w.plain()
			for k := range n {
				x, y := at(k)
				w.Rounds(w.path(circle(x, y, r)), 1.5, 2).TieOff().Trim()
			}
			w.plain()
			for k := range n {
				x, y := at(k)
				w.Satin(w.path(circle(x, y, r)), st.SatinAlong{Width: 2, Pitch: 0.4}).TieOff().Trim()
			}
		})
		s.add(FamilyNoApplique, "vines", false, func(w *way) {
			w.plain()
			for k := range 3 {
				w.Run(w.path(wave(-50, 22*float64(k), 100, 7, 2)), 2.2).TieOff().Trim()
			}
			w.plain()
			for k := range 3 {
				w.OpenZigzag(w.path(wave(-50, 22*float64(k), 100, 7, 2)), 2, 1.5).TieOff().Trim()
			}
			w.plain()
			for k := range 9 {
				w.leafAt(-45+11*float64(k), 11+22*float64(k%2), 8)
			}
		})
		s.add(FamilyNoApplique, "petals filled, and outlined twice over", false, func(w *way) {
			petal := func(k int) st.Path {
				sin, cos := math.Sincos(2 * math.Pi * float64(k) / 6)
				return circle(26*cos, 26*sin, 11)
			}
			w.plain()
			for k := range 6 {
				w.fillOf(petal(k))
				w.Trim()
			}
			for range 2 {
				w.plain()
				for k := range 6 {
					w.sewLine(pick(w, single, bean), petal(k), 0, 0)
					w.Trim()
				}
			}
		})
	}
}
