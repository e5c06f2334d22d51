package render

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"math"
	"strings"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/stitchfile"
)

// CardDPI is the resolution of card pages in pixels per inch.
const CardDPI = 300

// CardOptions say how Card lays its pages. The zero value is A4.
type CardOptions struct {
	Paper Paper
}

// The inks of the card. Those of text stand at 7:1 or better on white (WCAG 2.2).
var (
	ink   = color.RGBA{24, 28, 36, 255}
	quiet = color.RGBA{76, 80, 88, 255}
	act   = color.RGBA{0, 76, 110, 255} // what the hands do
	alarm = color.RGBA{140, 30, 0, 255}
	rule  = color.RGBA{190, 194, 200, 255}
	white = color.RGBA{255, 255, 255, 255}
)

func px(mm float64) int { return int(math.Round(mm / 25.4 * CardDPI)) }

// card lays rows down pages.
type card struct {
	d     *stitchfile.Design
	r     *analyse.Report
	paper Paper
	pages []*image.RGBA
	page  *image.RGBA
	y     int
	edge  int // margin, pixels

	title, figure, role, plain, small pen
}

// Card draws the card to pin up by the machine: a head with the design's figures,
// a row for each colour stop with its own picture and the hand steps, and the
// usual cautions at the foot of each page. Rows never break across pages.
func Card(d *stitchfile.Design, r *analyse.Report, o CardOptions) []*image.RGBA {
	if o.Paper.WidthMM <= 0 || o.Paper.HeightMM <= 0 {
		o.Paper = A4
	}
	c := &card{d: d, r: r, paper: o.Paper, edge: px(11)}
	c.turn()
	c.head()
	for i := range r.Stops {
		c.row(&r.Stops[i])
	}
	for i, page := range c.pages {
		c.foot(page, i+1)
	}
	return c.pages
}

// turn starts a page.
func (c *card) turn() {
	c.page = image.NewRGBA(image.Rect(0, 0, px(c.paper.WidthMM), px(c.paper.HeightMM)))
	draw.Draw(c.page, c.page.Rect, image.NewUniform(white), image.Point{}, draw.Src)
	c.pages = append(c.pages, c.page)
	c.y = c.edge
	c.title, c.figure = newPen(c.page, points(20), true, ink), newPen(c.page, points(30), true, ink)
	c.role, c.plain = newPen(c.page, points(12), true, ink), newPen(c.page, points(9.5), false, ink)
	c.small = newPen(c.page, points(8), false, quiet)
}

func (c *card) right() int  { return c.page.Rect.Max.X - c.edge }
func (c *card) bottom() int { return c.page.Rect.Max.Y - c.edge - px(13) }

// head names the design and gives the figures that decide whether to begin.
func (c *card) head() {
	size := px(46)
	picture := Thread(c.d, c.r, ThreadOptions{Width: size, Height: size})
	at := image.Rect(c.right()-size, c.y, c.right(), c.y+size)
	draw.Draw(c.page, at, picture, image.Point{}, draw.Src)
	frame(c.page, at, 2, rule)

	name := c.r.Name
	if name == "" {
		name = "Design without a name"
	}
	width := c.right() - size - px(6) - c.edge
	y := c.y + px(7)
	title := c.title.wrap(name, width)
	if len(title) > 2 {
		// Two lines leave room for the figures beside the picture.
		title = []string{title[0], c.title.fit(strings.Join(title[1:], " "), width)}
	}
	for i, line := range title {
		if i > 0 {
			y += c.title.line
		}
		c.title.write(c.edge, y, line)
	}
	r := c.r
	y += px(9)
	for _, line := range []string{
		fmt.Sprintf("%.0f x %.0f mm  (%.2f x %.2f in)", r.WidthMM, r.HeightMM, r.WidthMM/25.4, r.HeightMM/25.4),
		fmt.Sprintf("%d colour stops, %d stitches, %d trims", r.ColourStops, r.Stitches, r.Trims),
		fmt.Sprintf("about %.0f minutes at the machine", math.Ceil(r.Minutes)),
		fmt.Sprintf("needle thread %.0f m, bobbin thread %.0f m", math.Ceil(r.NeedleThreadM), math.Ceil(r.BobbinThreadM)),
	} {
		c.plain.write(c.edge, y, c.plain.fit(line, width))
		y += c.plain.line
	}
	grave := 0
	for _, f := range r.Findings {
		if f.Severity.AtLeast(analyse.Caution) {
			grave++
		}
	}
	if grave > 0 {
		warn := c.plain
		warn.ink = alarm
		y += px(1)
		for _, line := range warn.wrap(fmt.Sprintf("Before you sew, look at what the check found in this file: %d to mind.", grave), width) {
			warn.write(c.edge, y, line)
			y += warn.line
		}
	}
	c.y += size + px(4)
	box(c.page, image.Rect(c.edge, c.y, c.right(), c.y+4), ink)
	c.y += px(2)
}

// row draws one colour stop.
func (c *card) row(s *analyse.Stop) {
	numberW, pictureW, boxW := px(17), px(26), px(9)
	textX := c.edge + numberW + pictureW + px(5)
	textW := c.right() - boxW - px(5) - textX

	type line struct {
		p      pen
		s      string
		swatch bool
	}
	layout := func() []line {
		thread := "thread: your choice, the file has no colours"
		if s.ColourName != nil {
			thread = *s.ColourName
			if s.Thread.Name != "" && s.Thread.Name != thread {
				thread += " (" + s.Thread.Name + ")"
			}
		}
		hands := c.plain
		hands.ink = act
		var out []line
		add := func(p pen, text string) {
			for _, l := range p.wrap(text, textW) {
				out = append(out, line{p: p, s: l})
			}
		}
		for _, b := range s.Before {
			add(hands, "first: "+b)
		}
		out = append(out, line{p: c.role, s: c.role.fit(s.Role, textW)})
		out = append(out, line{p: c.plain, s: c.plain.fit(thread, textW-px(8)), swatch: true})
		out = append(out, line{p: c.small, s: c.small.fit(fmt.Sprintf("%d stitches, %s", s.Stitches, about(s.Minutes)), textW)})
		for _, a := range s.After {
			add(hands, "then: "+a)
		}
		return out
	}
	lines := layout()
	height := px(3)
	for _, l := range lines {
		height += l.p.line
	}
	height = max(height, pictureW) + px(3)
	if c.y+height > c.bottom() && c.y > c.edge {
		c.turn()
	}

	number := fmt.Sprint(s.Number)
	c.figure.write(c.edge+(numberW-px(3)-c.figure.width(number))/2, c.y+px(16), number)
	at := image.Rect(c.edge+numberW, c.y+px(1.5), c.edge+numberW+pictureW, c.y+px(1.5)+pictureW)
	picture := c.stopPicture(s, pictureW)
	draw.Draw(c.page, at, picture, image.Point{}, draw.Src)
	frame(c.page, at, 2, rule)
	frame(c.page, image.Rect(c.right()-boxW, c.y+px(4), c.right(), c.y+px(4)+boxW), 5, ink)

	y := c.y + px(1)
	for _, l := range lines {
		if y+l.p.line > c.bottom() {
			// A row longer than a page goes on overleaf: no hand step may be lost.
			c.turn()
			y, height = c.y, 0
		}
		y += l.p.line
		height = max(height, y+px(4)-c.y)
		l.p.page = c.page
		x := textX
		if l.swatch {
			swatch := image.Rect(textX, y-px(3.2), textX+px(6), y+px(0.8))
			if s.Thread.HasColour() {
				box(c.page, swatch, s.Thread.Colour)
			}
			frame(c.page, swatch, 3, ink)
			x = textX + px(8)
		}
		l.p.write(x, y, l.s)
	}
	c.y += height
	box(c.page, image.Rect(c.edge, c.y-px(0.7), c.right(), c.y-px(0.7)+2), rule)
}

// lineOnCard is the least width of a thread in a stop's picture, in pixels of
// the page. A single line at true scale would be finer than a hair.
const lineOnCard = 3.5

// stopPicture draws a stop for its row, side pixels square. Its ground is white
// as the card, or dark for a thread that would not show on white.
func (c *card) stopPicture(s *analyse.Stop, side int) *image.RGBA {
	o := ThreadOptions{Width: side, Height: side, Ground: white, Strong: s.Number}
	perMM := float64(side) / (1.06 * max(c.r.WidthMM, c.r.HeightMM, 1)) // with Thread's margin
	o.Laid = max(analyse.DefaultSettings().LaidWidth(), lineOnCard/perMM)
	if contrast(threadColour(s), white) < 1.6 {
		o.Ground = color.RGBA{104, 110, 120, 255}
	}
	return Thread(c.d, c.r, o)
}

// foot carries the cautions and the page number.
func (c *card) foot(page *image.RGBA, number int) {
	p := newPen(page, points(8), false, quiet)
	y := page.Rect.Max.Y - c.edge - px(8)
	text := "Hands clear while the needle moves. Stop the machine and take the hoop off it before scissors come near; leave the cloth in the hoop. Stop if the machine labours: dense stitching breaks needles. The machine's manual comes first."
	for _, line := range p.wrap(text, c.right()-c.edge-px(24)) {
		p.write(c.edge, y, line)
		y += p.line
	}
	mark := fmt.Sprintf("page %d of %d", number, len(c.pages))
	p.write(c.right()-p.width(mark), page.Rect.Max.Y-c.edge-px(8), mark)
}

// about writes a time to the minute.
func about(minutes float64) string {
	if minutes < 1 {
		return "under a minute"
	}
	return fmt.Sprintf("about %.0f min", minutes)
}
