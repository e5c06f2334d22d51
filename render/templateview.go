package render

import (
	"context"
	"fmt"
	"io"
	"iter"
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/stitchfile"
)

var templateView = View{
	Name: "template",
	Doc:  "at true size, to print: the plan of all placement lines, then each piece to cut, side by side; over several sheets where one is too small",
	Draw: drawTemplate,
}

// Measures of a template's sheets, in mm.
const (
	templateEdge    = 8  // margin that printers leave
	templateFoot    = 34 // strip for the check bar and the words
	templateOverlap = 12 // how much neighbouring sheets share
	checkBarMM      = 50 // the bar to measure after printing
	templateFaint   = 0.15
	templateLine    = 0.4
	pieceAir        = 5 // between pieces to cut
	captionMM       = 7 // strip under a piece for its name
)

// maxSheets bounds the sheets of one template.
const maxSheets = 80

// template is a template under way: the plan, and pieces to cut.
type template struct {
	ctx          context.Context
	d            *stitchfile.Design
	r            *report.Report
	shapes       []shape
	paper        Paper
	dpi          float64
	margin       float64
	hoopW, hoopH float64

	fieldW, fieldH float64
}

// templateSheet is one sheet: its name among several, and what draws it.
type templateSheet struct {
	label string
	draw  func(canvas)
}

func drawTemplate(d *stitchfile.Design, r *report.Report, o Options) iter.Seq[Picture] {
	t := newTemplate(d, r, o)
	return func(yield func(Picture) bool) {
		for _, s := range t.sheets() {
			cv := newPixels(t.paper, t.dpi)
			s.draw(cv)
			if ended(o.Context) != nil || !yield(Picture{Image: cv.img, DPI: t.dpi, Label: s.label}) {
				return
			}
		}
	}
}

// TemplatePDF writes the sheets of the view "template" as one PDF of true size.
// It heeds what Options say of paper, cut margin and context. Errors are those of w and of a
// context that ended.
func TemplatePDF(w io.Writer, d *stitchfile.Design, r *report.Report, o Options) error {
	t := newTemplate(d, r, o)
	f := newPDF(titleOf(r))
	for _, s := range t.sheets() {
		s.draw(f.page(t.paper))
		if err := ended(o.Context); err != nil {
			return err
		}
	}
	return f.end(w)
}

func newTemplate(d *stitchfile.Design, r *report.Report, o Options) *template {
	t := &template{ctx: o.Context, d: d, r: r, shapes: shapes(d, r, o.CutMarginMM), paper: o.Paper.orA4(), dpi: o.DPI, hoopW: settingsOf(r).HoopWidthMM, hoopH: settingsOf(r).HoopHeightMM}
	if !(t.dpi > 0) {
		t.dpi = CardDPI
	}
	for _, s := range t.shapes {
		t.margin = max(t.margin, s.margin)
	}
	t.fieldW = max(t.paper.WidthMM-2*templateEdge, 3*templateOverlap)
	t.fieldH = max(t.paper.HeightMM-2*templateEdge-templateFoot, 3*templateOverlap)
	return t
}

// sheets are the sheets in order: the plan first.
func (t *template) sheets() []templateSheet {
	plan := t.planTiles()
	count := plan.count()
	cuts := t.cutSheets()
	for _, c := range cuts {
		count += c.tiles.count()
	}
	if count > maxSheets {
		return []templateSheet{{draw: func(cv canvas) { t.tooLarge(cv, count) }}}
	}
	var out []templateSheet
	name := ""
	if len(cuts) > 0 && plan.count() == 1 {
		name = "plan"
	}
	out = append(out, t.tiled(plan, name, t.planDrawing(), t.planWords(plan.count(), len(cuts) > 0))...)
	n := 0
	for _, c := range cuts {
		n++
		name = "pieces"
		if len(cuts) > 1 {
			name = fmt.Sprintf("pieces-%d", n)
		}
		out = append(out, t.tiled(c.tiles, name, c.draw, t.cutWords(c.tiles.count()))...)
	}
	return out
}

// tiles are the sheets that a drawing takes, side by side.
type tiles struct {
	lo, hi       geom.Point // of the drawing, mm, Y up
	cols, rows   int
	stepX, stepY float64 // from sheet to sheet, mm
}

func (k tiles) count() int { return k.cols * k.rows }

// tilesFor finds how many sheets a drawing takes.
func (t *template) tilesFor(b geom.Box) tiles {
	lo, hi := b.Lo, b.Hi
	count := func(need, field float64) (n int, step float64) {
		need += 4 // a little air round the outermost line
		if need <= field {
			return 1, 0
		}
		step = field - templateOverlap
		return int(math.Min(1e6, math.Ceil((need-templateOverlap)/step))), step
	}
	k := tiles{lo: lo, hi: hi}
	k.cols, k.stepX = count(hi.X-lo.X, t.fieldW)
	k.rows, k.stepY = count(hi.Y-lo.Y, t.fieldH)
	return k
}

// field is the part of a sheet that is drawn on.
func (t *template) field() rect { return rect{templateEdge, templateEdge, t.fieldW, t.fieldH} }

// origin is where the drawing's origin lies on one of its sheets. The middle of
// all sheets together is the middle of what is drawn.
func (t *template) origin(k tiles, i, j int) geom.Point {
	middle := func(lo, hi float64, k, n int, step float64) float64 {
		return (lo+hi)/2 + (float64(k)-float64(n-1)/2)*step
	}
	f := t.field()
	return geom.Point{
		X: f.x + f.w/2 - middle(k.lo.X, k.hi.X, i, k.cols, k.stepX),
		Y: f.y + f.h/2 + middle(k.lo.Y, k.hi.Y, k.rows-1-j, k.rows, k.stepY),
	}
}

// sheetName is A1, A2 along the first row, B1 below.
func sheetName(i, j int) string {
	name := ""
	for j++; j > 0; j = (j - 1) / 26 {
		name = string(rune('A'+(j-1)%26)) + name
	}
	return fmt.Sprint(name, i+1)
}

// drawing draws lines in mm, Y up, with its origin at a place on a sheet.
type drawing func(cv canvas, origin geom.Point)

// tiled is a drawing over its sheets.
func (t *template) tiled(k tiles, name string, draw drawing, text string) []templateSheet {
	var out []templateSheet
	for j := range k.rows {
		for i := range k.cols {
			label := name
			if k.count() > 1 {
				if label != "" {
					label += "-"
				}
				label += sheetName(i, j)
			}
			out = append(out, templateSheet{label, func(cv canvas) {
				cv.clip(t.field(), func() { draw(cv, t.origin(k, i, j)) })
				if k.count() > 1 {
					t.overlaps(cv, k, i, j)
				}
				t.underline(cv, label, text)
			}})
		}
	}
	return out
}

// move places lines on a sheet.
func move(line []geom.Point, origin geom.Point) []geom.Point {
	out := make([]geom.Point, len(line))
	for i, q := range line {
		out[i] = geom.Point{X: origin.X + q.X, Y: origin.Y - q.Y}
	}
	return out
}

// tooLarge says why there is no template.
func (t *template) tooLarge(cv canvas, sheets int) {
	l := capitals(3, false)
	y := float64(templateEdge)
	for _, line := range l.wrap(fmt.Sprintf("This design is %s. A template of it would take %d sheets; Stopcard draws at most %d.", unitsOf(t.r).Size(t.r.WidthMM, t.r.HeightMM), sheets, maxSheets), t.paper.WidthMM-2*templateEdge) {
		y += l.line()
		cv.write(l, ink, templateEdge, y, line)
	}
}

// overlaps marks the strips that a sheet shares with its neighbours: a dashed
// line in the middle of the strip, two crosses on it to lay on those of the
// neighbour, and the neighbour's name.
func (t *template) overlaps(cv canvas, k tiles, i, j int) {
	f := t.field()
	frameRect(cv, f, 0.15, rule)
	l := capitals(2.3, false)
	mark := func(x0, y0, x1, y1 float64, name string) {
		cv.dashed(quiet, 0.2, 2, 2, geom.Point{X: x0, Y: y0}, geom.Point{X: x1, Y: y1})
		for _, share := range []float64{0.2, 0.8} {
			mx, my := x0+(x1-x0)*share, y0+(y1-y0)*share
			cv.line(ink, 0.3, geom.Point{X: mx - 3, Y: my}, geom.Point{X: mx + 3, Y: my})
			cv.line(ink, 0.3, geom.Point{X: mx, Y: my - 3}, geom.Point{X: mx, Y: my + 3})
			w := l.width(name)
			fillRect(cv, rect{mx - w - 3.2, my - 4.6, w + 1.4, 3.6}, white)
			cv.write(l, ink, mx-w-2.5, my-1.7, name)
		}
	}
	const over = templateOverlap / 2
	if i > 0 {
		mark(f.x+over, f.y, f.x+over, f.bottom(), sheetName(i-1, j))
	}
	if i < k.cols-1 {
		mark(f.right()-over, f.y, f.right()-over, f.bottom(), sheetName(i+1, j))
	}
	if j > 0 {
		mark(f.x, f.y+over, f.right(), f.y+over, sheetName(i, j-1))
	}
	if j < k.rows-1 {
		mark(f.x, f.bottom()-over, f.right(), f.bottom()-over, sheetName(i, j+1))
	}
}

// checkBar is the bar to measure after printing.
type checkBar struct {
	mm    float64
	name  string
	ticks int
}

func checkBarOf(u words.Units) checkBar {
	if u == words.Inches {
		return checkBar{50.8, "2 in", 8}
	}
	return checkBar{checkBarMM, "50 mm", 5}
}

// underline fills the strip below the field.
func (t *template) underline(cv canvas, label, text string) {
	l, big := capitals(2.4, false), capitals(5.4, true)
	f := t.field()
	base := f.bottom() + 9
	bar := checkBarOf(unitsOf(t.r))
	fillRect(cv, rect{f.x, base, bar.mm, 0.5}, ink)
	for i := 0; i <= bar.ticks; i++ {
		x, tall := f.x+bar.mm*float64(i)/float64(bar.ticks)-0.25, 2.0
		switch i {
		case 0:
			x, tall = f.x, 4
		case bar.ticks:
			x, tall = f.x+bar.mm-0.5, 4
		}
		fillRect(cv, rect{x, base - tall, 0.5, tall}, ink)
	}
	right := f.right()
	if label != "" {
		w := big.width(label)
		cv.write(big, ink, right-w, f.bottom()+big.line(), label)
		right -= w + 4
	}
	beside := l.wrap(bar.name+": print at 100 % and measure this before you cut.", right-f.x-bar.mm-3)
	for i, line := range beside {
		cv.write(l, ink, f.x+bar.mm+3, base+0.5-float64(len(beside)-1-i)*l.line(), line)
	}
	at := base + 2.6
	for _, line := range l.wrap(text, f.w) {
		at += l.line() - 0.3
		if at > t.paper.HeightMM-3 {
			break
		}
		cv.write(l, ink, f.x, at, line)
	}
}
