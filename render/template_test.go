package render

import (
	"bytes"
	"image"
	"image/color"
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// Together the sheets show all of a design larger than the paper, and each place
// in the strip that two of them share lies on both, one strip's width apart.
func TestTemplateSheetsJoin(t *testing.T) {
	for _, size := range [][2]float64{{300, 200}, {150, 400}, {131, 10}, {500, 500}} {
		r := &report.Report{WidthMM: size[0], HeightMM: size[1]}
		for _, paper := range everyPaper() {
			m := newTemplate(&stitchfile.Design{}, r, Options{Paper: paper, DPI: 100})
			k := m.planTiles()
			f := m.field()
			on := func(q geom.Point) (sheets int) {
				for j := range k.rows {
					for i := range k.cols {
						o := m.origin(k, i, j)
						if x, y := o.X+q.X, o.Y-q.Y; x >= f.x && x <= f.right() && y >= f.y && y <= f.bottom() {
							sheets++
						}
					}
				}
				return sheets
			}
			for n := range 21 {
				for l := range 21 {
					q := geom.Point{X: size[0] * (float64(n)/20 - 0.5), Y: size[1] * (float64(l)/20 - 0.5)}
					if on(q) == 0 {
						t.Fatalf("%v on %v: %v is on no sheet", size, paper, q)
					}
				}
			}
			for i := range k.cols - 1 {
				// The middle of the strip at the right of one sheet is the middle of
				// the strip at the left of the next.
				mm := f.right() - templateOverlap/2 - m.origin(k, i, 0).X
				if got := m.origin(k, i+1, 0).X + mm - f.x; math.Abs(got-templateOverlap/2) > 1e-6 {
					t.Errorf("%v on %v: the strips of sheets %s and %s do not join: %.2f mm", size, paper, sheetName(i, 0), sheetName(i+1, 0), got)
				}
			}
		}
	}
}

// pieces are squares of 40 mm at places of a design 150 mm wide.
func pieceSquares(at ...geom.Point) *report.Report {
	r := &report.Report{WidthMM: 150, HeightMM: 150, Name: "squares"}
	for i, q := range at {
		line := geom.BoxAround(q, 40, 40).Corners()
		r.Pieces = append(r.Pieces, report.Piece{Number: i + 1, MarginMM: 6.35, PlacementStop: i + 1, Placement: append(line, line[0])})
	}
	return r
}

// Pieces to cut lie apart, none off its sheet, each on one, with its name clear of
// every line.
func TestTemplatePiecesApart(t *testing.T) {
	r := pieceSquares(geom.Point{X: -20}, geom.Point{X: 10}, geom.Point{X: 25, Y: 20}, geom.Point{X: -50, Y: 50}, geom.Point{X: 50, Y: -50}, geom.Point{Y: -50}, geom.Point{X: 3, Y: 3})
	for _, paper := range everyPaper() {
		m := newTemplate(&stitchfile.Design{}, r, Options{Paper: paper})
		seen := 0
		for _, page := range m.cutSheets() {
			if page.tiles.count() > 1 {
				seen++ // too large for a sheet: one piece over several
				continue
			}
			// What is drawn: where cut lines and letters go.
			var rec recorder
			page.draw(&rec, m.origin(page.tiles, 0, 0))
			for i, a := range rec.cut {
				seen++
				if !m.field().holds(a) {
					t.Errorf("%v: a piece stands out of its sheet: %v", paper, a)
				}
				for _, b := range rec.cut[i+1:] {
					if a.overlaps(b) {
						t.Errorf("%v: pieces lie on one another: %v, %v", paper, a, b)
					}
				}
				for _, w := range rec.words {
					if a.overlaps(w) {
						t.Errorf("%v: a name lies on a piece: %v, %v", paper, a, w)
					}
				}
			}
		}
		if seen != len(r.Pieces) {
			t.Errorf("%v: %d pieces of %d", paper, seen, len(r.Pieces))
		}
	}
}

// On the plan no name lies on a line, on the centre's mark or on another name.
func TestTemplateNamesAreClear(t *testing.T) {
	r := pieceSquares(geom.Point{X: -20}, geom.Point{X: 10}, geom.Point{X: 25, Y: 20}, geom.Point{X: 3, Y: 3})
	r.Settings = &report.Settings{HoopWidthMM: 160, HoopHeightMM: 160}
	m := newTemplate(&stitchfile.Design{}, r, Options{})
	var rec recorder
	o := m.origin(m.planTiles(), 0, 0)
	m.planDrawing()(&rec, o)
	if len(rec.words) != len(r.Pieces) {
		t.Fatalf("%d names", len(rec.words))
	}
	for i, w := range rec.words {
		for _, v := range rec.words[i+1:] {
			if w.overlaps(v) {
				t.Errorf("names on one another: %v, %v", w, v)
			}
		}
		for _, q := range rec.points {
			if q.X > w.x && q.X < w.right() && q.Y > w.y && q.Y < w.bottom() {
				t.Errorf("the name at %v lies on a line at %v", w, q)
				break
			}
		}
		if mark := (rect{o.X - crossArm, o.Y - crossArm, 2 * crossArm, 2 * crossArm}); mark.overlaps(w) {
			t.Errorf("the name at %v lies on the centre's mark", w)
		}
	}
}

// holds reports whether a rectangle lies within another.
func (r rect) holds(q rect) bool {
	return q.x >= r.x && q.y >= r.y && q.right() <= r.right() && q.bottom() <= r.bottom()
}

// recorder is a canvas that notes what is drawn where.
type recorder struct {
	cut, words []rect
	points     []geom.Point // along lines as wide as those of placement, every 0.2 mm
}

func (c *recorder) area(color.RGBA, ...geom.Point) {}
func (c *recorder) line(_ color.RGBA, wide float64, points ...geom.Point) {
	if wide != templateLine {
		return
	}
	for i := 1; i < len(points); i++ {
		for k := range 200 {
			f := float64(k) / 200
			c.points = append(c.points, geom.Point{X: points[i-1].X + (points[i].X-points[i-1].X)*f, Y: points[i-1].Y + (points[i].Y-points[i-1].Y)*f})
		}
	}
}
func (c *recorder) dashed(_ color.RGBA, wide, on, _ float64, points ...geom.Point) {
	if on == 4 {
		b := geom.BoxOf(points)
		c.cut = append(c.cut, rect{b.Lo.X, b.Lo.Y, b.Width(), b.Height()})
	}
}
func (c *recorder) write(l lettering, _ color.RGBA, x, y float64, text string) {
	c.words = append(c.words, rect{x, y - l.cap(), l.width(text), l.cap()})
}
func (c *recorder) picture(rect, image.Image) {}
func (c *recorder) clip(_ rect, draw func())  { draw() }

// The check bar of a PDF is 50.0 mm long, and the sheet as large as its paper, as
// another reader draws them at 600 dpi.
func TestTemplatePDFScale(t *testing.T) {
	wholeOnly(t)
	r := pieceSquares(geom.Point{X: -20}, geom.Point{X: 30})
	for _, paper := range []Paper{A4, Letter.Turned()} {
		var b bytes.Buffer
		if err := TemplatePDF(&b, &stitchfile.Design{}, r, Options{Paper: paper}); err != nil {
			t.Fatal(err)
		}
		const dpi = 600
		pages := pdfPages(t, b.Bytes(), dpi)
		if len(pages) != 2 {
			t.Fatalf("%v: %d pages", paper, len(pages))
		}
		for n, p := range pages {
			mm := func(px int) float64 { return float64(px) / dpi * 25.4 }
			if w, h := mm(p.Rect.Dx()), mm(p.Rect.Dy()); math.Abs(w-paper.WidthMM) > 0.1 || math.Abs(h-paper.HeightMM) > 0.1 {
				t.Errorf("%v: page %d is %.2f x %.2f mm", paper, n+1, w, h)
			}
			best := 0
			for y := int((paper.HeightMM - 42) / 25.4 * dpi); y < p.Rect.Max.Y; y++ {
				run := 0
				for x := range p.Rect.Max.X {
					if run++; p.RGBAAt(x, y).G > 128 {
						run = 0
					}
					best = max(best, run)
				}
			}
			if got := mm(best); math.Abs(got-50) > 0.05 {
				t.Errorf("%v: the bar on page %d is %.3f mm", paper, n+1, got)
			}
		}
	}
}

func TestSheetName(t *testing.T) {
	for _, c := range []struct {
		i, j int
		want string
	}{{0, 0, "A1"}, {3, 0, "A4"}, {0, 1, "B1"}, {1, 25, "Z2"}, {0, 26, "AA1"}, {9, 27, "AB10"}} {
		if got := sheetName(c.i, c.j); got != c.want {
			t.Errorf("%d, %d: %s, want %s", c.i, c.j, got, c.want)
		}
	}
}
