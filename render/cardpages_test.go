package render

import (
	"fmt"
	"image"
	"image/color"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/words"
)

// every paper, upright and on its side.
func everyPaper() (all []Paper) {
	for _, p := range Papers() {
		all = append(all, p, p.Turned())
	}
	return all
}

// Pixels at 300 dpi of the papers: A4, A5, A6 (ISO 216) and letter (ANSI/ASME
// Y14.1), width x 300 / 25.4 rounded.
func TestCardSize(t *testing.T) {
	d, r := square(color.RGBA{200, 0, 0, 255})
	for _, c := range []struct {
		paper Paper
		w, h  int
	}{{A4, 2480, 3508}, {Letter, 2550, 3300}, {A5, 1748, 2480}, {Hand, 1240, 1748}, {A4.Turned(), 3508, 2480}, {Paper{}, 2480, 3508}} {
		pages := pagesOf(d, r, CardOptions{Paper: c.paper})
		// One sheet to do and one to prepare.
		if len(pages) != 2 || pages[0].Bounds() != image.Rect(0, 0, c.w, c.h) {
			t.Errorf("%v: %d pages, the first %v", c.paper, len(pages), pages[0].Bounds())
		}
	}
}

// Nothing is drawn into the margins or between the columns, however long the
// words are, on any paper.
func TestCardKeepsItsMargins(t *testing.T) {
	d, r := square(color.RGBA{200, 0, 0, 255})
	long := strings.Repeat("unbreakable", 40)
	r.Name = long
	one := r.Stops[0]
	one.Role, one.Before, one.After = long, []string{long, strings.Repeat("lay the cloth ", 30)}, []string{long}
	one.ThreadName, one.ThreadNumber = long, long
	r.Stops = nil
	for i := range 5 {
		one.Number = i*i*i*i*i*111 + 7
		r.Stops = append(r.Stops, one)
	}
	for _, paper := range everyPaper() {
		c := newCard(d, r, CardOptions{Paper: paper}, CardDPI)
		px := newPixels(paper, CardDPI).px
		clear := func(n int, p *image.RGBA, what string, area image.Rectangle) {
			for y := area.Min.Y; y < area.Max.Y; y++ {
				for x := area.Min.X; x < area.Max.X; x++ {
					if p.RGBAAt(x, y) != white {
						t.Fatalf("%v, page %d: ink in the %s at %d, %d", paper, n+1, what, x, y)
					}
				}
			}
		}
		todo := len(c.todoSheets())
		for n, p := range Card(d, r, CardOptions{Paper: paper}) {
			b := p.Rect
			e := px(c.edge) - 2
			clear(n, p, "left margin", image.Rect(0, 0, e, b.Max.Y))
			clear(n, p, "right margin", image.Rect(b.Max.X-e, 0, b.Max.X, b.Max.Y))
			clear(n, p, "top margin", image.Rect(0, 0, b.Max.X, e))
			clear(n, p, "bottom margin", image.Rect(0, b.Max.Y-e+px(1.5), b.Max.X, b.Max.Y))
			if n < todo && c.columns > 1 {
				x := c.edge + c.colW
				clear(n, p, "gutter", image.Rect(px(x)+2, px(c.edge+c.head(nil)), px(x+c.gap)-2, px(c.bottom())))
			}
			if n > todo+2 {
				break
			}
		}
	}
}

func TestHoopFor(t *testing.T) {
	// Common fields 100x100, 110x110, 130x180, 150x240, 160x260, 200x200, 200x300,
	// 230x300 mm (design makers' size lists), and 200x360.
	for _, c := range []struct {
		w, h float64
		want string
	}{
		{100, 100, "hoop of 100 x 100 mm, or larger"},
		{101.6, 101.6, "hoop of 110 x 110 mm, or larger"}, // "4 in" is not 4 in
		{130, 180, "hoop of 130 x 180 mm, or larger"},
		{180, 130, "hoop of 130 x 180 mm, or larger, the design turned"},
		{150, 150, "hoop of 150 x 240 or 200 x 200 mm, or larger"},
		{155, 210, "hoop of 160 x 260 mm, or larger"},
		{200, 200, "hoop of 200 x 200 mm, or larger"},
		{360, 120, "hoop of 200 x 360 mm, or larger, the design turned"},
		{231, 231, "a hoop larger than 230 x 300 and 200 x 360 mm"},
	} {
		if got := words.Both.HoopFor(c.w, c.h); got != c.want {
			t.Errorf("%v x %v: %q, want %q", c.w, c.h, got, c.want)
		}
	}
}

func TestEighths(t *testing.T) {
	for mm, want := range map[float64]string{25.4: "1", 6.35: "1/4", 165.1: "6 1/2", 165.2: "6 5/8", 3.175: "1/8", 0.1: "1/8", 88.9: "3 1/2"} {
		if got := words.UpToEighth(mm); got != want {
			t.Errorf("%v mm: %s, want %s", mm, got, want)
		}
	}
}

// Without colour nothing but black, white and greys is printed, and each thread
// has a hatching of its own.
func TestInkIsColourless(t *testing.T) {
	d, one := square(color.RGBA{200, 0, 0, 255})
	r := repeated(d, one, 27)
	for i := range r.Stops {
		r.Stops[i].Before = []string{"lay the cloth"}
	}
	for _, page := range pagesOf(d, r, CardOptions{Ink: true}) {
		for i := 0; i < len(page.Pix); i += 4 {
			lo, hi := min(page.Pix[i], page.Pix[i+1], page.Pix[i+2]), max(page.Pix[i], page.Pix[i+1], page.Pix[i+2])
			if hi-lo > 14 { // ink is a blue black
				t.Fatalf("colour %v", page.Pix[i:i+3])
			}
		}
	}
	c := newCard(d, r, CardOptions{Ink: true}, CardDPI)
	seen := map[string]bool{}
	for i := range r.Stops {
		cv := newPixels(Paper{WidthMM: swatchW, HeightMM: 18}, CardDPI)
		c.drawSwatch(cv, rect{0, 0, swatchW, 18}, &r.Stops[i])
		seen[fmt.Sprint(cv.img.Pix)] = true
	}
	if len(seen) != 27 {
		t.Errorf("%d hatchings for 27 threads", len(seen))
	}
}
