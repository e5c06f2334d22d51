package block

import (
	"math"

	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// SnailName is the name of the second block, as its files carry it, and SnailSize
// its side in millimetres.
const (
	SnailName = "Snail Post"
	SnailSize = 130
)

// What the finish of the second block is made of, in millimetres.
const (
	tackWidth   = 1.8 // of the zigzag: its outer points lie on the placement line
	tackPitch   = 2.0
	spineOff    = 1.2 // the blanket stitch runs along the raw edge, so far outside the line
	toothDepth  = 3.6
	toothPitch  = 3.0
	borderWidth = 3.0
)

// shellAt is the middle of the snail's shell.
var shellAt = pt(28, -20.5)

// Snail digitises the block "Snail Post": a toadstool that is a post office, and
// the snail that brings the letters. It is made another way than the first:
// batting first and the cloth over it, quilted before anything is laid, pieces
// tacked down with a zigzag and finished with a blanket stitch, backing last.
func Snail() *stitchfile.Design {
	m := &maker{b: &st.Builder{Name: SnailName}, size: SnailSize, k: 1, first: true}
	square := func(inset float64) st.Path { return st.Rect(pt(0, 0), m.size-2*inset, m.size-2*inset) }
	stem, cap, shell := stem(), toadstoolCap(), st.Circle(shellAt, 13.5)

	m.stop(0xAEABA6, "Batting line, pumice")
	m.run(square(2))
	m.stop(0xD6C9C4, "Batting hold-down, oyster")
	m.run(square(2))
	m.stop(0xEDE0B8, "Block cloth hold-down, oatmeal")
	m.run(square(1))
	m.stop(0x9FD4E4, "Quilting, rain")
	for i := range 9 {
		y := -36 + 10.5*float64(i)
		p := wavy(-53, 53, y, 2.2, 34, float64(i%2))
		if i%2 == 1 {
			p = p.Reverse()
		}
		m.run(p)
	}
	for _, piece := range []struct {
		name        string
		path        st.Path
		place, tack uint32
	}{
		{"Stem", stem, 0xD0A660, 0xB27624}, {"Cap", cap, 0xF04468, 0xB54B64}, {"Shell", shell, 0x686AB0, 0x1B4A96},
	} {
		m.stop(piece.place, piece.name+" placement")
		m.run(piece.path)
		m.stop(piece.tack, piece.name+" tack-down")
		q := piece.path.Offset(tackWidth / 2)
		m.part(q[0], q[1], func(b *st.Builder) { b.OpenZigzag(q, tackWidth, tackPitch) })
	}

	m.stop(0xF6EEDC, "Spots and letters, cream")
	for i, d := range []struct{ x, y, r float64 }{{-36, 17, 4.4}, {-20, 30, 5.4}, {0, 27, 4.6}, {-13, 12, 4.2}, {9, 13, 3.8}} {
		m.fill(st.Circle(pt(d.x, d.y), d.r), 0.5*float64(i))
	}
	letters := []st.Path{letter(38, 38, 0.22), letter(45, 12, -0.28)}
	for i, l := range letters {
		m.fill(l, []float64{0.22, -0.28}[i])
	}
	m.stop(0xFCB343, "Snail, honey")
	m.fill(snailFoot(), 0.05)
	m.fill(snailNeck(), math.Pi/2)
	m.sun(pt(-45, 45.5))
	m.stop(0xB07624, "Door, chestnut")
	door := append(st.Path{pt(-20, -37), pt(-8, -37)}, st.Arc(pt(-14, -24), 6, 0, math.Pi)...)
	m.fill(append(door, door[0]), math.Pi/2)

	m.stop(0x74106E, "Blanket stitch, plum")
	m.blanket(stemFinish())
	m.blanket(cap)
	m.blanket(shell)

	m.stop(0x2B3338, "Lines, ink")
	for i, l := range letters {
		m.bean(l)
		m.bean(flap([]st.Point{pt(38, 38), pt(45, 12)}[i], []float64{0.22, -0.28}[i]))
	}
	m.bean(spiral(shellAt.X, shellAt.Y, 9, 2.4))
	m.bean(spline(false, pt(47.6, -12), pt(46.8, -8), pt(44.2, -5)))
	m.bean(spline(false, pt(50.4, -12), pt(51.8, -8.5), pt(51.2, -4.5)))
	m.bean(st.Line(pt(-17, -25), pt(-11, -25)))
	m.stop(0x3A8428, "Grass, fern")
	for i, g := range []struct{ x, h, lean float64 }{
		{-53, 7, -1.5}, {-49, 10, -0.5}, {-43.5, 16, 0.5}, {-38.5, 9, 2}, {-34.5, 6, 1}, {3.5, 7, 1}, {8, 12, 0},
	} {
		foot := pt(g.x, -44)
		blade := spline(false, foot, pt(g.x+0.2*g.lean, -44+0.6*g.h), pt(g.x+g.lean, -44+g.h))
		if i%2 == 1 {
			blade = blade.Reverse()
		}
		m.satin(blade, st.SatinAlong{Width: 2.6, Pitch: coverPitch, Shape: func(t float64) float64 {
			if i%2 == 1 {
				t = 1 - t
			}
			return 1 - 0.5*t
		}})
	}
	m.satin(wavy(-54, 54, -46, 0.8, 36, 0), st.SatinAlong{Width: 2.2, Pitch: coverPitch})
	m.stop(0xF79ABC, "Flowers, foxglove")
	for _, f := range []st.Point{pt(-49.3, -31.5), pt(-43.3, -23), pt(8, -27.5)} {
		m.flower(f)
	}
	m.stop(0x0E8273, "Border, pond")
	m.satin(rounded(58, 8), st.SatinAlong{Width: borderWidth, Pitch: coverPitch})
	m.stop(0xA8A79C, "Backing hold-down, lichen")
	m.run(square(0))
	return m.b.Design()
}

// blanket sews the finish of a piece along its raw edge, teeth inwards.
func (m *maker) blanket(p st.Path) {
	q := p.Offset(-spineOff)
	m.part(q[0], q[1], func(b *st.Builder) { b.EStitch(q, toothDepth, toothPitch) })
}

func (m *maker) bean(p st.Path) {
	m.part(p[0], p[1], func(b *st.Builder) { b.Bean(p, 2, 3) })
}

func toadstoolCap() st.Path {
	return soften(spline(true,
		pt(-50, 4), pt(-40, 0), pt(-26, -2.5), pt(-13, -3), pt(0, -2.5), pt(14, 0), pt(24, 4), pt(26, 11), pt(22, 22),
		pt(12, 34), pt(-1, 41), pt(-13, 43), pt(-25, 41), pt(-38, 34), pt(-48, 22), pt(-52, 11)), 20)
}

// stemSide is the half width of the stem at a height.
func stemSide(y float64) float64 { return 11.5 + 5*math.Pow((2-y)/42, 2) }

// stem ends under the cap.
func stem() st.Path {
	return soften(append(stemOpen(5), pt(-14-stemSide(5), 5)), 12)
}

// stemFinish is the part of the stem that the cap leaves free.
func stemFinish() st.Path { return soften2(stemOpen(-5.5)) }

// stemOpen goes down the left side, along the foot and up the right side, from
// the given height and back to it.
func stemOpen(top float64) st.Path {
	var left, right st.Path
	for i := range 21 {
		y := top + (-38-top)*float64(i)/20
		left = append(left, pt(-14-stemSide(y), y))
		right = append(right, pt(-14+stemSide(y), y))
	}
	foot := spline(false, left[20], pt(-28, -41.5), pt(-14, -42.5), pt(0, -41.5), right[20])
	return append(append(left, foot[1:len(foot)-1]...), right.Reverse()...)
}

// soften2 is soften for an open line: its ends stay.
func soften2(p st.Path) st.Path {
	q := p.Sample(int(p.Length() / 0.5))
	for range 12 {
		r := append(st.Path{}, q...)
		for i := 1; i+1 < len(q); i++ {
			r[i] = pt((q[i-1].X+2*q[i].X+q[i+1].X)/4, (q[i-1].Y+2*q[i].Y+q[i+1].Y)/4)
		}
		q = r
	}
	return q
}

// snailFoot lies along the ground, and the neck rises from its end.
func snailFoot() st.Path {
	return soften(spline(true, pt(9, -42), pt(24, -42.4), pt(42, -42.2), pt(52.5, -41.5), pt(53, -38.5), pt(42, -37.4), pt(25, -37.4), pt(15, -38.6)), 4)
}

func snailNeck() st.Path {
	return soften(spline(true, pt(46.5, -37), pt(52.8, -37), pt(53.2, -27), pt(53, -19), pt(51.5, -13.4), pt(47, -13.2), pt(45.2, -17.5), pt(46.6, -27)), 4)
}

// sun is a disc with rays round it.
func (m *maker) sun(c st.Point) {
	m.fill(st.Circle(c, 4.2), 0.6)
	for i := range 10 {
		sin, cos := math.Sincos(2 * math.Pi / 10 * float64(i))
		ray := st.Line(pt(c.X+6*cos, c.Y+6*sin), pt(c.X+9*cos, c.Y+9*sin))
		m.satin(ray, st.SatinAlong{Width: 1.8, Pitch: coverPitch})
	}
}

// letter is an envelope turned by angle about its middle.
func letter(x, y, angle float64) st.Path {
	return turned(st.Rect(pt(0, 0), 16, 11), x, y, angle)
}

// flap is the flap of an envelope.
func flap(at st.Point, angle float64) st.Path {
	return turned(st.Path{pt(-8, 5.5), pt(0, -0.5), pt(8, 5.5)}, at.X, at.Y, angle)
}

func turned(p st.Path, x, y, angle float64) st.Path {
	sin, cos := math.Sincos(angle)
	return p.Map(func(q st.Point) st.Point { return pt(x+q.X*cos-q.Y*sin, y+q.X*sin+q.Y*cos) })
}

// spiral winds inwards from the given radius, turns times round.
func spiral(x, y, radius, turns float64) st.Path {
	const n = 200
	p := make(st.Path, n+1)
	for i := range p {
		t := float64(i) / n
		sin, cos := math.Sincos(-math.Pi/2 + 2*math.Pi*turns*t)
		r := radius * (1 - 0.85*t)
		p[i] = pt(x+r*cos, y+r*sin)
	}
	return p
}

// wavy is a sine from x0 to x1 about height y.
func wavy(x0, x1, y, height, length, phase float64) st.Path {
	const n = 240
	p := make(st.Path, n+1)
	for i := range p {
		x := x0 + (x1-x0)*float64(i)/n
		p[i] = pt(x, y+height*math.Sin(2*math.Pi*x/length+math.Pi*phase))
	}
	return p
}
