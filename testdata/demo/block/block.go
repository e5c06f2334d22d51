// Package block digitises the demonstration blocks: "Kettle and Pear", a kettle and
// a pear on a lighthouse keeper's table, sewn as applique in the hoop; and "Snail
// Post", made another way.
package block

import (
	"fmt"
	"image/color"
	"math"
	"slices"
	"strings"

	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// Name is the name of the block, as the files carry it.
const Name = "Kettle and Pear"

// Sizes are the side lengths in millimetres that the block is digitised for.
var Sizes = []int{100, 125, 150}

// What stays the same in every size, in millimetres.
const (
	coverWidth  = 3.5
	coverPitch  = 0.40
	runLength   = 2.5
	fillSpacing = 0.42 // loose enough to bear satin on top
	fillLength  = 1.9
)

// maker lays one size. Shapes are drawn for 150 mm and scaled; stitches are not.
type maker struct {
	b     *st.Builder
	k     float64
	size  float64
	first bool
}

// New digitises the block afresh at the given side length.
func New(size int) *stitchfile.Design { return lay(size, false) }

// Faulty is the largest block with the faults planted that a check should
// find: an open and a displaced cover, stitches too long and too short, a
// missing tie, travel that is not cut and an empty stop.
func Faulty() *stitchfile.Design { return lay(150, true) }

// Stretched is the smallest block blown up without being digitised again, as
// happens when a file is scaled on the machine: every stitch grows, and none
// is added.
func Stretched(factor float64) *stitchfile.Design {
	d := New(Sizes[0])
	for i, m := range d.Moves {
		d.Moves[i].X = int32(math.Round(float64(m.X) * factor))
		d.Moves[i].Y = int32(math.Round(float64(m.Y) * factor))
	}
	return d
}

func pt(x, y float64) st.Point { return st.Point{X: x, Y: y} }

func (m *maker) p(x, y float64) st.Point { return pt(x*m.k, y*m.k) }

func (m *maker) scaled(p st.Path) st.Path {
	return p.Map(func(q st.Point) st.Point { return m.p(q.X, q.Y) })
}

// stop starts the next colour.
func (m *maker) stop(rgb uint32, name string) {
	if !m.first {
		m.b.Stop()
	}
	m.first = false
	m.b.Thread(color.RGBA{uint8(rgb >> 16), uint8(rgb >> 8), uint8(rgb), 255}, name)
}

// part sews one part from its start, tied at both ends and cut after.
func (m *maker) part(from, towards st.Point, sew func(b *st.Builder)) {
	m.b.TieIn(from, pt(towards.X-from.X, towards.Y-from.Y))
	sew(m.b)
	m.b.TieOff().Trim()
}

func (m *maker) run(p st.Path) {
	m.part(p[0], p[1], func(b *st.Builder) { b.Run(p, runLength) })
}

func (m *maker) fill(p st.Path, angle float64) { m.fillBy(p, fillLength, angle) }

// fillBy fills with stitches of the given length: longer ones where satin comes
// on top, so that needle holes do not crowd.
func (m *maker) fillBy(p st.Path, length, angle float64) {
	// The fill starts somewhere on its first row, so the tie goes where the
	// needle comes down rather than at a corner of the outline.
	probe := new(st.Builder).Fill(p, fillSpacing, length, angle).Design().Moves
	from, to := probe[0], probe[len(probe)-2]
	m.part(pt(float64(from.X)/10, float64(from.Y)/10), pt(float64(to.X)/10, float64(to.Y)/10),
		func(b *st.Builder) { b.Fill(p, fillSpacing, length, angle) })
}

func (m *maker) satin(p st.Path, s st.SatinAlong) {
	m.part(p[0], p[1], func(b *st.Builder) { b.Satin(p, s) })
}

func (m *maker) cover(p st.Path, pitch float64) {
	m.satin(p, st.SatinAlong{Width: coverWidth, Pitch: pitch})
}

func kettle() st.Path {
	return soften(spline(true,
		pt(-24, -40), pt(-9, -40), pt(1, -36), pt(4.5, -26), pt(1.5, -12), pt(-6, -2), pt(-15, 3),
		pt(-24, 4), pt(-33, 2), pt(-39.5, -3), pt(-44, -2), pt(-48, 5), pt(-52.5, 9),
		pt(-56.5, 4), pt(-54.5, -5), pt(-52, -15), pt(-52, -27), pt(-48, -37), pt(-38, -40)), 50)
}

func pear() st.Path {
	return soften(spline(true,
		pt(32, -39.5), pt(43, -38.5), pt(51.5, -30), pt(52.5, -19), pt(47, -7), pt(42.5, 2), pt(40, 12),
		pt(32, 18), pt(24, 12), pt(21.8, 2), pt(18, -7), pt(13.4, -19), pt(14.2, -30), pt(22, -38.5)), 30)
}

// table is the cloth under both pieces: straight above, scalloped below.
func table() st.Path {
	p := st.Path{pt(56.5, -44.5), pt(-56.5, -44.5)}
	for i := range 241 {
		t := float64(i) / 240
		p = append(p, pt(-56.5+113*t, -53.5-3.5*math.Abs(math.Sin(t*math.Pi*8))))
	}
	return append(p, p[0])
}

// tower is a band of the lighthouse from one height to another.
func tower(y0, y1 float64) st.Path {
	half := func(y float64) float64 { return 7.5 - (y-7)*0.085 }
	return st.Polygon(pt(6-half(y0), y0), pt(6+half(y0), y0), pt(6+half(y1), y1), pt(6-half(y1), y1))
}

func flip(p st.Path) st.Path {
	return p.Map(func(q st.Point) st.Point { return pt(-q.X, q.Y) }).Reverse()
}

func lay(size int, faulty bool) *stitchfile.Design {
	m := &maker{b: &st.Builder{Name: Name}, size: float64(size), k: float64(size) / 150, first: true}
	square := func(inset float64) st.Path { return st.Rect(pt(0, 0), m.size-2*inset, m.size-2*inset) }
	kettle, pear := m.scaled(kettle()), m.scaled(pear())
	pieces := []st.Path{kettle, pear}

	m.stop(0xB8B2A6, "Cloth outline, stone")
	m.run(square(3))
	m.stop(0x9A9488, "Cloth hold-down, pebble")
	m.run(square(2))
	m.stop(0x6C8EA8, "Kettle placement, slate blue")
	m.run(kettle)
	m.stop(0x3F6F8F, "Kettle tack-down, harbour blue")
	m.part(kettle[0], kettle[1], func(b *st.Builder) { b.DoubleRun(kettle.Offset(0.5), runLength) })
	m.stop(0xC9B45A, "Pear placement, straw")
	m.run(pear)
	m.stop(0xA9A03C, "Pear tack-down, moss gold")
	q := pear.Offset(0.5)
	m.part(q[0], q[1], func(b *st.Builder) { b.OpenZigzag(q, 1.6, 1.8) })

	// Decoration that lies under the covers.
	m.stop(0x7C9A5E, "Leaves and hill, sage")
	hill := spline(true, pt(-5, 3), pt(6, 1), pt(17, 3), pt(15, 6), pt(6, 8), pt(-3, 6))
	leaves := []st.Path{
		leaf(pt(32, 25), 13, 6.5, 2.5),
		leaf(pt(-52, 24), 10, 5.5, 0.3), leaf(pt(-49.5, 33), 10, 5.5, 2.6), leaf(pt(-49, 38), 9, 5.5, 0.5),
	}
	for _, l := range []st.Path{leaves[1], leaves[2], leaves[3]} {
		leaves = append(leaves, flip(l).Map(func(q st.Point) st.Point { return pt(q.X, q.Y+2) }))
	}
	for i := range 3 {
		for _, side := range []float64{0.6, math.Pi - 0.6} {
			leaves = append(leaves, leaf(pt(-40+float64(i)*16, -29), 8, 4.5, side))
		}
	}
	m.fill(m.scaled(hill), 0.1)
	for i, l := range leaves {
		m.fillBy(m.scaled(l), 3, float64(i)*0.4)
	}
	m.stop(0xC96F5B, "Table cloth, brick rose")
	m.fill(m.scaled(table()), math.Pi/2)
	m.stop(0xE3B23C, "Pear cheek, amber")
	cheek := soften(spline(true, pt(33, -34), pt(42, -32), pt(46, -25), pt(45, -16), pt(40, -7), pt(36, 2),
		pt(33, 6), pt(33, -2), pt(37, -13), pt(38, -23)), 8)
	m.fill(m.scaled(cheek), 0.05)
	m.stop(0xB8433A, "Lighthouse bands, signal red")
	bands := []st.Path{tower(8.5, 15), tower(21.5, 28), tower(34.5, 41), st.Polygon(pt(1, 48), pt(11, 48), pt(6, 54))}
	for _, t := range bands {
		m.fill(m.scaled(t), 0)
	}
	m.stop(0xF3EBD8, "Lighthouse walls, cream")
	walls := []st.Path{tower(15.3, 21.2), tower(28.3, 34.2)}
	for _, t := range walls {
		m.fill(m.scaled(t), 0)
	}
	m.stop(0xF2C75C, "Lamp and beams, butter")
	beams := []st.Path{
		st.Polygon(pt(2.6, 41.6), pt(9.4, 41.6), pt(9.4, 47.4), pt(2.6, 47.4)),
		st.Polygon(pt(0, 44.2), pt(0, 45.8), pt(-36, 54), pt(-36, 43)),
		st.Polygon(pt(12, 45.8), pt(12, 44.2), pt(38, 43), pt(38, 54)),
	}
	for _, t := range beams {
		m.fill(m.scaled(t), 0.2)
	}

	m.stop(0x2F4858, "Covers, deep sea")
	pitch, path := coverPitch, kettle
	if faulty {
		pitch = 0.9
		path = displaced(kettle)
	}
	m.cover(path, coverPitch)
	m.cover(pear, pitch)
	m.stop(0xE8DCC0, "Lines beside the covers, oat")
	for _, p := range pieces {
		for _, side := range []float64{1, -1} {
			q := p.Offset(side * (coverWidth/2 + 0.6))
			m.part(q[0], q[1], func(b *st.Builder) { b.TripleRun(q, runLength) })
		}
	}

	m.stop(0x4F7048, "Stems, fern")
	stemL := spline(false, pt(-54, 16), pt(-51, 26), pt(-49, 36), pt(-52, 46), pt(-51, 52))
	stemR := flip(stemL).Map(func(q st.Point) st.Point { return pt(q.X, q.Y+2) })
	stems := []st.Path{stemL, stemR.Reverse(), spline(false, pt(32, 21), pt(32.5, 25), pt(35, 31))}
	for i := range 3 {
		stems = append(stems, st.Line(pt(-40+float64(i)*16, -34), pt(-40+float64(i)*16, []float64{-20, -16, -20}[i])))
	}
	for i, s := range stems {
		w := 2.6
		if i == 2 {
			w = 3
		}
		m.satin(m.scaled(s), st.SatinAlong{Width: w, Pitch: coverPitch})
	}
	m.stop(0xD98BA0, "Flowers, sweet pea")
	flowers := []st.Point{pt(-54, 16), pt(-51, 52), pt(54, 18), pt(51, 53), pt(-40, -18), pt(-24, -14), pt(-8, -18)}
	for _, f := range flowers {
		m.flower(m.p(f.X, f.Y))
	}
	m.stop(0x8A5A3C, "Handle and knob, chestnut")
	handle := spline(false, pt(-41, 7), pt(-41, 20), pt(-33, 29), pt(-24, 31), pt(-15, 29), pt(-7, 20), pt(-7, 7))
	knob := st.Circle(pt(-24, 11.5), 4)
	m.satin(m.scaled(handle), st.SatinAlong{Width: 4.5, Pitch: coverPitch})
	m.fill(m.scaled(knob), 0)
	m.stop(0x3F6F8F, "Border, harbour blue")
	border := rounded(64, 9)
	m.satin(m.scaled(border), st.SatinAlong{Width: 4 * m.k, Pitch: coverPitch})
	m.stop(0xC96F5B, "Border edge, brick rose")
	for _, half := range []float64{67.4, 60.6} {
		e := m.scaled(rounded(half, 9+half-64))
		m.satin(e, st.SatinAlong{Width: 1.6 * m.k, Pitch: coverPitch})
	}
	if faulty {
		m.plant()
	}

	m.stop(0xD8D2C4, "Batting hold-down, linen")
	m.run(square(1))
	m.stop(0xA7A196, "Backing hold-down, driftwood")
	m.run(square(0))

	m.stop(0x9DB4BF, "Quilting, sea mist")
	// The quilting goes round everything that is sewn before it. Covers and
	// stems have a width that does not scale, hence the two distances.
	var round []st.Path
	add := func(ps ...st.Path) {
		for _, p := range ps {
			round = append(round, m.scaled(p))
		}
	}
	round = append(round, kettle.Offset(-coverWidth/2), pear.Offset(-coverWidth/2))
	add(leaves...)
	add(bands...)
	add(walls...)
	add(beams...)
	add(hill, knob, table())
	for _, s := range append(stems, handle) {
		s := m.scaled(s)
		round = append(round, append(append(s.Offset(2), s.Offset(-2).Reverse()...), s.Offset(2)[0]))
	}
	for _, f := range flowers {
		round = append(round, st.Circle(m.p(f.X, f.Y), 5.2*m.k))
	}
	for _, e := range echoes(round, 58.5*m.k, 1.5, 1.6) {
		m.run(thinned(e, 1))
	}
	return m.b.Design()
}

// flower sews five petals of satin about the centre in one go.
func (m *maker) flower(c st.Point) {
	m.part(c, pt(c.X+1, c.Y), func(b *st.Builder) {
		for i := range 5 {
			sin, cos := math.Sincos(math.Pi/2 + float64(i)*2*math.Pi/5)
			r := 5.2 * m.k
			petal := st.Line(pt(c.X+0.8*cos, c.Y+0.8*sin), pt(c.X+r*cos, c.Y+r*sin))
			b.Satin(petal, st.SatinAlong{Width: 4.2 * m.k, Pitch: coverPitch, Shape: func(t float64) float64 {
				return 0.3 + 0.7*math.Sin(math.Pi*(0.1+0.8*t))
			}})
		}
	})
}

// displaced moves a sector of the path sideways, past what its tack-down holds.
func displaced(p st.Path) st.Path {
	off := p.Offset(-2.6)
	q := make(st.Path, len(p))
	for i := range p {
		// A smooth hump over a fifth of the way round.
		t := (float64(i)/float64(len(p)-1) - 0.15) / 0.2
		w := 0.0
		if t > 0 && t < 1 {
			w = min(1, 2*math.Sin(math.Pi*t))
		}
		q[i] = pt(p[i].X+(off[i].X-p[i].X)*w, p[i].Y+(off[i].Y-p[i].Y)*w)
	}
	return q
}

// plant sews the faults that are not part of a cover.
func (m *maker) plant() {
	b := m.b
	b.Stop() // a stop with nothing sewn before the next
	m.stop(0xB8433A, "Odd ends, signal red")
	// Satin far too long for a machine to sew without a loop.
	m.satin(st.Line(pt(-20, 57), pt(0, 57)), st.SatinAlong{Width: 9.5, Pitch: coverPitch})
	m.part(pt(15, 57), pt(16, 57), func(b *st.Builder) { b.StitchTo(pt(29, 57)).StitchTo(pt(31, 57)) })
	// No tie at either end, then travel of 40 mm without a cut.
	b.Run(st.Line(pt(-57, -58), pt(-37, -58)), runLength)
	b.JumpTo(pt(3, -60)).Run(st.Line(pt(3, -60), pt(23, -60)), runLength)
	b.TieOff().Trim()
	m.part(pt(30, -60), pt(31, -60), func(b *st.Builder) { b.Run(st.Line(pt(30, -60), pt(50, -60)), 0.2) })
}

// Files digitises every file of the demonstration, by name without folder, in
// those of the given formats that a file is wanted for.
func Files(formats []string) (map[string][]byte, error) {
	out := map[string][]byte{}
	put := func(stem, format string, d *stitchfile.Design) error {
		data, err := st.Encode(format, d)
		if err != nil {
			return fmt.Errorf("%s: %w", stem, err)
		}
		out[stem+"."+strings.ToLower(format)] = data
		return nil
	}
	for _, size := range Sizes {
		d := New(size)
		for _, f := range formats {
			if err := put(fmt.Sprintf("kettle-%d", size), f, d); err != nil {
				return nil, err
			}
		}
	}
	snail := Snail()
	for _, f := range formats {
		if f == "DST" || f == "PES" {
			if err := put(fmt.Sprintf("snail-%d", SnailSize), f, snail); err != nil {
				return nil, err
			}
		}
	}
	if err := put("kettle-135-stretched", "DST", Stretched(1.35)); err != nil {
		return nil, err
	}
	if err := put("kettle-150-faulty", "DST", Faulty()); err != nil {
		return nil, err
	}
	return out, nil
}

// Formats lists the formats the block is sold in, as far as there is an encoder.
func Formats() []string {
	var out []string
	for _, f := range []string{"DST", "PES", "JEF"} {
		if slices.Contains(st.Formats(), f) {
			out = append(out, f)
		}
	}
	return out
}
