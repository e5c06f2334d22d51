package render

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// stopPictures draws the pictures of the rows in sewing order: a stop in full
// over the faint ones before it. Those are kept, so that a long design costs one
// drawing of each stop and not one for every row after it.
type stopPictures struct {
	d    *stitchfile.Design
	r    *report.Report
	side int
	ink  bool

	place plane
	faint *image.RGBA // the stops drawn so far
	done  int         // how many
}

// A single line is drawn from leastLine to mostLine pixels wide: true scale would
// be finer than a hair. Where lines lie close together they get thinner, down to
// the least, so that no more than lineShare of the place is line and the lines
// do not run together.
const (
	leastLine = 1.5
	mostLine  = 3.6
	lineShare = 0.24
)

func (p *stopPictures) begin() {
	rect := image.Rect(0, 0, p.side, p.side)
	p.place = planeIn(rect, float64(p.side)/(1.06*max(p.r.WidthMM, p.r.HeightMM, 1)))
	p.faint = image.NewRGBA(rect)
	box(p.faint, rect, white)
}

// draw puts the picture of a stop on a page.
func (p *stopPictures) draw(page *image.RGBA, at image.Rectangle, s *report.Stop) {
	if p.faint == nil {
		p.begin()
	}
	for ; p.done < len(p.r.Stops) && p.r.Stops[p.done].Number < s.Number; p.done++ {
		p.stop(p.faint, &p.r.Stops[p.done], true)
	}
	picture := image.NewRGBA(p.faint.Rect)
	copy(picture.Pix, p.faint.Pix)
	p.stop(picture, s, false)
	draw.Draw(page, at, picture, image.Point{}, draw.Src)
}

// stop draws one stop in its thread's colour, or black without colours. A thread
// too pale for the paper gets a dark edge.
func (p *stopPictures) stop(img *image.RGBA, s *report.Stop, faint bool) {
	c := threadColour(s)
	if p.ink {
		c = ink
	}
	edge := color.RGBA{}
	if contrast(c, white) < 1.6 {
		edge = color.RGBA{96, 100, 108, 255}
	}
	if faint {
		c = mix(c, white, 0.72)
		if edge.A != 0 {
			c, edge = mix(edge, white, 0.72), color.RGBA{}
		}
	}
	thick := p.thick(s)
	t := threadPainter{img: img}
	pass := func(c color.RGBA, thick float64) {
		t.line(c, thick)
		p.place.stitches(p.d, p.r, s, func(_ int, x0, y0, x1, y1 float64) { t.stitch(x0, y0, x1, y1) })
	}
	if edge.A != 0 {
		pass(edge, thick+1.6)
	}
	pass(c, thick)
}

// thick is how wide a stop's lines are drawn.
func (p *stopPictures) thick(s *report.Stop) float64 {
	length := 0.0
	p.place.stitches(p.d, p.r, s, func(_ int, x0, y0, x1, y1 float64) { length += math.Hypot(x1-x0, y1-y0) })
	w, h := s.BoundsMM[2]-s.BoundsMM[0]+1, s.BoundsMM[3]-s.BoundsMM[1]+1
	room := w * h * p.place.perMM * p.place.perMM
	thick := mostLine
	if length > 0 {
		thick = max(leastLine, min(mostLine, lineShare*room/length))
	}
	return max(thick, report.DefaultSettings().LaidWidth()*p.place.perMM)
}
