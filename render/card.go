package render

import (
	"image"
	"image/color"
	"iter"
	"math"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// CardDPI is the resolution of card pages in pixels per inch.
const CardDPI = 300

// CardOptions say how Card lays its pages. The zero value is A4 upright, in
// colour.
type CardOptions struct {
	Paper Paper
	Ink   bool // for printers without colour: hatching and words stand for it
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

// card is one card under way.
type card struct {
	d *stitchfile.Design
	r *report.Report
	o CardOptions
	cardStyle

	act, alarm color.RGBA // black without colour
	patterns   map[color.RGBA]int
	pictures   stopPictures
}

// cardStyle holds the measures of a card, in pixels, and its pens.
type cardStyle struct {
	width, height int // of the page
	edge, gap     int
	columns, colW int
	number        int // width of the column with the stop's number
	picture, tick int
	head          int // side of the head's picture
	narrow        bool

	title, role, plain, bold, small pen
	figures                         []pen // from large to small, for short and long numbers
}

// styleFor fits the measures to a sheet. Sheets wider than high get two columns
// where each is still wide enough to be read.
func styleFor(p Paper) cardStyle {
	s := cardStyle{width: px(p.WidthMM), height: px(p.HeightMM), columns: 1}
	small := min(p.WidthMM, p.HeightMM) < 180
	s.edge, s.gap = px(10), px(8)
	if small {
		s.edge, s.gap = px(6), px(5)
	}
	s.colW = s.width - 2*s.edge
	if p.WidthMM > p.HeightMM && (s.colW-s.gap)/2 > px(80) {
		s.columns, s.colW = 2, (s.colW-s.gap)/2
	}
	s.narrow = s.colW < px(115) || s.height < px(120)
	pens := func(title, role, plain, small float64, figures ...float64) {
		pen := func(pt float64, bold bool, c color.RGBA) pen { return newPen(nil, points(pt), bold, c) }
		s.title, s.role = pen(title, true, ink), pen(role, true, ink)
		s.plain, s.bold, s.small = pen(plain, false, ink), pen(plain, true, ink), pen(small, false, quiet)
		for _, f := range figures {
			s.figures = append(s.figures, pen(f, true, ink))
		}
	}
	switch {
	case !s.narrow:
		s.number, s.picture, s.tick, s.head = px(21), px(31), px(9), px(48)
		pens(21, 13.5, 10.5, 9.5, 46, 34, 24, 14)
	case small:
		s.number, s.picture, s.tick, s.head = px(13.5), px(21), px(7), px(33)
		pens(14, 10.5, 8.5, 8, 30, 22, 15, 9)
	default:
		s.number, s.picture, s.tick, s.head = px(16), px(26), px(8), px(44)
		pens(20, 12, 9.5, 9, 36, 26, 18, 11)
	}
	return s
}

// Card draws the card to pin up by the machine, page by page: a head with the
// design's figures and the usual cautions, what to cut, what the checks found,
// and a row for each colour stop with its own picture and the hand steps. Rows
// do not break across pages unless one is longer than a page. Each page is drawn
// when the loop asks for it, so that a long card takes the memory of one page.
func Card(d *stitchfile.Design, r *report.Report, o CardOptions) iter.Seq2[int, *image.RGBA] {
	return func(yield func(int, *image.RGBA) bool) {
		newCard(d, r, o).draw(yield)
	}
}

func newCard(d *stitchfile.Design, r *report.Report, o CardOptions) *card {
	o.Paper = o.Paper.orA4()
	c := &card{d: d, r: r, o: o, cardStyle: styleFor(o.Paper), act: act, alarm: alarm, patterns: map[color.RGBA]int{}}
	if o.Ink {
		c.act, c.alarm = ink, ink
	}
	c.pictures = stopPictures{d: d, r: r, side: c.picture, ink: o.Ink}
	return c
}

// draw lays the card out and draws its pages.
func (c *card) draw(yield func(int, *image.RGBA) bool) {
	blocks := append(c.cutList(), c.findings()...)
	for i := range c.r.Stops {
		blocks = append(blocks, c.row(&c.r.Stops[i])...)
	}
	tops := [2]int{c.edge + c.firstHead(nil), c.edge + c.laterHead(nil)}
	room := func(column int) int {
		if column < c.columns {
			return c.bottom() - tops[0]
		}
		return c.bottom() - tops[1]
	}
	columns := flow(blocks, room)
	pages := (len(columns) + c.columns - 1) / c.columns
	for n := range pages {
		page := image.NewRGBA(image.Rect(0, 0, c.width, c.height))
		box(page, page.Rect, white)
		top := tops[min(n, 1)]
		if n == 0 {
			c.firstHead(page)
		} else {
			c.laterHead(page)
		}
		for k := range c.columns {
			if n*c.columns+k >= len(columns) {
				break
			}
			x, y := c.edge+k*(c.colW+c.gap), top
			for _, b := range columns[n*c.columns+k] {
				b.draw(page, x, y)
				y += b.height
			}
		}
		c.foot(page, n+1, pages)
		if !yield(n, page) {
			return
		}
	}
}
