package samples

import (
	"image/color"
	"math"

	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// bow is a gentle arc, low in the middle.
func bow(half float64) st.Path {
	const radius = 24
	a := math.Asin(half / radius)
	return st.Arc(pt(0, radius-1.5), radius, -math.Pi/2-a, -math.Pi/2+a)
}

func column(c color.RGBA, p st.Path, width, pitch, shown float64, caption string) Panel {
	m := &maker{}
	m.stop(c)
	m.satin(p, width, pitch)
	return Panel{Caption: caption, Design: m.Design(), WidthMM: shown}
}

func thinCover() Sample {
	return Sample{Rule: "thin-cover", Alt: "close satin, and satin so open that the cloth shows between its stitches",
		Sound:  column(teal, bow(7), 5, 0.40, 18, "0.40 mm apart: covers"),
		Faulty: column(teal, bow(7), 5, 0.70, 18, "0.70 mm apart: cloth shows")}
}

func narrowSatin() Sample {
	narrow := column(fern, bow(6.5), 0.7, 0.40, 16, "0.7 mm: no cloth between holes")
	narrow.Ring = &st.Point{X: 0, Y: -1.5}
	return Sample{Rule: "narrow-satin", Alt: "a column 2.5 mm wide, and one of 0.7 mm",
		Sound: column(fern, bow(6.5), 2.5, 0.40, 16, "2.5 mm wide"), Faulty: narrow}
}

func wideSatin() Sample {
	return Sample{Rule: "wide-satin", Alt: "a column 6 mm wide, and one 12 mm wide with long loose stitches",
		Sound:  column(plum, bow(11), 6, 0.40, 32, "6 mm wide"),
		Faulty: column(plum, bow(11), 12, 0.40, 32, "12 mm wide: it snags")}
}

func longStitch() Sample {
	panel := func(caption string, long bool) Panel {
		m := &maker{}
		m.stop(navy)
		m.part(pt(-14, -3), pt(-13, -3), func() {
			m.Run(st.Path{pt(-14, -3), pt(-7, 3)}, 2.4)
			if long {
				m.StitchTo(pt(7, -3))
			} else {
				m.Run(st.Path{pt(-7, 3), pt(7, -3)}, 2.4)
			}
			m.Run(st.Path{pt(7, -3), pt(14, 3)}, 2.4)
		})
		return Panel{Caption: caption, Design: m.Design(), WidthMM: 32, Holes: true, RingMM: 7.5}
	}
	return Sample{Rule: "long-stitch", Alt: "a line of short stitches, and one with a stitch of 15 mm",
		Sound: panel("stitches of 2.4 mm", false), Faulty: panel("one stitch of 15 mm", true)}
}

func shortStitch() Sample {
	panel := func(caption string, length float64) Panel {
		m := &maker{}
		m.stop(brick)
		p := bow(5)
		m.part(p[0], p[1], func() { m.Run(p, length) })
		return Panel{Caption: caption, Design: m.Design(), WidthMM: 14, Holes: true}
	}
	return Sample{Rule: "short-stitch", Alt: "a line with holes 2.5 mm apart, and one with holes 0.3 mm apart",
		Sound: panel("holes 2.5 mm apart", 2.5), Faulty: panel("holes 0.3 mm apart", 0.3)}
}

func crowded() Sample {
	panel := func(caption string, spacing, length float64) Panel {
		m := &maker{}
		m.stop(color.RGBA{222, 150, 60, 255})
		m.fill(laid(5.5, 3.8), spacing, length, 0)
		return Panel{Caption: caption, Design: m.Design(), WidthMM: 14, Holes: true}
	}
	return Sample{Rule: "crowded-needle", Alt: "a fill with needle holes well apart, and one with its holes crowded together",
		Sound: panel("holes well apart", 0.40, 3), Faulty: panel("holes crowd: cloth is cut", 0.30, 0.7)}
}

func stacked() Sample {
	panel := func(caption string, n int) Panel {
		m := &maker{}
		for k := range n {
			m.stop([]color.RGBA{teal, brick, {216, 160, 50, 255}, plum}[k])
			sin, cos := math.Sincos(float64(k)*math.Pi/float64(n) + 0.3)
			m.satin(st.Line(pt(-11*cos, -11*sin), pt(11*cos, 11*sin)), 5, 0.42)
		}
		return Panel{Caption: caption, Design: m.Design(), WidthMM: 31}
	}
	return Sample{Rule: "stacked-layers", Alt: "two columns crossing, and four over one spot",
		Sound: panel("two columns cross", 2), Faulty: panel("four over one spot", 4)}
}

func untrimmed() Sample {
	panel := func(caption string, trim bool) Panel {
		m := &maker{}
		m.stop(fern)
		for _, x := range []float64{-10, 10} {
			p := st.Line(pt(x-3.5, -3.5), pt(x+3.5, 3.5))
			m.TieIn(p[0], pt(1, 1))
			m.Satin(p, st.SatinAlong{Width: 6, Pitch: pitchMM, Shape: func(t float64) float64 { return 0.25 + 0.75*math.Sin(math.Pi*(0.08+0.84*t)) }})
			m.tieBack()
			if trim || x > 0 {
				m.Trim()
			} else {
				m.JumpTo(pt(5, -3))
			}
		}
		return Panel{Caption: caption, Design: m.Design(), WidthMM: 32, RingMM: 5}
	}
	return Sample{Rule: "untrimmed-jump", Alt: "two leaves with the thread cut between them, and two joined by a loose thread",
		Sound: panel("thread cut between", true), Faulty: panel("a loose thread is left", false)}
}

func noTie() Sample {
	panel := func(caption string, tied bool) Panel {
		m := &maker{}
		m.stop(plum)
		p := st.Line(pt(-5, 0), pt(5, 0))
		if tied {
			m.Lock(p[0], pt(0, 1), 0.7, 4)
		}
		m.Run(p, 2.5)
		if tied {
			m.Lock(p[1], pt(0, 1), 0.7, 4)
		}
		m.Trim()
		return Panel{Caption: caption, Design: m.Design(), WidthMM: 14, Holes: true}
	}
	return Sample{Rule: "no-tie", Alt: "a line with lock stitches at both ends, and one without",
		Sound: panel("lock stitches at both ends", true), Faulty: panel("none: the ends work loose", false)}
}

func stretched() Sample {
	panel := func(caption string, factor float64) Panel {
		m := &maker{}
		m.stop(teal)
		m.fill(laid(7, 5), 0.38, 3, 0)
		m.stop(brick)
		frame := laid(9.5, 7.5)
		m.part(frame[0], frame[1], func() { m.Run(frame, 2.5).Run(frame.Offset(-1), 2.5) })
		m.stop(navy)
		m.satin(st.Line(pt(-9, -11), pt(9, -11)), 3, 0.38)
		d := m.Design()
		for i, v := range d.Moves {
			d.Moves[i].X = int32(math.Round(float64(v.X) * factor))
			d.Moves[i].Y = int32(math.Round(float64(v.Y) * factor))
		}
		return Panel{Caption: caption, Design: d, Middle: pt(0, -2.5*factor), WidthMM: 39}
	}
	return Sample{Rule: "stretched-copy", Alt: "a design, and a larger copy of it with every stitch stretched",
		Sound: panel("as it was digitised", 1), Faulty: panel("stretched: all is wider apart", 1.25)}
}
