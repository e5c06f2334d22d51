package render

import (
	"image"
	"image/color"
	"image/draw"
	"math"

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

	flat bool // no edge and gleam on each thread, for lines wider than true
	bare bool // no ground: what is not thread stays transparent
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
	if !o.bare {
		draw.Draw(img, img.Bounds(), image.NewUniform(o.Ground), image.Point{}, draw.Src)
	}
	p := threadPainter{img: img, half: max(o.Laid*scale/2, 0.45), flat: o.flat}
	place := func(m stitchfile.Move) (x, y float64) {
		return float64(o.Width)/2 + (float64(m.X)-r.CentreX)/10*scale,
			float64(o.Height)/2 - (float64(m.Y)-r.CentreY)/10*scale
	}
	for i := range r.Stops {
		s := &r.Stops[i]
		if o.Strong > 0 && s.Number > o.Strong {
			break
		}
		p.dress(threadColour(s))
		if o.Strong > 0 && s.Number < o.Strong {
			p.fade(o.Ground, 0.78)
		}
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

// shades is how many steps of light a thread is drawn in, and across how many
// tones it is round, from its edge to its middle.
const (
	shades = 24
	tones  = 8
)

// threadPainter draws stitches one over another. A thread is a simple shape with
// a tone that changes across it, so each pixel near its line is shaded once; a
// path rasteriser would go over the whole box of every stitch three times.
type threadPainter struct {
	img    *image.RGBA
	half   float64 // half the laid width, pixels
	flat   bool
	colour [shades][tones]color.RGBA
}

// dress readies the shades of one thread colour: a dark edge, the body in the
// light that the stitch's direction catches, and a gleam along the middle.
func (p *threadPainter) dress(c color.RGBA) {
	white, black := color.RGBA{255, 255, 255, 255}, color.RGBA{0, 0, 0, 255}
	for i := range shades {
		t := float64(i) / (shades - 1)
		body := mix(mix(c, black, 0.24), mix(c, white, 0.10), t)
		for j := range tones {
			k := float64(j) / (tones - 1)
			switch {
			case p.half < 1 || p.flat:
				p.colour[i][j] = body
			case k < 0.25:
				p.colour[i][j] = mix(c, black, 0.42)
			case k > 0.65:
				p.colour[i][j] = mix(body, white, 0.06+0.24*t)
			default:
				p.colour[i][j] = body
			}
		}
	}
}

// fade mixes a share of the ground into the shades that dress made, the dark
// edges too.
func (p *threadPainter) fade(ground color.RGBA, share float64) {
	for i := range p.colour {
		for j := range p.colour[i] {
			p.colour[i][j] = mix(p.colour[i][j], ground, share)
		}
	}
}

// stitch draws one stitch from end to end, with a little of the thread past each
// needle hole.
func (p *threadPainter) stitch(x0, y0, x1, y1 float64) {
	dx, dy := x1-x0, y1-y0
	l := math.Hypot(dx, dy)
	if l < 0.01 {
		return
	}
	ux, uy := dx/l, dy/l
	// Thread gleams where it lies across the light, which falls from the upper left.
	across := math.Abs(ux-uy) * math.Sqrt2 / 2
	colour := &p.colour[int(across*(shades-1)+0.5)]

	end := p.half * 0.6
	reach := p.half + 0.5 // as far as a pixel's centre can be and still be touched
	b := p.img.Rect
	loY := max(b.Min.Y, int(math.Floor(min(y0, y1)-reach-end)))
	hiY := min(b.Max.Y-1, int(math.Ceil(max(y0, y1)+reach+end)))
	for y := loY; y <= hiY; y++ {
		// The pixels of this row within reach across the thread and along it.
		py := float64(y) + 0.5 - y0
		lo, hi := min(x0, x1)-reach-end, max(x0, x1)+reach+end
		if math.Abs(uy) > 1e-6 {
			m, w := x0+py*ux/uy, reach/math.Abs(uy)
			lo, hi = max(lo, m-w), min(hi, m+w)
		}
		for x := max(b.Min.X, int(lo-0.5)); x <= min(b.Max.X-1, int(hi+0.5)); x++ {
			px := float64(x) + 0.5 - x0
			along, off := px*ux+py*uy, math.Abs(px*uy-py*ux)
			cover := min(p.half-off, along+end, l+end-along) + 0.5
			if cover <= 0 {
				continue
			}
			c := colour[int(max(0, 1-off/p.half)*(tones-1)+0.5)]
			p.blend(x, y, c, min(cover, 1, 2*p.half))
		}
	}
}

// blend lays a share of an opaque colour over a pixel.
func (p *threadPainter) blend(x, y int, c color.RGBA, share float64) {
	i := p.img.PixOffset(x, y)
	px := p.img.Pix[i : i+4 : i+4]
	a := int(share * 256)
	px[0] = uint8((int(px[0])*(256-a) + int(c.R)*a) >> 8)
	px[1] = uint8((int(px[1])*(256-a) + int(c.G)*a) >> 8)
	px[2] = uint8((int(px[2])*(256-a) + int(c.B)*a) >> 8)
	px[3] = uint8((int(px[3])*(256-a) + 255*a) >> 8)
}
