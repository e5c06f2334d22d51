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
		if len(pages) != 1 || pages[0].Bounds() != image.Rect(0, 0, c.w, c.h) {
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
	one.Thread.Name, one.Thread.Catalogue = long, long
	r.Stops = nil
	for i := range 5 {
		one.Number = i*i*i*i*i*111 + 7
		r.Stops = append(r.Stops, one)
	}
	for _, paper := range everyPaper() {
		c := newCard(d, r, CardOptions{Paper: paper})
		clear := func(n int, p *image.RGBA, what string, area image.Rectangle) {
			for y := area.Min.Y; y < area.Max.Y; y++ {
				for x := area.Min.X; x < area.Max.X; x++ {
					if p.RGBAAt(x, y) != white {
						t.Fatalf("%v, page %d: ink in the %s at %d, %d", paper, n+1, what, x, y)
					}
				}
			}
		}
		for n, p := range Card(d, r, CardOptions{Paper: paper}) {
			b := p.Rect
			e := c.edge - 2
			clear(n, p, "left margin", image.Rect(0, 0, e, b.Max.Y))
			clear(n, p, "right margin", image.Rect(b.Max.X-e, 0, b.Max.X, b.Max.Y))
			clear(n, p, "top margin", image.Rect(0, 0, b.Max.X, e))
			clear(n, p, "bottom margin", image.Rect(0, b.Max.Y-e+px(1.5), b.Max.X, b.Max.Y))
			if n > 0 && c.columns == 2 {
				x := c.edge + c.colW
				clear(n, p, "gutter", image.Rect(x+2, c.edge+c.laterHead(nil), x+c.gap-2, c.bottom()))
			}
			if n == 2 {
				break
			}
		}
	}
}

// No page ends with a row alone on the last one while the page before is full,
// no heading stands alone, and no row is lost, for any number of stops.
func TestFlow(t *testing.T) {
	room := func(column int) int {
		if column == 0 {
			return 50
		}
		return 100
	}
	for n := 1; n < 40; n++ {
		var blocks []block
		for i := range n {
			if i%7 == 3 {
				blocks = append(blocks, block{height: 5, keep: true})
			}
			blocks = append(blocks, block{height: 20 + i%3*5, row: true})
		}
		columns := flow(blocks, room)
		total := 0
		for k, c := range columns {
			if height(c) > room(k) {
				t.Errorf("%d rows: column %d is %d high", n, k, height(c))
			}
			if len(c) > 0 && c[len(c)-1].keep {
				t.Errorf("%d rows: a heading ends column %d", n, k)
			}
			total += rows(c)
		}
		if total != n {
			t.Errorf("%d rows: %d came out", n, total)
		}
		last := len(columns) - 1
		if last > 0 && rows(columns[last]) == 1 && rows(columns[last-1]) > 2 {
			t.Errorf("%d rows: one alone after %d", n, rows(columns[last-1]))
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
		if got := words.HoopFor(c.w, c.h); got != c.want {
			t.Errorf("%v x %v: %q, want %q", c.w, c.h, got, c.want)
		}
	}
}

func TestEighths(t *testing.T) {
	for mm, want := range map[float64]string{25.4: "1", 6.35: "1/4", 165.1: "6 1/2", 165.2: "6 5/8", 3.175: "1/8", 0.1: "1/8", 88.9: "3 1/2"} {
		if got := eighths(mm); got != want {
			t.Errorf("%v mm: %s, want %s", mm, got, want)
		}
	}
}

// Without colour nothing but black, white and greys is printed, and each thread
// has a hatching of its own.
func TestInkIsColourless(t *testing.T) {
	d, r := square(color.RGBA{200, 0, 0, 255})
	one := r.Stops[0]
	r.Stops = nil
	for i := range 27 {
		one.Number, one.Thread.Colour = i+1, color.RGBA{uint8(9 * i), 90, 200, 255}
		one.Before = []string{"lay the cloth"}
		r.Stops = append(r.Stops, one)
	}
	page := pagesOf(d, r, CardOptions{Ink: true})[0]
	c := newCard(d, r, CardOptions{Ink: true})
	for i := 0; i < len(page.Pix); i += 4 {
		lo, hi := min(page.Pix[i], page.Pix[i+1], page.Pix[i+2]), max(page.Pix[i], page.Pix[i+1], page.Pix[i+2])
		if hi-lo > 14 { // ink is a blue black
			t.Fatalf("colour %v", page.Pix[i:i+3])
		}
	}
	seen := map[string]bool{}
	for i := range r.Stops {
		img := image.NewRGBA(image.Rect(0, 0, 70, 40))
		box(img, img.Rect, white)
		c.drawSwatch(img, img.Rect, &r.Stops[i])
		seen[fmt.Sprint(img.Pix)] = true
	}
	if len(seen) != 27 {
		t.Errorf("%d hatchings for 27 threads", len(seen))
	}
}
