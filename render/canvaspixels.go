package render

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
	xdraw "golang.org/x/image/draw"
	"golang.org/x/image/font"
	"golang.org/x/image/math/fixed"
)

// pixels is a canvas of pixels.
type pixels struct {
	img   *image.RGBA
	perMM float64
	faces map[lettering]font.Face
}

// newPixels is a white sheet at a resolution in pixels per inch.
func newPixels(p Paper, dpi float64) *pixels {
	c := &pixels{perMM: dpi / 25.4, faces: map[lettering]font.Face{}}
	c.img = image.NewRGBA(image.Rect(0, 0, c.px(p.WidthMM), c.px(p.HeightMM)))
	box(c.img, c.img.Rect, white)
	return c
}

func (p *pixels) px(mm float64) int { return int(math.Round(mm * p.perMM)) }

func (p *pixels) rect(r rect) image.Rectangle {
	return image.Rect(p.px(r.x), p.px(r.y), p.px(r.right()), p.px(r.bottom()))
}

func (p *pixels) area(c color.RGBA, corners ...geom.Point) {
	// Upright rectangles keep to whole pixels: their edges stay crisp.
	if len(corners) == 4 && corners[0].Y == corners[1].Y && corners[1].X == corners[2].X && corners[2].Y == corners[3].Y && corners[3].X == corners[0].X {
		r := image.Rect(p.px(corners[0].X), p.px(corners[0].Y), p.px(corners[2].X), p.px(corners[2].Y))
		if r.Dx() == 0 {
			r.Max.X++
		}
		if r.Dy() == 0 {
			r.Max.Y++
		}
		box(p.img, r, c)
		return
	}
	out := make([][2]float64, len(corners))
	for i, q := range corners {
		out[i] = [2]float64{q.X * p.perMM, q.Y * p.perMM}
	}
	area(p.img, out, c)
}

func (p *pixels) line(c color.RGBA, wide float64, points ...geom.Point) {
	b := threadPainter{img: p.img}
	b.line(c, wide*p.perMM)
	for i := 1; i < len(points); i++ {
		b.stitch(points[i-1].X*p.perMM, points[i-1].Y*p.perMM, points[i].X*p.perMM, points[i].Y*p.perMM)
	}
}

func (p *pixels) dashed(c color.RGBA, wide, on, off float64, points ...geom.Point) {
	b := brush{threadPainter{img: p.img}}
	b.line(c, wide*p.perMM)
	flipped := make([]geom.Point, len(points))
	for i, q := range points {
		flipped[i] = geom.Point{X: q.X, Y: -q.Y}
	}
	b.dashed(plane{perMM: p.perMM}, flipped, on*p.perMM, off*p.perMM)
}

func (p *pixels) write(l lettering, c color.RGBA, x, y float64, text string) {
	face := p.faces[l]
	if face == nil {
		face = newFace(l.bold, l.em*p.perMM)
		p.faces[l] = face
	}
	at := func(mm float64) fixed.Int26_6 { return fixed.Int26_6(math.Round(mm * p.perMM * 64)) }
	// Letter by letter, as a PDF sets them.
	for _, r := range l.legible(text) {
		d := font.Drawer{Dst: p.img, Src: image.NewUniform(c), Face: face, Dot: fixed.Point26_6{X: at(x), Y: at(y)}}
		d.DrawString(string(r))
		w, _ := l.advance(r)
		x += w * l.em
	}
}

func (p *pixels) picture(at rect, img image.Image) {
	r := p.rect(at)
	// A picture made for its place may miss it by a pixel of rounding: it stays as sharp as
	// it was drawn, and where it is short the frame is wider than that.
	size := img.Bounds().Size()
	if by := r.Size().Sub(size); max(by.X, -by.X, by.Y, -by.Y) <= 1 {
		r.Max = r.Min.Add(size)
		op := draw.Over
		if o, ok := img.(*image.RGBA); ok && o.Opaque() {
			op = draw.Src // the same, and a copy
		}
		draw.Draw(p.img, r, img, img.Bounds().Min, op)
		return
	}
	xdraw.CatmullRom.Scale(p.img, r, img, img.Bounds(), xdraw.Over, nil)
}

func (p *pixels) clip(at rect, draw func()) {
	whole := p.img
	p.img = whole.SubImage(p.rect(at)).(*image.RGBA)
	draw()
	p.img = whole
}
