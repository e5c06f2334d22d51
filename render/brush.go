package render

import (
	"image"
	"image/color"
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
	"golang.org/x/image/vector"
)

// brush draws lines of even width.
type brush struct{ threadPainter }

// open draws a line through the points.
func (b *brush) open(p plane, line []geom.Point) {
	for i := 1; i < len(line); i++ {
		x0, y0 := p.at(line[i-1])
		x1, y1 := p.at(line[i])
		b.stitch(x0, y0, x1, y1)
	}
}

// closed draws a line through the points and back to the first.
func (b *brush) closed(p plane, line []geom.Point) {
	b.open(p, line)
	if n := len(line); n > 2 && line[0] != line[n-1] {
		b.open(p, []geom.Point{line[n-1], line[0]})
	}
}

// dashed draws a line through the points with gaps; on and off are in pixels.
func (b *brush) dashed(p plane, line []geom.Point, on, off float64) {
	pos := 0.0
	for i := 1; i < len(line); i++ {
		x0, y0 := p.at(line[i-1])
		x1, y1 := p.at(line[i])
		l := math.Hypot(x1-x0, y1-y0)
		for s := 0.0; s < l; {
			phase := math.Mod(pos, on+off)
			step := min(l-s, on-phase)
			if phase >= on {
				step = min(l-s, on+off-phase)
			} else {
				b.stitch(x0+(x1-x0)*s/l, y0+(y1-y0)*s/l, x0+(x1-x0)*(s+step)/l, y0+(y1-y0)*(s+step)/l)
			}
			step = max(step, 0.01)
			s, pos = s+step, pos+step
		}
	}
}

// disc fills a circle.
func disc(img *image.RGBA, x, y, radius float64, c color.RGBA) {
	b := img.Rect
	for py := max(b.Min.Y, int(y-radius-1)); py <= min(b.Max.Y-1, int(y+radius+1)); py++ {
		for px := max(b.Min.X, int(x-radius-1)); px <= min(b.Max.X-1, int(x+radius+1)); px++ {
			in := radius + 0.5 - math.Hypot(float64(px)+0.5-x, float64(py)+0.5-y)
			if in > 0 {
				blend(img.Pix[img.PixOffset(px, py):], pack(c), uint32(min(in, 1)*256))
			}
		}
	}
}

// area fills the inside of a closed line, corners in pixels.
func area(img *image.RGBA, corners [][2]float64, c color.RGBA) {
	if len(corners) < 3 {
		return
	}
	lo, hi := corners[0], corners[0]
	for _, q := range corners {
		for k := range q {
			lo[k], hi[k] = min(lo[k], q[k]), max(hi[k], q[k])
		}
	}
	r := image.Rect(int(math.Floor(lo[0])), int(math.Floor(lo[1])), int(math.Ceil(hi[0]))+1, int(math.Ceil(hi[1]))+1).Intersect(img.Rect)
	if r.Empty() {
		return
	}
	z := vector.NewRasterizer(r.Dx(), r.Dy())
	for i, q := range corners {
		x, y := float32(q[0]-float64(r.Min.X)), float32(q[1]-float64(r.Min.Y))
		if i == 0 {
			z.MoveTo(x, y)
		} else {
			z.LineTo(x, y)
		}
	}
	z.ClosePath()
	z.Draw(img, r, image.NewUniform(c), image.Point{})
}
