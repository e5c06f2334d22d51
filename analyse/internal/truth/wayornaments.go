package truth

import (
	"math"

	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

func border(w *way, i int) {
	frame := rect(0, 0, w.between(90, 160), w.between(60, 120))
	w.plain()
	switch i % 4 {
	case 0:
		w.EdgeRun(w.path(frame), 4, 0.7, 2.5)
		w.bordering(frame, 4)
		w.plain()
		w.Bean(w.path(inset(frame, -2.6)), 2.5, 3).TieOff().Trim()
		w.Bean(w.path(inset(frame, 2.6)), 2.5, 3).TieOff()
	case 1:
		w.sewLine(bean, frame, 0, 0)
		w.plain()
		w.Motif(w.path(inset(frame, 6)), motifs[i/2%3].Map(func(q st.Point) st.Point { return xy(q.X, 2*q.Y) }), 6).TieOff()
	case 2:
		w.Motif(w.path(frame), motifs[i/2%3].Map(func(q st.Point) st.Point { return xy(q.X, 2*q.Y) }), 5).TieOff()
		w.plain()
		w.sewLine(double, inset(frame, 7), 0, 0)
	case 3:
		w.OpenZigzag(w.path(frame), 4, 1.5).TieOff()
		w.plain()
		w.EStitch(w.path(inset(frame, 8)), 3, 4).TieOff()
	}
	if i >= 4 {
		w.plain()
		w.letters("HOT", -15, -6, 12)
	}
}

func patch(w *way, i int) {
	p := w.closedShape()
	w.plain()
	w.Run(w.path(inset(p, 1)), 2.5)
	w.fillOf(inset(p, 0.6))
	w.plain()
	w.letters([]string{"HO", "TO", "LE", "SE"}[i%4], -7, -4, 8)
	if i%2 == 0 {
		w.plain()
		w.OpenZigzag(w.path(p), 2.6, 2).TieOff()
	}
	w.plain()
	if i%3 == 0 {
		w.Run(w.path(p), 2.5)
	}
	w.bordering(p, 4)
}

func wreath(w *way, i int) {
	r := w.between(30, 60)
	w.plain()
	w.sewLine([]string{single, double, bean, double}[i%4], circle(0, 0, r), 0, 0)
	w.plain()
	n := 10 + w.IntN(14)
	for k := range n {
		sin, cos := math.Sincos(2 * math.Pi / float64(n) * float64(k))
		w.leafAt((r+7-14*float64(k%2))*cos, (r+7-14*float64(k%2))*sin, 9)
	}
	if i%2 == 0 {
		w.plain()
		for k := range 5 {
			sin, cos := math.Sincos(2 * math.Pi / 5 * float64(k))
			c := circle(r*cos, r*sin, 3.5)
			w.fillOf(c)
			w.Trim()
			w.Rounds(w.path(c), 1.8, 2).TieOff().Trim()
		}
	}
}

func stippling(w *way, i int) {
	side := w.between(80, 160)
	if i%2 == 0 {
		w.plain()
		w.sewLine(single, rect(0, 0, side, side), 0, 0)
	}
	w.plain()
	var p st.Path
	for k := range 7 {
		row := wave(-0.45*side, side*(-0.4+0.8*float64(k)/6), 0.9*side, 0.05*side, 5)
		if k%2 == 1 {
			row = row.Reverse()
		}
		p = append(p, row...)
	}
	w.Run(w.path(p), 2.5).TieOff()
	if i%4 == 1 {
		w.plain()
		w.Run(w.path(p), 2.5).TieOff()
	}
}

func lineArt(w *way, i int) {
	p := w.closedShape()
	w.plain()
	w.Fill(w.path(inset(p, 0.5)), w.between(0.8, 1.6), 4, w.angle(0.4)).TieOff()
	w.plain()
	w.sewLine([]string{double, bean, triple, single}[i%4], p, 0, 0)
	if i%2 == 0 {
		w.plain()
		w.Bean(w.path(circle(3, 2, 5)), 2, 3).TieOff()
	}
}
