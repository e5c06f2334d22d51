package render

import (
	"context"
	"image"
	"image/color"
	"io"
	"iter"
	"slices"

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

	// Context ends the drawing soon after it ends itself; nil never does.
	Context context.Context
}

// The inks of the card. Those of text stand at 7:1 or better on white (WCAG 2.2).
var (
	ink   = color.RGBA{24, 28, 36, 255}
	quiet = color.RGBA{76, 80, 88, 255}
	act   = color.RGBA{0, 68, 100, 255} // what the hands do
	alarm = color.RGBA{140, 30, 0, 255}
	rule  = color.RGBA{190, 194, 200, 255}
	white = color.RGBA{255, 255, 255, 255}

	handGround = color.RGBA{228, 240, 248, 255} // of rows with hand work
)

// Card draws the card to pin up by the machine, sheet by sheet, at CardDPI. First
// come the sheets to do: a row for each colour stop that reads from two metres,
// with its number, its thread, a verb for the hands and a small picture, 24 to a
// sheet of A4 or letter. Then come the sheets to prepare: what was found, cloth to
// cut, threads to set out, and what the hands do in full. A few are drawn at a time, on
// all processors, shortly before the loop asks for them, so that a long card takes the
// memory of those few. There are no more when the context has ended.
func Card(d *stitchfile.Design, r *report.Report, o CardOptions) iter.Seq2[int, *image.RGBA] {
	return func(yield func(int, *image.RGBA) bool) {
		c := newCard(d, r, o, CardDPI)
		n := 0
		for img := range eachAhead(c.sheets(), func(draw func(canvas)) *image.RGBA {
			cv := newPixels(c.o.Paper, CardDPI)
			draw(cv)
			return cv.img
		}) {
			if ended(o.Context) != nil || !yield(n, img) {
				return
			}
			n++
		}
	}
}

// CardPDF writes the sheets of Card as one PDF of true size, with text that can be
// searched and enlarged. Errors are those of w and of a context that ended.
func CardPDF(w io.Writer, d *stitchfile.Design, r *report.Report, o CardOptions) error {
	c := newCard(d, r, o, 2*CardDPI)
	f := newPDF(titleOf(r))
	for _, s := range c.sheets() {
		s()(f.page(c.o.Paper))
		if err := ended(o.Context); err != nil {
			return err
		}
	}
	return f.end(w)
}

// card is one card under way. Lengths are in mm.
type card struct {
	d *stitchfile.Design
	r *report.Report
	o CardOptions

	edge, gap float64
	columns   int // of the sheets to do
	colW      float64
	prepare   int     // columns of the sheets to prepare
	headSide  float64 // of the picture there, at most
	numberW   float64
	side      float64 // of a row's picture
	textW     float64
	needW     float64 // widest line of any row

	act, alarm color.RGBA         // black without colour
	ground     color.RGBA         // of rows with hand work
	patterns   map[color.RGBA]int // the hatching that stands for a thread, in the order they come
	pictures   stopPictures
	dpi        float64 // of the pictures

	grow     float64 // how much higher the rows are than the least
	zoom     float64 // how much larger the rows are drawn than their measures
	listWide float64 // of a column of the sheets to prepare
	rows     []cardRow
	title    []string
}

// The letters of a card. The first three read from two metres: figures twice as
// tall as the colour word's letters, and the hands' verbs nearly as tall as those.
// Signs for a reader with full sight are legible at a height of 1/400 of the
// distance (common practice for labels, no single source): 5 mm from two metres;
// half of that still reads for most.
var (
	numberLetters = capitals(9.35, true)
	colourLetters = smalls(3.65, true)
	verbLetters   = capitals(3.15, true)
	roleLetters   = capitals(2.3, false)
	roleBold      = capitals(2.3, true)
	smallLetters  = capitals(1.9, false)
	titleLetters  = capitals(4, true)
	headLetters   = capitals(2.6, true)
	textLetters   = capitals(2.3, false)
)

// Measures of the rows, in mm.
const (
	rowLeast  = 20.2
	rowMost   = 26.0
	swatchW   = 8.5
	tickSide  = 7.0
	rowGap    = 0.8 // between rows
	plateHigh = 3.4 // the word below a picture of the underside
	pictureIn = 0.5 // air above and below a row's picture
	colAir    = 1.6 // between the parts of a row
	leastColW = 85.0
	fewRows   = 0.4 // share of a sheet's height in rows that go into one column
)

func newCard(d *stitchfile.Design, r *report.Report, o CardOptions, dpi float64) *card {
	o.Paper = o.Paper.orA4()
	r = worn(r)
	c := &card{d: d, r: r, o: o, dpi: dpi, act: act, alarm: alarm, ground: handGround, patterns: map[color.RGBA]int{}}
	if o.Ink {
		c.act, c.alarm, c.ground = ink, ink, white
	}
	c.edge, c.gap = 7, 3
	if o.Paper.WidthMM < 180 && o.Paper.HeightMM < 180 {
		c.edge = 5
	}
	room := o.Paper.WidthMM - 2*c.edge
	c.columns = max(1, int((room+c.gap)/(leastColW+c.gap)))
	// Few rows stand in one column, twice as large where they may.
	c.zoom = 1
	c.rows = c.mergedRows()
	c.prepare = c.columns
	c.listWide = (room - float64(c.columns-1)*c.gap) / float64(c.columns)
	if n := len(c.rows); n > 0 && c.columns > 1 && float64(n)*rowLeast < fewRows*o.Paper.HeightMM {
		wide := (room - float64(c.columns-1)*c.gap) / float64(c.columns)
		high := (o.Paper.HeightMM - 2*c.edge - 26) / float64(n) / (rowLeast + 5)
		if k := min(room/wide, high); k > 1.2 {
			c.zoom, c.columns = k, 1
			room /= k
		}
	}
	c.colW = (room - float64(c.columns-1)*c.gap) / float64(c.columns)
	for i := range c.rows {
		c.hatchFor(c.rows[i].first())
	}
	for i := range r.Stops {
		c.hatchFor(&r.Stops[i])
	}
	c.title = titleLetters.most(3, titleOf(r), (o.Paper.WidthMM-2*c.edge)*0.68)
	c.numberW = 15.5
	for i := range c.rows {
		for _, n := range c.rows[i].numbers() {
			c.numberW = min(max(c.numberW, numberLetters.width(n)+2.4), c.colW*0.3)
		}
	}
	c.side = rowLeast - rowGap - 2*pictureIn
	c.textW = c.colW - c.numberW - swatchW - c.side - 3.5*colAir
	for i := range c.rows {
		c.wordRow(&c.rows[i])
		for _, l := range c.rows[i].lines {
			c.needW = max(c.needW, l.width())
		}
	}
	return c
}

// sheetOf draws what depends on the sheets before it, and gives what draws the rest.
type sheetOf = func() func(canvas)

// sheets are the sheets in order.
func (c *card) sheets() []sheetOf {
	todo := c.todoSheets()
	all := slices.Clone(todo)
	for _, draw := range c.prepareSheets() {
		all = append(all, func() func(canvas) { return draw })
	}
	out := make([]sheetOf, len(all))
	for i, s := range all {
		out[i] = func() func(canvas) {
			draw := s()
			return func(cv canvas) {
				draw(cv)
				c.foot(cv, i < len(todo), i+1, len(all))
			}
		}
	}
	return out
}

// todoSheets lays the rows out.
func (c *card) todoSheets() []sheetOf {
	if len(c.rows) == 0 {
		return nil
	}
	top := c.edge + c.todoHead(nil)
	room := (c.bottom() - top) / c.zoom
	blocks := make([]block, len(c.rows))
	for i := range c.rows {
		blocks[i] = block{height: c.rows[i].least()}
	}
	columns := evenly(blocks, c.columns, func(int) float64 { return room })
	// Rows grow alike into what room there is.
	grow, at := rowMost/rowLeast, 0
	for _, column := range columns {
		if h := height(column); h > 0 {
			grow = min(grow, room/h)
		}
	}
	grow = max(grow, 1)
	c.grow = grow
	side := min(rowLeast*grow-rowGap-2*pictureIn, c.side+max(0, c.textW-c.needW))
	c.pictures = stopPictures{d: c.d, r: c.r, side: int(side * c.zoom / 25.4 * c.dpi), ink: c.o.Ink, ctx: c.o.Context, plate: plateHigh / side}
	var sheets []sheetOf
	for first := 0; first < len(columns); first += c.columns {
		from := at
		some := columns[first:min(first+c.columns, len(columns))]
		for _, column := range some {
			at += len(column)
		}
		rows := c.rows[from:at]
		sheets = append(sheets, func() func(canvas) {
			pictures := make([]*image.RGBA, len(rows))
			for i := range rows {
				pictures[i] = c.pictures.draw(rows[i].stops)
			}
			return func(cv canvas) {
				c.todoHead(cv)
				i := 0
				for k, column := range some {
					y := 0.0
					for range column {
						h := rows[i].least() * grow
						c.drawRow(zoomed{cv, c.zoom, c.edge, top}, rect{float64(k) * (c.colW + c.gap), y, c.colW, h - rowGap}, &rows[i], pictures[i], side)
						y += h
						i++
					}
				}
			}
		})
	}
	return sheets
}
