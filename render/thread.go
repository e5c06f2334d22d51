package render

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"golang.org/x/image/vector"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/stitchfile"
)

// ThreadOptions say how Thread draws. The zero value draws 1000 pixels wide on
// Cloth, with a margin of 3 % of the larger side.
type ThreadOptions struct {
	Width  int        // pixels
	Height int        // pixels; 0: as the design's shape asks
	Ground color.RGBA // zero: Cloth
	Laid   float64    // laid width of the thread in mm; 0: 40 wt at the default flattening
	// Strong is the number of the one stop drawn in full; earlier stops are
	// faint and later ones left out. 0 draws all.
	Strong int
}

// maxPicture bounds a picture's sides in pixels.
const maxPicture = 16000

// Thread draws the design as it will look sewn: each stitch at its laid width,
// lit from the upper left so that satin shines and its direction shows. Travel
// with the needle up is not drawn.
func Thread(d *stitchfile.Design, r *analyse.Report, o ThreadOptions) *image.RGBA {
	if o.Width <= 0 {
		o.Width = 1000
	}
	if o.Ground.A == 0 {
		o.Ground = Cloth
	}
	if o.Laid <= 0 {
		o.Laid = analyse.DefaultSettings().LaidWidth()
	}
	margin := 0.03 * max(r.WidthMM, r.HeightMM, 1)
	w, h := r.WidthMM+2*margin, r.HeightMM+2*margin
	scale := float64(o.Width) / w
	if o.Height <= 0 {
		o.Height = max(1, int(math.Round(scale*h)))
	}
	o.Width, o.Height = min(o.Width, maxPicture), min(o.Height, maxPicture)
	scale = min(float64(o.Width)/w, float64(o.Height)/h)

	img := image.NewRGBA(image.Rect(0, 0, o.Width, o.Height))
	draw.Draw(img, img.Bounds(), image.NewUniform(o.Ground), image.Point{}, draw.Src)
	p := threadPainter{img: img, half: max(o.Laid*scale/2, 0.45)}
	place := func(m stitchfile.Move) (x, y float64) {
		return float64(o.Width)/2 + (float64(m.X)-r.CentreX)/10*scale,
			float64(o.Height)/2 - (float64(m.Y)-r.CentreY)/10*scale
	}
	for i := range r.Stops {
		s := &r.Stops[i]
		if o.Strong > 0 && s.Number > o.Strong {
			break
		}
		c := threadColour(s)
		if o.Strong > 0 && s.Number < o.Strong {
			c = mix(c, o.Ground, 0.78)
		}
		p.dress(c)
		down := false
		var x0, y0 float64
		for _, m := range d.Moves[s.First:s.Last] {
			if m.Kind != stitchfile.Stitch {
				down = false
				continue
			}
			x, y := place(m)
			if down {
				p.stitch(x0, y0, x, y)
			}
			x0, y0, down = x, y, true
		}
	}
	return img
}

// shades is how many steps of light a thread is drawn in.
const shades = 24

// threadPainter draws stitches one over another.
type threadPainter struct {
	img    *image.RGBA
	half   float64 // half the laid width, pixels
	body   [shades]image.Uniform
	shine  [shades]image.Uniform
	shadow image.Uniform
	raster vector.Rasterizer
}

// dress readies the shades of one thread colour.
func (p *threadPainter) dress(c color.RGBA) {
	white, black := color.RGBA{255, 255, 255, 255}, color.RGBA{0, 0, 0, 255}
	for i := range shades {
		t := float64(i) / (shades - 1)
		body := mix(mix(c, black, 0.24), mix(c, white, 0.10), t)
		p.body[i] = *image.NewUniform(body)
		p.shine[i] = *image.NewUniform(mix(body, white, 0.06+0.26*t))
	}
	p.shadow = *image.NewUniform(mix(c, black, 0.45))
}

// stitch draws one stitch: a dark edge, the body in the light that its direction
// catches, and a gleam along its middle. Fine threads get the body alone.
func (p *threadPainter) stitch(x0, y0, x1, y1 float64) {
	dx, dy := x1-x0, y1-y0
	l := math.Hypot(dx, dy)
	if l < 0.01 {
		return
	}
	ux, uy := dx/l, dy/l
	// Thread gleams where it lies across the light, which falls from the upper left.
	across := math.Abs(ux*math.Sqrt2/2 - uy*math.Sqrt2/2)
	shade := int(across*(shades-1) + 0.5)
	if p.half < 1 {
		p.quad(x0, y0, x1, y1, ux, uy, p.half, p.half*0.5, &p.body[shade])
		return
	}
	p.quad(x0, y0, x1, y1, ux, uy, p.half, p.half*0.7, &p.shadow)
	p.quad(x0, y0, x1, y1, ux, uy, p.half*0.8, p.half*0.5, &p.body[shade])
	inset := min(l*0.18, p.half*2)
	p.quad(x0+ux*inset, y0+uy*inset, x1-ux*inset, y1-uy*inset, ux, uy, p.half*0.32, 0, &p.shine[shade])
}

// quad fills the box round a line, half wide to each side and cap longer at each
// end, rasterised in a mask no larger than itself.
func (p *threadPainter) quad(x0, y0, x1, y1, ux, uy, half, end float64, c *image.Uniform) {
	x0, y0, x1, y1 = x0-ux*end, y0-uy*end, x1+ux*end, y1+uy*end
	nx, ny := -uy*half, ux*half
	minX, maxX := min(x0, x1)-math.Abs(nx), max(x0, x1)+math.Abs(nx)
	minY, maxY := min(y0, y1)-math.Abs(ny), max(y0, y1)+math.Abs(ny)
	box := image.Rect(int(math.Floor(minX)), int(math.Floor(minY)), int(math.Ceil(maxX))+1, int(math.Ceil(maxY))+1)
	if !box.Overlaps(p.img.Rect) {
		return
	}
	ox, oy := float64(box.Min.X), float64(box.Min.Y)
	at := func(x, y float64) (float32, float32) { return float32(x - ox), float32(y - oy) }
	z := &p.raster
	z.Reset(box.Dx(), box.Dy())
	z.MoveTo(at(x0+nx, y0+ny))
	z.LineTo(at(x1+nx, y1+ny))
	z.LineTo(at(x1-nx, y1-ny))
	z.LineTo(at(x0-nx, y0-ny))
	z.ClosePath()
	z.Draw(p.img, box, c, image.Point{})
}
