package render

import (
	"image"
	"image/color"
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/stitchfile"
)

// sheet is a picture under way: a field that shows the design, and below it a
// foot with the scale bar, what the picture is, and what its colours mean.
type sheet struct {
	d      *stitchfile.Design
	r      *report.Report
	o      Options
	img    *image.RGBA
	field  image.Rectangle
	place  plane
	ground color.RGBA // what the field looks like; white where it is transparent
	em     float64    // size of the letters, pixels
	plates badges     // all numbers in the field, so that they keep clear of one another
}

// leastSheet is the least width of a picture drawn at a resolution, in pixels,
// so that a badge's foot can be read too.
const leastSheet = 700

// foot is what stands below the field.
type foot struct {
	title string
	notes []string // each on lines of its own
	keys  []key
	ramp  *scaleRamp
}

// key is an entry of a legend.
type key struct {
	colour color.RGBA
	mark   string // written on the colour
	text   string
}

// newSheet lays out a picture for the foot, and draws all but the design.
func newSheet(d *stitchfile.Design, r *report.Report, o Options, f foot) *sheet {
	return newSheetOf(d, r, o, f, geom.Point{}, r.WidthMM, r.HeightMM)
}

// newSheetOf is newSheet for a part of the design, given by its middle and size
// in mm. A hoop, where one is to be drawn, is shown whole all the same.
func newSheetOf(d *stitchfile.Design, r *report.Report, o Options, f foot, middle geom.Point, w, h float64) *sheet {
	s := &sheet{d: d, r: r, o: o}
	if hoop := hoopOf(r); hoop.Given() {
		middle, w, h = geom.Point{}, max(r.WidthMM, hoop.WidthMM), max(r.HeightMM, hoop.HeightMM)
	}
	w, h = max(w, 1), max(h, 1)
	if hoop := hoopOf(r); hoop.Given() && !o.Bare {
		f.notes = append(f.notes, "Outline with ticks: your hoop's field, "+unitsOf(r).Field(hoop.WidthMM, hoop.HeightMM)+".")
	}
	if o.Marks {
		f.notes = append(f.notes, findingNotes(r)...)
	}
	if part := r.Partial(); part != "" {
		f.notes = append([]string{"NOT WHOLE: " + part + "."}, f.notes...)
	}
	margin := max(0.03*max(w, h), 0.5) // at least a thread's width
	w, h = w+2*margin, h+2*margin

	width := float64(o.Width)
	perMM := o.DPI / 25.4
	switch {
	case o.Width > 0:
		perMM = width / w
	case o.DPI > 0:
		width = max(perMM*w, leastSheet)
	default:
		width, perMM = 2000, 2000/w
	}
	if most := max(width, perMM*h) / (maxPicture * 0.8); most > 1 {
		width, perMM = width/most, perMM/most
	}
	s.em = max(12, min(max(width/60, 2.2*perMM), width/34))
	iw, ih := int(math.Round(width)), max(1, int(math.Round(perMM*h)))
	s.field = image.Rect(0, 0, iw, ih)
	s.place = planeIn(s.field, perMM)
	s.place.ctx = o.Context
	s.place.x -= middle.X * perMM
	s.place.y += middle.Y * perMM

	footH := 0
	if !o.Bare {
		footH = s.foot(f, false)
	}
	s.img = image.NewRGBA(image.Rect(0, 0, iw, ih+footH))
	if s.ground = o.Ground; s.ground.A == 0 {
		s.ground = Cloth
	}
	if o.Transparent {
		s.ground = white
	} else {
		box(s.img, s.field, s.ground)
	}
	if !o.Bare {
		box(s.img, image.Rect(0, ih, iw, ih+footH), white)
		s.foot(f, true)
	}
	s.hoop()
	return s
}

// picture ends the drawing.
func (s *sheet) picture() Picture {
	if s.o.Marks && !s.o.Bare {
		s.findings()
	}
	return Picture{Image: s.img, DPI: s.place.perMM * 25.4}
}

// laid is the laid width of the thread in pixels.
func (s *sheet) laid() float64 {
	return settingsOf(s.r).LaidWidth() * s.place.perMM
}

// pen writes on the sheet in letters of k times the usual size.
func (s *sheet) pen(k float64, bold bool, c color.RGBA) pen { return newPen(s.img, s.em*k, bold, c) }

// hoop draws the outline of the hoop's field, and short ticks at its middle.
func (s *sheet) hoop() {
	own := hoopOf(s.r)
	if !own.Given() {
		return
	}
	w, h := own.WidthMM/2, own.HeightMM/2
	b := brush{threadPainter{img: s.img}}
	c := readable(s.ground)
	b.line(c, max(2, s.em/9))
	b.closed(s.place, []geom.Point{{X: -w, Y: -h}, {X: w, Y: -h}, {X: w, Y: h}, {X: -w, Y: h}})
	t := s.em / s.place.perMM
	for _, q := range [][4]float64{{-w, 0, t - w, 0}, {w, 0, w - t, 0}, {0, -h, 0, t - h}, {0, h, 0, h - t}} {
		b.open(s.place, []geom.Point{{X: q[0], Y: q[1]}, {X: q[2], Y: q[3]}})
	}
}

// readable is ink or white, whichever stands out more on the ground.
func readable(ground color.RGBA) color.RGBA {
	if contrast(ground, ink) >= contrast(ground, white) {
		return ink
	}
	return white
}

// foot measures the foot and, where ink is set, draws it. It gives the height.
func (s *sheet) foot(f foot, draw bool) int {
	em := int(s.em)
	edge := em
	width := s.field.Dx() - 2*edge
	head, plain := s.pen(1.15, true, ink), s.pen(1, false, ink)
	y := s.field.Max.Y + edge/2
	y = s.scaleBars(edge, y, draw)
	if f.title != "" {
		y += em / 4
	}
	write := func(p pen, x int, text string) {
		for _, line := range p.wrap(text, s.field.Dx()-edge-x) {
			y += p.line
			if draw {
				p.write(x, y-p.line/4, line)
			}
		}
	}
	if f.title != "" {
		write(head, edge, f.title)
	}
	for _, n := range f.notes {
		write(plain, edge, n)
	}
	if f.ramp != nil {
		y = f.ramp.draw(s, edge, y+em/2, draw)
	}
	if len(f.keys) > 0 {
		y += em / 3
		y = s.legend(f.keys, plain, edge, y, width, draw)
	}
	return y + edge/2 - s.field.Max.Y
}

// legend sets the keys in as many columns as fit.
func (s *sheet) legend(keys []key, p pen, x0, y, width int, draw bool) int {
	em := int(s.em)
	sw := em * 5 / 2
	widest := 0
	for _, k := range keys {
		widest = max(widest, p.width(p.legible(k.text)))
	}
	cell := min(width, sw+em/2+widest+em)
	cols := max(1, width/cell)
	rows := (len(keys) + cols - 1) / cols
	step := p.line + em/4
	for i, k := range keys {
		if !draw {
			break
		}
		x, top := x0+i/rows*cell, y+i%rows*step
		r := image.Rect(x, top, x+sw, top+em*5/4)
		box(s.img, r, k.colour)
		frame(s.img, r, max(1, em/12), ink)
		if k.mark != "" {
			m := s.pen(0.9, true, ink)
			w := m.width(k.mark) + em/3
			box(s.img, image.Rect(x+(sw-w)/2, top+em/6, x+(sw+w)/2, top+em*5/4-em/6), white)
			m.write(x+(sw-w)/2+em/6, top+em, k.mark)
		}
		p.write(x+sw+em/2, top+em, p.fit(k.text, cell-sw-em))
	}
	return y + rows*step
}

var (
	barMM   = []float64{200, 100, 50, 20, 10, 5, 2, 1, 0.5, 0.2, 0.1}
	barInch = []struct {
		name string
		mm   float64
	}{{"8 in", 203.2}, {"4 in", 101.6}, {"2 in", 50.8}, {"1 in", 25.4}, {"1/2 in", 12.7}, {"1/4 in", 6.35}, {"1/8 in", 3.175}, {"1/16 in", 1.5875}, {"1/32 in", 0.79375}, {"1/64 in", 0.396875}}
)

// scaleBars draws a bar in millimetres and one in inches, each the longest of
// round length within a third of the width.
func (s *sheet) scaleBars(x, y int, draw bool) int {
	p := s.pen(1, false, ink)
	room := float64(s.field.Dx()) / 3
	bar := func(x int, mm float64, name string) int {
		n := int(math.Round(mm * s.place.perMM))
		if draw {
			t := max(2, int(s.em/7))
			h := int(s.em * 0.7)
			base := y + p.line - p.line/4
			box(s.img, image.Rect(x, base-t, x+n, base), ink)
			box(s.img, image.Rect(x, base-h, x+t, base), ink)
			box(s.img, image.Rect(x+n-t, base-h, x+n, base), ink)
			p.write(x+n+int(s.em/2), base, name)
		}
		return x + n + int(s.em/2) + p.width(name) + int(1.5*s.em)
	}
	u := unitsOf(s.r)
	for _, mm := range barMM {
		if u == words.Inches {
			break
		}
		if mm*s.place.perMM <= room {
			x = bar(x, mm, words.Figure(mm, 2)+" mm")
			break
		}
	}
	for _, in := range barInch {
		if u == words.Metric {
			break
		}
		if in.mm*s.place.perMM <= room && x+int(in.mm*s.place.perMM)+p.width(in.name)+int(2*s.em) <= s.field.Dx() {
			bar(x, in.mm, in.name)
			break
		}
	}
	return y + p.line
}
