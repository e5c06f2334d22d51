package samples

import (
	"image/color"
	"math"

	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// The piece of the applique samples: a disc of cloth.
const (
	discMM  = 11.0
	coverMM = 3.5
	pitchMM = 0.40
)

var disc = st.Circle(pt(0, 0), discMM)

// appliqued sews a piece in three stops: placement, tack-down, cover.
func appliqued(placement, tackDown, cover st.Path, width float64, colours [3]color.RGBA) *maker {
	m := &maker{}
	m.stop(colours[0])
	m.run(placement)
	m.stop(colours[1])
	m.part(tackDown[0], tackDown[1], func() { m.DoubleRun(tackDown, 2.5) })
	m.stop(colours[2])
	m.satin(cover, width, pitchMM)
	return m
}

var threads = [3]color.RGBA{navy, brick, teal}

// trimmed is what scissors leave of a cloth: the allowance past its tack-down.
func trimmed(tackDown st.Path) st.Path { return tackDown.Offset(-1) }

func laid(halfWidth, halfHeight float64) st.Path {
	return st.Rect(pt(0, 0), 2*halfWidth, 2*halfHeight)
}

func edgeUncovered() Sample {
	tack := disc.Offset(0.5)
	panel := func(caption string, aside float64) Panel {
		m := appliqued(disc, tack, st.Circle(pt(aside, 0), discMM), coverMM, threads)
		return Panel{Caption: caption, Design: m.Design(), Middle: pt(-4, 0), WidthMM: 23, RingMM: 4,
			Patches: []Patch{{After: 2, Shape: trimmed(tack), Colour: yellow}}}
	}
	return Sample{Rule: "edge-uncovered", Alt: "satin over the cut edge all round, and satin that has moved aside so that the raw edge shows",
		Sound: panel("the satin hides the cut edge", 0), Faulty: panel("the cut edge of the cloth shows", 2.3)}
}

func inSight() Sample {
	tack := disc.Offset(0.5)
	panel := func(caption string, out float64) Panel {
		m := appliqued(disc, tack, disc.Offset(-out), coverMM, threads)
		return Panel{Caption: caption, Design: m.Design(), Middle: pt(-6, 0), WidthMM: 23, RingMM: 4, Ring: &st.Point{X: -discMM},
			Patches: []Patch{{After: 1, Shape: trimmed(tack), Colour: yellow}}}
	}
	return Sample{Rule: "tack-down-in-sight", Alt: "satin over the tack-down and the cut edge, and satin that begins outside the tack-down",
		Sound: panel("the satin holds tack-down and edge", 0), Faulty: panel("the tack-down stays in sight", 2)}
}

func noPause() Sample {
	tack := disc.Offset(0.5)
	m := appliqued(disc, tack, disc, coverMM, threads)
	sound := Panel{Caption: "a stop to trim in, then the satin", Design: m.Design(), WidthMM: 36,
		Patches: []Patch{{After: 2, Shape: trimmed(tack), Colour: yellow}}}
	m = &maker{}
	m.stop(navy)
	m.run(disc)
	m.stop(teal)
	m.part(tack[0], tack[1], func() { m.DoubleRun(tack, 2.5) })
	m.satin(disc, coverMM, pitchMM)
	return Sample{Rule: "no-pause-to-trim", Alt: "a disc trimmed before its satin, and satin sewn over cloth that was never trimmed",
		Sound: sound, Faulty: Panel{Caption: "satin sewn before you could trim", Design: m.Design(), WidthMM: 36,
			Patches: []Patch{{After: 1, Shape: laid(16, 12.5), Colour: yellow}}}}
}

func sameColour() Sample {
	panel := func(caption string, tack color.RGBA, ring *st.Point) Panel {
		m := appliqued(disc, disc.Offset(1), disc, 4.5, [3]color.RGBA{navy, tack, teal})
		return Panel{Caption: caption, Design: m.Design(), WidthMM: 36, Stops: 2, Ring: ring,
			Patches: []Patch{{After: 1, Shape: st.Polygon(pt(-14, -12.5), pt(2, -12.5), pt(2, 12.5), pt(-14, 12.5)), Colour: yellow}}}
	}
	at := pt(math.Cos(0.7)*(discMM-0.5), math.Sin(0.7)*(discMM-0.5))
	return Sample{Rule: "same-colour-pause", Alt: "placement line and tack-down in two colours, and both in one colour",
		Sound: panel("two colours: it stops between", brick, nil), Faulty: panel("one colour: it may run on", navy, &at)}
}

func openOutline() Sample {
	panel := func(caption string, gap float64) Panel {
		line, tack := disc, disc.Offset(0.5)
		if gap > 0 {
			line = st.Arc(pt(0, 0), discMM, gap/2, 2*math.Pi-gap/2)
			tack = st.Arc(pt(0, 0), discMM-0.5, gap/2, 2*math.Pi-gap/2)
		}
		m := appliqued(line, tack, disc, coverMM, threads)
		return Panel{Caption: caption, Design: m.Design(), WidthMM: 36, Stops: 2, RingMM: 6,
			Patches: []Patch{{After: 1, Shape: laid(15.5, 12.5), Colour: yellow}}}
	}
	return Sample{Rule: "open-outline", Alt: "a tack-down that closes, and one with an opening that leaves the cloth unheld",
		Sound: panel("the tack-down closes", 0), Faulty: panel("the cloth is not held here", 0.8)}
}

func astray() Sample {
	panel := func(caption string, aside float64) Panel {
		tack, right := st.Circle(pt(aside, 0), discMM-0.5), pt(aside+discMM-0.5, 0)
		m := appliqued(disc, tack, tack.Offset(-0.3), 5, threads)
		return Panel{Caption: caption, Design: m.Design(), WidthMM: 36, Stops: 2, Ring: &right,
			Patches: []Patch{{After: 0, Shape: disc.Offset(-1), Colour: yellow}}}
	}
	return Sample{Rule: "tack-down-astray", Alt: "a tack-down just inside its placement line, and one that strays off it to one side",
		Sound: panel("tack-down just inside the line", 0), Faulty: panel("it strays and may miss the cloth", 2.4)}
}

// oatmeal is the cloth of the block.
var oatmeal = color.RGBA{226, 214, 190, 255}

// block sews the outline of a small block, its hold-down, and a piece on it.
func block(pause bool) *maker {
	m := &maker{}
	m.stop(navy)
	m.run(laid(17, 12))
	if pause {
		m.stop(brick)
	}
	m.run(laid(18, 13))
	piece := st.Circle(pt(0, 0), 6)
	m.stop(plum)
	m.run(piece)
	m.stop(fern)
	m.part(piece[0], piece[1], func() { m.DoubleRun(piece.Offset(0.5), 2) })
	m.stop(teal)
	m.satin(piece, coverMM, pitchMM)
	return m
}

func missingPause() Sample {
	ring := pt(0, 13)
	return Sample{Rule: "missing-pause", Alt: "cloth laid over its outline and held by the next stop, and an outline and a hold-down sewn without cloth between",
		Sound: Panel{Caption: "it waits for the cloth", Design: block(true).Design(), WidthMM: 50, Stops: 2,
			Patches: []Patch{{After: 1, Shape: laid(23, 16), Colour: oatmeal}}},
		Faulty: Panel{Caption: "both lines sewn in one stop", Design: block(false).Design(), WidthMM: 50, Stops: 1, Ring: &ring}}
}

func coverMissing() Sample {
	pieces := []st.Path{st.Circle(pt(-9, 0), 6), st.Circle(pt(9, 0), 6)}
	panel := func(caption string, covered int) Panel {
		m := &maker{}
		m.stop(navy)
		for _, p := range pieces {
			m.run(p)
		}
		m.stop(brick)
		p := Panel{Caption: caption, WidthMM: 40}
		for _, q := range pieces {
			tack := q.Offset(0.5)
			m.part(tack[0], tack[1], func() { m.DoubleRun(tack, 2) })
			p.Patches = append(p.Patches, Patch{After: 1, Shape: trimmed(tack), Colour: yellow})
		}
		m.stop(teal)
		for _, q := range pieces[:covered] {
			m.satin(q, coverMM, pitchMM)
		}
		p.Design = m.Design()
		return p
	}
	ring := pt(9, 0)
	sound, faulty := panel("both edges are covered", 2), panel("the second edge stays raw", 1)
	faulty.Ring, faulty.RingMM = &ring, 8.5
	return Sample{Rule: "cover-missing", Alt: "two pieces with satin over their edges, and two of which one is only tacked down", Sound: sound, Faulty: faulty}
}

func tackDownMissing() Sample {
	pieces := []st.Path{st.Circle(pt(-9, 0), 6), st.Circle(pt(9, 0), 6)}
	panel := func(caption string, tacked int) Panel {
		m := &maker{}
		m.stop(navy)
		for _, p := range pieces {
			m.run(p)
		}
		m.stop(brick)
		p := Panel{Caption: caption, WidthMM: 40, Stops: 2}
		for i, q := range pieces {
			tack := q.Offset(0.5)
			if i < tacked {
				m.part(tack[0], tack[1], func() { m.DoubleRun(tack, 2) })
			}
			p.Patches = append(p.Patches, Patch{After: 1, Shape: q.Offset(-3), Colour: yellow})
		}
		m.stop(teal)
		for _, q := range pieces {
			m.satin(q, coverMM, pitchMM)
		}
		p.Design = m.Design()
		return p
	}
	ring := pt(9, 0)
	sound, faulty := panel("both cloths are tacked down", 2), panel("nothing holds the second", 1)
	faulty.Ring, faulty.RingMM = &ring, 8.5
	return Sample{Rule: "tack-down-missing", Alt: "two pieces tacked down, and two of which one lies loose", Sound: sound, Faulty: faulty}
}

func wrongOrder() Sample {
	tack := disc.Offset(0.5)
	m := &maker{}
	m.stop(navy)
	m.run(disc)
	m.stop(teal)
	m.satin(disc, coverMM, pitchMM)
	m.stop(brick)
	m.part(tack[0], tack[1], func() { m.DoubleRun(tack, 2.5) })
	ring := pt(discMM, 0)
	return Sample{Rule: "wrong-order", Alt: "satin sewn over the edge of a trimmed disc, and cloth laid over satin that was sewn first",
		Sound: Panel{Caption: "tacked down, trimmed, covered", Design: appliqued(disc, tack, disc, coverMM, threads).Design(), WidthMM: 36,
			Patches: []Patch{{After: 2, Shape: trimmed(tack), Colour: yellow}}},
		Faulty: Panel{Caption: "covered before it is laid", Design: m.Design(), WidthMM: 36, Ring: &ring,
			Patches: []Patch{{After: 2, Shape: st.Polygon(pt(2, -13), pt(16, -13), pt(16, 12.5), pt(2, 12.5)), Colour: yellow}}}}
}

func drawnIn() Sample {
	panel := func(caption string, aside float64, ring *st.Point) Panel {
		m := block(true)
		m.stop(brick)
		m.run(st.Rect(pt(aside, 0), 37, 27))
		m.stop(plum)
		m.run(st.Rect(pt(0, 0), 38, 28))
		return Panel{Caption: caption, Design: m.Design(), Middle: pt(1, 0), WidthMM: 50, Stops: 6, Ring: ring,
			Patches: []Patch{{After: 1, Shape: laid(23, 16), Colour: oatmeal}, {After: 4, Shape: trimmed(st.Circle(pt(0, 0), 5.5)), Colour: yellow}}}
	}
	at := pt(-15.5, 0)
	return Sample{Rule: "drawn-in", Alt: "a last hold-down outside the first outline all round, and one that lies inside it on the left",
		Sound: panel("hold-down outside the outline", 0, nil), Faulty: panel("hold-down inside it on the left", 3, &at)}
}

func outsideHoop() Sample {
	panel := func(caption string, hoop float64) Panel {
		m := &maker{}
		m.stop(plum)
		for k := range 6 {
			sin, cos := math.Sincos(float64(k) * math.Pi / 3)
			p := st.Line(pt(3*cos, 3*sin), pt(20*cos, 20*sin))
			m.part(p[0], p[1], func() {
				m.Satin(p, st.SatinAlong{Width: 6, Pitch: pitchMM, Shape: func(t float64) float64 { return 0.25 + 0.75*math.Sin(math.Pi*(0.08+0.84*t)) }})
			})
		}
		return Panel{Caption: caption, Design: m.Design(), HoopMM: hoop, WidthMM: 66}
	}
	return Sample{Rule: "outside-hoop", Alt: "a flower inside the field of a hoop, and the same flower reaching past a smaller one",
		Sound: panel("inside the hoop's field", 46), Faulty: panel("reaches past the hoop's field", 34)}
}
