package render

import (
	"fmt"
	"image"
	"image/color"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// square is one thin square line, in the given colour or in none.
func square(c color.RGBA) (*stitchfile.Design, *report.Report) {
	var b stitchtest.Builder
	if c.A != 0 {
		b.Thread(c, "")
	}
	b.Run(stitchtest.Rect(stitchtest.Point{}, 140, 140), 2)
	d := b.Design()
	return d, mustRun(d, report.DefaultSettings())
}

// pagesOf draws a whole card.
func pagesOf(d *stitchfile.Design, r *report.Report, o CardOptions) (pages []*image.RGBA) {
	for _, p := range Card(d, r, o) {
		pages = append(pages, p)
	}
	return pages
}

// inked counts the pixels that stand at 1.5:1 or better on the picture's ground.
func inked(img *image.RGBA) (n int) {
	ground := img.RGBAAt(0, 0)
	for y := range img.Rect.Max.Y {
		for x := range img.Rect.Max.X {
			if contrast(img.RGBAAt(x, y), ground) >= 1.5 {
				n++
			}
		}
	}
	return n
}

// A single line shows in its row's picture, whatever its thread: 366 pixels a
// side, at least two wide.
func TestStopPictureShowsALine(t *testing.T) {
	for _, c := range []color.RGBA{{255, 255, 255, 255}, {250, 245, 200, 255}, {169, 169, 169, 255}, {0, 0, 0, 255}, {104, 110, 120, 255}, {}} {
		d, r := square(c)
		side := px(31)
		page := image.NewRGBA(image.Rect(0, 0, side, side))
		p := stopPictures{d: d, r: r, side: side}
		p.draw(page, page.Rect, &r.Stops[0])
		if got := inked(page); got < 4*2*side*9/10 {
			t.Errorf("%v: %d pixels show", c, got)
		}
	}
}

// Contrast of the card's inks on white: 7:1 is level AAA (WCAG 2.2).
func TestInksContrast(t *testing.T) {
	if got := contrast(color.RGBA{0, 0, 0, 255}, white); got < 20.99 || got > 21.01 {
		t.Errorf("black on white: %v", got)
	}
	for _, c := range []color.RGBA{ink, quiet, act, alarm} {
		if got := contrast(c, white); got < 7 {
			t.Errorf("%v: %.2f", c, got)
		}
	}
}

// A row too long for one page goes on overleaf and leaves the foot free.
func TestRowLongerThanAPage(t *testing.T) {
	d, r := square(color.RGBA{})
	var steps []string
	for i := range 150 {
		steps = append(steps, fmt.Sprintf("step %d", i))
	}
	r.Stops[0].Before = steps
	pages := pagesOf(d, r, CardOptions{})
	if len(pages) < 3 {
		t.Fatalf("%d pages", len(pages))
	}
	c := newCard(d, r, CardOptions{})
	for n, p := range pages {
		for y := c.bottom() + 2; y < c.bottom()+px(0.8); y++ {
			for x := range p.Rect.Max.X {
				if p.RGBAAt(x, y) != white {
					t.Fatalf("page %d: ink between row and foot at %d, %d", n+1, x, y)
				}
			}
		}
	}
}

// Every row carries its thread's swatch, the first of a new page too.
func TestEveryRowHasItsSwatch(t *testing.T) {
	green := color.RGBA{1, 201, 77, 255} // a swatch alone is this colour to the bit
	d, r := square(green)
	one := r.Stops[0]
	r.Stops = nil
	for i := range 9 {
		one.Number = i + 1
		r.Stops = append(r.Stops, one)
	}
	pages := pagesOf(d, r, CardOptions{})
	if len(pages) != 2 {
		t.Fatalf("%d pages", len(pages))
	}
	swatches := 0
	c := newCard(d, r, CardOptions{})
	x, _ := c.textAt()
	x += c.edge + px(3) // the middle of every swatch
	for _, p := range pages {
		for y := 1; y < p.Rect.Max.Y; y++ {
			if p.RGBAAt(x, y) == green && p.RGBAAt(x, y-1) != green {
				swatches++
			}
		}
	}
	if swatches != len(r.Stops) {
		t.Errorf("%d swatches on %d rows", swatches, len(r.Stops))
	}
}

func TestText(t *testing.T) {
	p := newPen(image.NewRGBA(image.Rect(0, 0, 1, 1)), points(10), false, ink)
	if got := p.legible("a\x1b\u202e環é"); got != "a???é" {
		t.Errorf("legible: %q", got)
	}
	for _, s := range []string{"", " ", strings.Repeat("w", 500), strings.Repeat("short words ", 50)} {
		for _, l := range p.wrap(s, 300) {
			if p.width(l) > 300 {
				t.Errorf("%q is %d pixels wide", l, p.width(l))
			}
		}
	}
}

// The head names the file, which tells the sizes of one design apart.
func TestCardNamesItsFile(t *testing.T) {
	d, r := square(color.RGBA{200, 0, 0, 255})
	r.Name = "square"
	draw := func(path string) *image.RGBA {
		r.Path = path
		return pagesOf(d, r, CardOptions{Paper: Hand})[0]
	}
	none, small, large := draw("-"), draw("pack.zip/block-100.dst"), draw("other/block-150.dst")
	if inked(small) <= inked(none) || string(small.Pix) == string(large.Pix) {
		t.Error("the card does not name its file")
	}
	if again := draw("elsewhere/block-150.dst"); string(again.Pix) != string(large.Pix) {
		t.Error("the folder shows on the card")
	}
}
