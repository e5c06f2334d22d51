package truth

import (
	"math"

	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// plainRoles are right for stitching that has nothing to do with applique.
var plainRoles = []string{stitching, decoration, quilting, edgeRun}

// plain begins a colour stop of such stitching.
func (w *way) plain() { w.stop(plainRoles...) }

// negatives are designs without applique that look like it in one thing or another.
var negatives = []struct {
	name string
	lay  func(w *way, i int)
}{
	{"lace mesh", laceMesh},
	{"concentric rings", concentricRings},
	{"redwork", redwork},
	{"echo quilting", echoQuilting},
	{"satin letters", satinLetters},
	{"double line, fill and satin border", filledWithDoubleLine},
	{"filled shape with a satin border", filledShape},
	{"ring whose underlay is in another stop", ringApart},
	{"label with a frame", labelInFrame},
	{"monogram", monogram},
	{"stitch and flip", stitchAndFlip},
	{"border", border},
	{"patch with a filled ground", patch},
	{"wreath of leaves", wreath},
	{"stippling", stippling},
	{"line art over light fills", lineArt},
}

func (s *waySet) withoutApplique() {
	for _, n := range negatives {
		for i := range 8 {
			s.add(FamilyNoApplique, n.name, false, func(w *way) { n.lay(w, i) })
		}
	}
}

// closedShape is a shape at random, of 40 to 110 mm.
func (w *way) closedShape() st.Path {
	sh := wayShapes[[]int{0, 1, 3, 4, 5, 6, 8}[w.IntN(7)]]
	return sh.outline(max(sh.least, w.between(40, 110)))
}

func (w *way) bordering(p st.Path, width float64) {
	p = w.path(p)
	if len(p) <= 16 {
		w.Mitred(p, width, 0.4).TieOff()
	} else {
		w.Satin(p, st.SatinAlong{Width: width, Pitch: 0.4}).TieOff()
	}
}

func (w *way) fillOf(p st.Path) {
	w.Fill(w.path(p), w.between(0.38, 0.5), 4, w.angle(w.between(0, 3))).TieOff()
}

// laceMesh is a net of lines, gone over so that it holds together without cloth.
func laceMesh(w *way, i int) {
	r, step := w.between(25, 55), w.between(3, 7)
	half := func(v float64) float64 {
		if i%2 == 0 {
			return math.Sqrt(max(0, r*r-v*v))
		}
		return r
	}
	edge := circle(0, 0, r)
	if i%2 == 1 {
		edge = rect(0, 0, 2*r, 2*r)
	}
	// One way, then the other, to and fro along the net.
	net := func(across bool) {
		for v := -r + step; v < r-0.5*step; v += step {
			p := line(-half(v), v, half(v), v)
			if across {
				p = line(v, -half(v), v, half(v))
			}
			w.DoubleRun(w.path(p), 2)
		}
		w.TieOff()
	}
	w.plain()
	w.Run(w.path(edge), 2.5)
	net(false)
	if i%4 < 2 {
		w.plain()
	}
	net(true)
	if i%3 == 1 {
		w.plain()
		w.Rounds(w.path(edge), 2.5, 2).TieOff()
	}
	w.plain()
	switch i % 3 {
	case 0:
		w.OpenZigzag(w.path(edge), 2.4, 2)
		w.bordering(edge, 4)
	case 1:
		w.OpenZigzag(w.path(edge), 2.5, 1).TieOff()
	case 2:
		w.EdgeRun(w.path(edge), 4, 0.7, 2.5)
		w.bordering(edge, 4)
	}
}

func concentricRings(w *way, i int) {
	step := pick(w, 1.5, 2.0, 3, 4, 6)
	n := 4 + w.IntN(6)
	r := w.between(12, 25)
	for k := range n {
		if k == 0 || i%4 == 1 || i%4 == 2 && k%3 == 0 {
			w.plain()
		}
		p := circle(0, 0, r+step*float64(k))
		if i >= 4 && k == n-1 {
			w.EdgeRun(w.path(p), 3, 0.6, 2.5)
			w.bordering(p, 3)
			continue
		}
		w.Rounds(w.path(p), 2.2, 1+(i+k)%2)
		w.Trim()
	}
	if i%4 == 3 {
		w.plain()
		w.Rounds(w.path(circle(0, 0, r+0.5*step)), 2.2, 2).TieOff()
	}
}

func redwork(w *way, i int) {
	w.plain()
	p := w.closedShape()
	w.Bean(w.path(p), 2.5, 3).TieOff().Trim()
	w.Bean(w.path(circle(4, 3, 3)), 1.8, 3).TieOff().Trim()
	w.Bean(w.path(wave(-10, -6, 20, 2, 2)), 2, 3).TieOff()
	if i%2 == 1 {
		w.plain()
		w.Bean(w.path(leaf(60, 0, 30, 12)), 2, 3).TieOff().Trim()
		w.Rounds(w.path(circle(60, 20, 8)), 2, 2).TieOff()
	}
	if i%4 == 3 {
		// A shadow line close beside the first.
		w.plain()
		w.Run(w.path(inset(p, pick(w, 0.7, 0.8))), 2).TieOff()
	}
}

func echoQuilting(w *way, i int) {
	p, step := w.closedShape(), w.between(4, 8)
	for k := range 3 + w.IntN(4) {
		if k == 0 || i%2 == 1 {
			w.plain()
		}
		w.sewLine([]string{single, single, double, bean}[i/2], inset(p, -step*float64(k)), 0, 0)
		w.Trim()
	}
}

func satinLetters(w *way, i int) {
	words := []string{"HOLE", "TOTEL", "HOTEL", "SHOE", "LOTS", "TOE", "HOST", "THESE"}
	w.plain()
	w.letters(words[i], 0, 0, w.between(8, 30))
	if i%2 == 0 {
		w.plain()
		w.letters(words[(i+3)%8], 0, 40, w.between(8, 20))
	}
}

func filledWithDoubleLine(w *way, i int) {
	p := w.closedShape()
	w.plain()
	w.sewLine([]string{double, single, triple, bean}[i%4], p, 0, 0)
	if i < 4 {
		w.plain()
	}
	w.fillOf(inset(p, 0.8))
	w.plain()
	w.bordering(p, w.between(3, 4.5))
}

func filledShape(w *way, i int) {
	p := w.closedShape()
	w.plain()
	w.Run(w.path(inset(p, 1.5)), 2.5)
	w.fillOf(inset(p, 0.8))
	if i%2 == 0 {
		w.plain()
		w.OpenZigzag(w.path(p), 2, 2).TieOff()
	}
	w.plain()
	if i%3 == 0 {
		w.EdgeRun(w.path(p), 3.5, 0.7, 2.5)
	}
	w.bordering(p, 3.5)
}

// ringApart sews the underlay of a ring, something else, and then its satin.
func ringApart(w *way, i int) {
	r, width := w.between(10, 40), w.between(3.5, 5)
	p := circle(0, 0, r)
	w.plain()
	if i%2 == 0 {
		w.EdgeRun(w.path(p), width, 0.7, 2.5).TieOff()
	} else {
		w.Run(w.path(inset(p, 0.6)), 2).Run(w.path(inset(p, -0.6)), 2).TieOff()
	}
	w.plain()
	switch i % 4 {
	case 0, 1:
		w.fillOf(rect(0, 0, 0.7*r, 0.7*r))
	case 2:
		w.fillOf(inset(p, 2))
	case 3:
		w.letters("HO", -0.5*r, -0.3*r, 0.6*r)
	}
	w.plain()
	w.bordering(p, width)
}

func labelInFrame(w *way, i int) {
	h := w.between(7, 14)
	w.plain()
	w.letters([]string{"HOLE", "TOTEL", "LOTS", "SHOE"}[i%4], -2.2*h, -h/2, h)
	frame := rect(0.2*h, 0, 6.5*h, 3*h)
	w.plain()
	switch i % 4 {
	case 0:
		w.sewLine(double, frame, 0, 0)
	case 1:
		w.sewLine(bean, frame, 0, 0)
		w.Trim()
		w.sewLine(bean, inset(frame, -4.5), 0, 0)
	case 2:
		w.EdgeRun(w.path(frame), 3, 0.6, 2.5)
		w.bordering(frame, 3)
	case 3:
		w.EdgeRun(w.path(frame), 3, 0.6, 2.5)
		w.bordering(frame, 3)
		w.plain()
		w.sewLine(double, inset(frame, 4), 0, 0)
	}
	if i >= 4 {
		w.plain()
		w.Bean(w.path(wave(-2*h, -h, 4*h, 1, 4)), 2, 3).TieOff()
	}
}

func monogram(w *way, i int) {
	r := w.between(24, 45)
	if i%2 == 0 {
		w.plain()
		w.fillOf(circle(0, 0, r))
	}
	w.plain()
	w.letters([]string{"H", "T", "E", "S"}[i%4], -0.35*r, -0.5*r, r)
	w.plain()
	switch i % 3 {
	case 0:
		w.Rounds(w.path(circle(0, 0, r+2)), 2.3, 2).TieOff()
	case 1:
		w.EdgeRun(w.path(circle(0, 0, r+3)), 3, 0.6, 2.5)
		w.bordering(circle(0, 0, r+3), 3)
	case 2:
		for k := range 16 {
			sin, cos := math.Sincos(2 * math.Pi / 16 * float64(k))
			w.leafAt((r+6)*cos, (r+6)*sin, 8)
		}
	}
}

// leafAt sews a satin leaf that points away from the middle.
func (w *way) leafAt(x, y, length float64) {
	d := math.Hypot(x, y)
	p := w.path(line(x-0.5*length*x/d, y-0.5*length*y/d, x+0.5*length*x/d, y+0.5*length*y/d))
	w.Run(p, 2)
	w.Satin(p.Reverse(), st.SatinAlong{Width: 0.45 * length, Pitch: 0.4, Shape: func(t float64) float64 { return 0.15 + 0.85*math.Sin(math.Pi*t) }})
	w.TieOff().Trim()
}

// stitchAndFlip sews strips one after another, each face down along a line and
// folded over. Cloth is laid; nothing is trimmed close, and no edge is covered.
func stitchAndFlip(w *way, i int) {
	side := w.between(80, 150)
	roles := []string{stitching, decoration, quilting, placement, tackDown, outline, holdDown}
	w.out.Pieces = -1
	lay := func() { w.hand(Hand{Kind: Lay, From: w.here(), To: w.here(), May: true}) }
	if i%2 == 0 {
		w.stop(roles...)
		w.single(rect(0, 0, side, side))
		w.stop(roles...)
		lay()
		w.single(rect(0, 0, side, side))
	}
	n := 3 + w.IntN(3)
	for k := range n {
		x := -side/2 + side*(float64(k)+0.5)/float64(n)
		w.stop(roles...)
		lay()
		w.Run(w.path(line(x, -side/2, x, side/2)), 2.5).TieOff()
		w.stop(roles...)
		lay()
		p := w.path(line(x+0.6, -side/2, x+0.6, side/2))
		if i%4 < 2 {
			w.Run(p, 2).TieOff()
		} else {
			w.DoubleRun(p, 2).TieOff()
		}
	}
	w.stop(append(roles, batting, backing)...)
	lay()
	w.single(rect(0, 0, side+1, side+1))
	w.hand(Hand{Kind: Trim, From: w.here() + 1, To: w.here() + 1, May: true})
	w.hand(Hand{Kind: Lay, From: w.here() + 1, To: w.here() + 1, May: true})
}
