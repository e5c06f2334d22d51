package render

import (
	"fmt"
	"image"
	"image/color"
	"iter"
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

var templateView = View{
	Name: "template",
	Doc:  "placement lines and cut shapes at true size, to print; over several sheets where one is too small",
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
)

// maxSheets bounds the sheets of one template.
const maxSheets = 80

// template is a template under way.
type template struct {
	d      *stitchfile.Design
	r      *report.Report
	shapes []shape
	paper  Paper
	dpi    float64
	margin float64

	lo, hi       geom.Point // of what is drawn, mm
	cols, rows   int
	stepX, stepY float64 // from sheet to sheet, mm
	fieldW       float64
	fieldH       float64
}

func drawTemplate(d *stitchfile.Design, r *report.Report, o Options) iter.Seq[Picture] {
	t := newTemplate(d, r, o)
	return func(yield func(Picture) bool) {
		if t.cols*t.rows > maxSheets {
			yield(t.tooLarge())
			return
		}
		for j := range t.rows {
			for i := range t.cols {
				if !yield(t.sheet(i, j)) {
					return
				}
			}
		}
	}
}

func newTemplate(d *stitchfile.Design, r *report.Report, o Options) *template {
	t := &template{d: d, r: r, shapes: shapes(d, r, o.CutMarginMM), paper: o.Paper.orA4(), dpi: o.DPI, margin: o.CutMarginMM}
	if !(t.dpi > 0) {
		t.dpi = CardDPI
	}
	switch {
	case t.margin == 0:
		t.margin = CutMargin
	case t.margin < 0:
		t.margin = 0
	}
	t.measure()
	return t
}

// measure finds what must be drawn and how many sheets that takes.
func (t *template) measure() {
	t.lo = geom.Point{X: -t.r.WidthMM / 2, Y: -t.r.HeightMM / 2}
	t.hi = geom.Point{X: t.r.WidthMM / 2, Y: t.r.HeightMM / 2}
	for _, s := range t.shapes {
		for _, lines := range [][][]geom.Point{s.placement, s.cut} {
			for _, l := range lines {
				for _, q := range l {
					t.lo.X, t.hi.X = min(t.lo.X, q.X), max(t.hi.X, q.X)
					t.lo.Y, t.hi.Y = min(t.lo.Y, q.Y), max(t.hi.Y, q.Y)
				}
			}
		}
	}
	t.fieldW = max(t.paper.WidthMM-2*templateEdge, 3*templateOverlap)
	t.fieldH = max(t.paper.HeightMM-2*templateEdge-templateFoot, 3*templateOverlap)
	count := func(need, field float64) (n int, step float64) {
		need += 4 // a little air round the outermost line
		if need <= field {
			return 1, 0
		}
		step = field - templateOverlap
		return int(math.Min(1e6, math.Ceil((need-templateOverlap)/step))), step
	}
	t.cols, t.stepX = count(t.hi.X-t.lo.X, t.fieldW)
	t.rows, t.stepY = count(t.hi.Y-t.lo.Y, t.fieldH)
}

// sheetName is A1, A2 along the first row, B1 below.
func sheetName(i, j int) string {
	name := ""
	for j++; j > 0; j = (j - 1) / 26 {
		name = string(rune('A'+(j-1)%26)) + name
	}
	return fmt.Sprint(name, i+1)
}

func (t *template) px(mm float64) int { return int(math.Round(mm * t.dpi / 25.4)) }

func (t *template) blank() *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, t.px(t.paper.WidthMM), t.px(t.paper.HeightMM)))
	box(img, img.Rect, white)
	return img
}

func (t *template) pen(img *image.RGBA, pt float64, bold bool) pen {
	return newPen(img, pt*t.dpi/72, bold, ink)
}

// tooLarge says why there is no template.
func (t *template) tooLarge() Picture {
	img := t.blank()
	p := t.pen(img, 12, false)
	y := t.px(templateEdge)
	for _, line := range p.wrap(fmt.Sprintf("This design is %.0f x %.0f mm. A template of it would take %d sheets; Stopcard draws at most %d.", t.r.WidthMM, t.r.HeightMM, t.cols*t.rows, maxSheets), img.Rect.Dx()-2*y) {
		y += p.line
		p.write(t.px(templateEdge), y, line)
	}
	return Picture{Image: img, DPI: t.dpi}
}

// placeOf is the field of a sheet that is drawn on, and where the design lies on
// it. The middle of all sheets together is the middle of what is drawn.
func (t *template) placeOf(i, j int) (image.Rectangle, plane) {
	x0, y0 := t.px(templateEdge), t.px(templateEdge)
	field := image.Rect(x0, y0, x0+t.px(t.fieldW), y0+t.px(t.fieldH))
	perMM := t.dpi / 25.4
	middle := func(lo, hi float64, k, n int, step float64) float64 {
		return (lo+hi)/2 + (float64(k)-float64(n-1)/2)*step
	}
	cx := middle(t.lo.X, t.hi.X, i, t.cols, t.stepX)
	cy := middle(t.lo.Y, t.hi.Y, t.rows-1-j, t.rows, t.stepY)
	return field, plane{perMM, float64(field.Min.X+field.Max.X)/2 - cx*perMM, float64(field.Min.Y+field.Max.Y)/2 + cy*perMM}
}

// sheet draws one sheet.
func (t *template) sheet(i, j int) Picture {
	img := t.blank()
	field, place := t.placeOf(i, j)
	in := img.SubImage(field).(*image.RGBA)
	t.draw(in, place)
	label := ""
	if t.cols*t.rows > 1 {
		label = sheetName(i, j)
		t.overlaps(img, field, i, j)
	}
	t.words(img, field, label)
	return Picture{Image: img, DPI: t.dpi, Label: label}
}

// draw draws the lines of all shapes; what lies off the sheet is cut off.
func (t *template) draw(in *image.RGBA, place plane) {
	b := brush{threadPainter{img: in}}
	k := place.perMM
	b.line(color.RGBA{200, 200, 200, 255}, templateFaint*k)
	for i := range t.r.Stops {
		place.stitches(t.d, t.r, &t.r.Stops[i], func(_ int, x0, y0, x1, y1 float64) { b.stitch(x0, y0, x1, y1) })
	}
	name := t.pen(in, 11, true)
	for _, s := range t.shapes {
		b.line(ink, templateLine*k)
		for _, l := range s.placement {
			b.open(place, l)
		}
		b.line(alarm, templateLine*1.3*k)
		for _, l := range s.cut {
			b.dashed(place, l, 4*k, 1.6*k)
		}
		t.nameShape(in, place, s, name)
	}
	// The crosshair stands at the design's centre, where the hoop's centre goes.
	b.line(ink, 0.3*k)
	for _, l := range [][]geom.Point{{{X: -8}, {X: 8}}, {{Y: -8}, {Y: 8}}} {
		b.open(place, l)
	}
	ring := make([]geom.Point, 49)
	for i := range ring {
		s, c := math.Sincos(float64(i) / 48 * 2 * math.Pi)
		ring[i] = geom.Point{X: 3 * c, Y: 3 * s}
	}
	b.open(place, ring)
}

// nameShape writes a piece's number in the middle of its first line.
func (t *template) nameShape(in *image.RGBA, place plane, s shape, p pen) {
	if len(s.placement) == 0 {
		return
	}
	lo, hi := s.placement[0][0], s.placement[0][0]
	for _, q := range s.placement[0] {
		lo.X, hi.X = min(lo.X, q.X), max(hi.X, q.X)
		lo.Y, hi.Y = min(lo.Y, q.Y), max(hi.Y, q.Y)
	}
	x, y := place.at(geom.Point{X: (lo.X + hi.X) / 2, Y: (lo.Y + hi.Y) / 2})
	text := fmt.Sprintf("piece %d (stop %d)", s.number, s.stop)
	w := p.width(text)
	plate := image.Rect(int(x)-w/2-p.line/4, int(y)-p.line/2, int(x)+w/2+p.line/4, int(y)+p.line*2/3)
	if plate.In(in.Rect) {
		box(in, plate, white)
		p.write(int(x)-w/2, int(y)+p.line/3, text)
	}
}

// overlaps marks the strips that a sheet shares with its neighbours: a dashed
// line in the middle of the strip, two crosses on it to lay on those of the
// neighbour, and the neighbour's name.
func (t *template) overlaps(img *image.RGBA, field image.Rectangle, i, j int) {
	frame(img, field, max(1, t.px(0.15)), rule)
	b := brush{threadPainter{img: img}}
	p := t.pen(img, 9, false)
	k := t.dpi / 25.4
	one := plane{perMM: 1} // pixels, Y up
	mark := func(x0, y0, x1, y1 float64, name string) {
		b.line(quiet, 0.2*k)
		b.dashed(one, []geom.Point{{X: x0, Y: -y0}, {X: x1, Y: -y1}}, 2*k, 2*k)
		for _, share := range []float64{0.2, 0.8} {
			mx, my := x0+(x1-x0)*share, y0+(y1-y0)*share
			b.line(ink, 0.3*k)
			b.open(one, []geom.Point{{X: mx - 3*k, Y: -my}, {X: mx + 3*k, Y: -my}})
			b.open(one, []geom.Point{{X: mx, Y: -my - 3*k}, {X: mx, Y: -my + 3*k}})
			w := p.width(name)
			at := image.Rect(int(mx)-w-p.line, int(my)-p.line*5/4, int(mx)-p.line/2, int(my)-p.line/4)
			box(img, at, white)
			p.write(at.Min.X+p.line/4, at.Max.Y-p.line/4, name)
		}
	}
	over := templateOverlap / 2 * k
	l, r, u, d := float64(field.Min.X), float64(field.Max.X), float64(field.Min.Y), float64(field.Max.Y)
	if i > 0 {
		mark(l+over, u, l+over, d, sheetName(i-1, j))
	}
	if i < t.cols-1 {
		mark(r-over, u, r-over, d, sheetName(i+1, j))
	}
	if j > 0 {
		mark(l, u+over, r, u+over, sheetName(i, j-1))
	}
	if j < t.rows-1 {
		mark(l, d-over, r, d-over, sheetName(i, j+1))
	}
}

// words fills the strip below the field.
func (t *template) words(img *image.RGBA, field image.Rectangle, label string) {
	p, big := t.pen(img, 9.5, false), t.pen(img, 22, true)
	y := field.Max.Y + t.px(3)
	n := t.px(checkBarMM)
	thick := max(2, t.px(0.5))
	base := y + t.px(6)
	box(img, image.Rect(field.Min.X, base, field.Min.X+n, base+thick), ink)
	for mm := 0; mm <= checkBarMM; mm += 10 {
		x := field.Min.X + t.px(float64(mm))
		if mm == checkBarMM {
			x = field.Min.X + n - thick
		}
		tall := t.px(2)
		if mm == 0 || mm == checkBarMM {
			tall = t.px(4)
		}
		box(img, image.Rect(x, base-tall, x+thick, base), ink)
	}
	right := field.Max.X
	if label != "" {
		w := big.width(label)
		big.write(right-w, field.Max.Y+big.line, label)
		right -= w + t.px(4)
	}
	beside := p.wrap("50 mm: print at 100 % and measure this before you cut.", right-field.Min.X-n-t.px(3))
	for i, line := range beside {
		p.write(field.Min.X+n+t.px(3), base+thick-(len(beside)-1-i)*p.line, line)
	}
	text := fmt.Sprintf("%s. Solid line: placement line. Dashed line: cut shape, %s mm larger on every side. The cross is the design's centre. Scissors and knives: keep fingers clear.", t.title(), figure(t.margin))
	if len(t.shapes) == 0 {
		text = t.title() + ". No placement line was found; the faint lines are the whole design, the cross is its centre."
	}
	if label != "" {
		text += fmt.Sprintf(" %d sheets: lay the crosses of neighbours on one another.", t.cols*t.rows)
	}
	at := base + t.px(3)
	for _, line := range p.wrap(text, right-field.Min.X) {
		at += p.line
		if at > img.Rect.Max.Y-t.px(3) {
			break
		}
		p.write(field.Min.X, at, line)
	}
}

func (t *template) title() string {
	name := nameOf(t.r)
	r := []rune(name)
	if len(r) > 40 {
		name = string(r[:40]) + "…"
	}
	return name
}
