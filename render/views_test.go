package render_test

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/render"
	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

func draw(t *testing.T, view string, d *stitchfile.Design, r *report.Report, o render.Options) []render.Picture {
	t.Helper()
	v, ok := render.ViewNamed(view)
	if !ok {
		t.Fatalf("no view %q", view)
	}
	var out []render.Picture
	for p := range v.Draw(d, r, o) {
		out = append(out, p)
	}
	return out
}

// Every view draws something of a sane size for every design and every setting,
// down to a design without a stitch.
func TestViews(t *testing.T) {
	dot := &stitchfile.Design{Moves: []stitchfile.Move{{Kind: stitchfile.Stitch}}}
	var wide stitchtest.Builder
	wide.Run(stitchtest.Line(stitchtest.Point{X: -15000}, stitchtest.Point{X: 15000}), 12)
	ringD, ringR := ring()
	reports := map[string]*report.Report{"ring": ringR}
	designs := map[string]*stitchfile.Design{"ring": ringD, "empty": {}, "one stitch": dot, "thirty metres": wide.Design()}
	for name, d := range designs {
		r := reports[name]
		if r == nil {
			r = mustRun(d, report.DefaultSettings())
		}
		for _, v := range render.Views() {
			for _, o := range []render.Options{{Width: 300}, {DPI: 40, Marks: true}, {Width: 64, Bare: true}, {Width: 90, Transparent: true}} {
				n := 0
				for p := range v.Draw(d, r, o) {
					b := p.Image.Bounds()
					if b.Dx() < 1 || b.Dy() < 1 || b.Dx() > 16000 || b.Dy() > 16000 || !(p.DPI > 0) {
						t.Errorf("%s, %s, %+v: %v at %v dpi", name, v.Name, o, b, p.DPI)
					}
					if v.Name != "template" && o.Width > 0 && name != "thirty metres" && b.Dx() != o.Width {
						t.Errorf("%s, %s: %d pixels wide, want %d", name, v.Name, b.Dx(), o.Width)
					}
					n++
				}
				if n == 0 || n > 1 && v.Name != "template" {
					t.Errorf("%s, %s: %d pictures", name, v.Name, n)
				}
			}
		}
	}
	if _, ok := render.ViewNamed("knitting"); ok {
		t.Error("there is a view of that name")
	}
}

// Nothing lies under the stitches of a transparent picture, and they are as they
// are on cloth.
func TestTransparent(t *testing.T) {
	d, r := ring()
	for _, v := range []string{"thread", "kinds", "stops"} {
		img := draw(t, v, d, r, render.Options{Width: 636, Transparent: true})[0].Image
		if c := img.RGBAAt(318, 318); c.A != 0 {
			t.Errorf("%s: %v in the middle of the ring", v, c)
		}
		if c := img.RGBAAt(318+200, 318); c.A != 255 {
			t.Errorf("%s: %v on the ring", v, c)
		}
	}
}

// perMetre reads the pHYs chunk of a PNG file.
func perMetre(t *testing.T, p render.Picture) float64 {
	t.Helper()
	var b bytes.Buffer
	if err := render.EncodePNG(&b, p.Image, p.DPI); err != nil {
		t.Fatal(err)
	}
	at := bytes.Index(b.Bytes(), []byte("pHYs"))
	if at < 0 {
		t.Fatal("no pHYs chunk")
	}
	c := b.Bytes()[at+4:]
	x, y := binary.BigEndian.Uint32(c), binary.BigEndian.Uint32(c[4:])
	if x != y || c[8] != 1 {
		t.Fatalf("pHYs %d, %d, unit %d", x, y, c[8])
	}
	return float64(x)
}

// dark reports whether a pixel is near black.
func dark(c color.RGBA) bool { return c.A == 255 && int(c.R)+int(c.G)+int(c.B) < 150 }

// longestRun is the longest unbroken dark line across a part of a picture.
func longestRun(img *image.RGBA, area image.Rectangle) (best int) {
	area = area.Intersect(img.Rect)
	for y := area.Min.Y; y < area.Max.Y; y++ {
		n := 0
		for x := area.Min.X; x < area.Max.X; x++ {
			if !dark(img.RGBAAt(x, y)) {
				n = 0
				continue
			}
			n++
			best = max(best, n)
		}
	}
	return best
}

// The check bar of a template is 50 mm long by the file's own resolution, at any
// resolution, on any sheet, to half a pixel at each end.
func TestTemplateScale(t *testing.T) {
	d, r := ring()
	for _, dpi := range []float64{150, 300, 203} {
		for _, paper := range []render.Paper{render.A4, render.Letter, render.A5.Turned(), render.Hand} {
			for _, p := range draw(t, "template", d, r, render.Options{DPI: dpi, Paper: paper}) {
				ppm := perMetre(t, p)
				b := p.Image.Rect
				foot := image.Rect(0, b.Max.Y-int(42/25.4*dpi), b.Max.X, b.Max.Y)
				got := float64(longestRun(p.Image, foot)) / ppm * 1000
				if math.Abs(got-50) > 1000/ppm {
					t.Errorf("%v at %v dpi: the bar is %.2f mm", paper, dpi, got)
				}
				if w := float64(b.Dx()) / ppm * 1000; math.Abs(w-paper.WidthMM) > 1000/ppm {
					t.Errorf("%v at %v dpi: the sheet is %.2f mm wide", paper, dpi, w)
				}
			}
		}
	}
}

// A placement line of 60 x 40 mm is as large on the sheet, by the file's own
// resolution; the line itself is 0.4 mm wide.
func TestTemplateShapeIsTrue(t *testing.T) {
	r := &report.Report{WidthMM: 60, HeightMM: 40, Pieces: []report.Piece{{Number: 1, MarginMM: 6.35, PlacementStop: 1,
		Placement: []geom.Point{{X: -30, Y: -20}, {X: 30, Y: -20}, {X: 30, Y: 20}, {X: -30, Y: 20}, {X: -30, Y: -20}}}}}
	pages := draw(t, "template", &stitchfile.Design{}, r, render.Options{})
	if len(pages) != 2 || pages[0].Label != "plan" || pages[1].Label != "pieces" {
		t.Fatalf("%d sheets", len(pages))
	}
	p := pages[1] // the cut line is not dark
	ppm := perMetre(t, p)
	var box image.Rectangle
	field := image.Rect(0, 0, p.Image.Rect.Max.X, int((8+2.5+6.35+40+3)*ppm/1000)) // above the name
	for y := field.Min.Y; y < field.Max.Y; y++ {
		for x := field.Min.X; x < field.Max.X; x++ {
			if dark(p.Image.RGBAAt(x, y)) {
				box = box.Union(image.Rect(x, y, x+1, y+1))
			}
		}
	}
	if w, h := float64(box.Dx())/ppm*1000, float64(box.Dy())/ppm*1000; math.Abs(w-60.4) > 0.2 || math.Abs(h-40.4) > 0.2 {
		t.Errorf("the line takes up %.2f x %.2f mm", w, h)
	}
}

// The scale bar of a picture is of its round length by the file's own
// resolution, whether width or resolution was asked for. The design is 60 mm
// wide, so that the longest round length within a third is 20 mm.
func TestScaleBarIsTrue(t *testing.T) {
	d, r := ring()
	for _, o := range []render.Options{{Width: 2000}, {Width: 1111}, {DPI: 300}, {DPI: 600}} {
		p := draw(t, "thread", d, r, o)[0]
		ppm := perMetre(t, p)
		b := p.Image.Rect
		foot := image.Rect(0, b.Dx(), b.Dx()/2, b.Max.Y) // the field is as high as wide
		if o.DPI > 0 {
			foot.Min.Y = int(66 * ppm / 1000)
		}
		if got := float64(longestRun(p.Image, foot)) / ppm * 1000; math.Abs(got-20) > 1500/ppm {
			t.Errorf("%+v: the bar is %.2f mm", o, got)
		}
		if o.DPI > 0 && math.Abs(p.DPI-o.DPI) > 0.01 {
			t.Errorf("%v dpi asked, %v drawn", o.DPI, p.DPI)
		}
	}
}

// What a report lacks is drawn as nothing, and the picture says so: it differs
// from the one with a measure, and its foot has words.
func TestEmptyReportHasWords(t *testing.T) {
	d, r := ring()
	bare := *r
	bare.Kinds, bare.Passages, bare.Pieces = nil, nil, nil
	bare.Density = report.Density{}
	for _, v := range []string{"kinds", "density", "penetrations", "cover"} {
		p := draw(t, v, d, &bare, render.Options{Width: 800})[0]
		words := 0
		for y := 800; y < p.Image.Rect.Max.Y; y++ {
			for x := range 800 {
				if dark(p.Image.RGBAAt(x, y)) {
					words++
				}
			}
		}
		plain := draw(t, "thread", d, &bare, render.Options{Width: 800})[0]
		if words < 1000 || p.Image.Rect.Max.Y <= plain.Image.Rect.Max.Y {
			t.Errorf("%s: %d dark pixels in a foot of %d", v, words, p.Image.Rect.Max.Y-800)
		}
	}
}
