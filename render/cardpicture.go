package render

import (
	"image"
	"image/color"
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// stopPictures draws the pictures of the rows in sewing order: the stop at hand in
// its thread's colour, all before it in one grey, and the cloth that lies in the
// hoop in pale tints. What is done is kept, so that a long design costs one drawing
// of each stop and not one for every row after it.
type stopPictures struct {
	d    *stitchfile.Design
	r    *report.Report
	side int // pixels
	ink  bool

	place plane
	faint *image.RGBA // the stops drawn so far
	done  int         // how many
	cloth clothStates
}

// A single line is drawn from leastLine to mostLine wide, in shares of the side:
// true scale would be finer than a hair. Where lines lie close together they get
// thinner, down to the least, so that no more than lineShare of the place is line
// and the lines do not run together.
const (
	leastLine = 1.5 / 220
	mostLine  = 5.0 / 220
	greyLine  = 2.4 / 220
	lineShare = 0.24
)

// The greys and tints of the small pictures, apart in lightness.
var (
	pastGrey   = color.RGBA{150, 154, 160, 255} // what is sewn already
	blockTint  = color.RGBA{246, 240, 226, 255} // block cloth
	pieceTint  = color.RGBA{200, 219, 226, 255} // applique cloth
	pieceEdge  = color.RGBA{120, 148, 160, 255}
	underTint  = color.RGBA{233, 235, 239, 255} // the hoop from below
	battingDot = color.RGBA{176, 182, 192, 255}
	// One colour for every thread that the file does not name: several would look
	// like advice.
	unknownThread = color.RGBA{0, 104, 160, 255}
	paleCasing    = color.RGBA{84, 88, 96, 255} // round threads too pale for the paper
)

func (p *stopPictures) begin() {
	r := image.Rect(0, 0, p.side, p.side)
	p.place = planeIn(r, float64(p.side)/(1.1*max(p.r.WidthMM, p.r.HeightMM, 1)))
	p.faint = image.NewRGBA(r)
	box(p.faint, r, white)
	p.cloth = newClothStates(p.r)
}

func (p *stopPictures) tint(c color.RGBA) color.RGBA {
	if p.ink {
		g := color.GrayModel.Convert(c).(color.Gray).Y
		return color.RGBA{g, g, g, 255}
	}
	return c
}

// draw gives the picture of some stops alike, or of one. They must come in their
// order.
func (p *stopPictures) draw(stops []*report.Stop) *image.RGBA {
	if p.faint == nil {
		p.begin()
	}
	first := stops[0]
	for ; p.done < len(p.r.Stops) && p.r.Stops[p.done].Number < first.Number; p.done++ {
		p.past(&p.r.Stops[p.done])
	}
	img := image.NewRGBA(p.faint.Rect)
	if p.under(first) {
		p.underside(img, first)
		return img
	}
	copy(img.Pix, p.faint.Pix)
	p.lay(img, first, true)
	for _, s := range stops {
		p.stop(img, s, false)
	}
	p.scissors(img, first)
	return img
}

// past adds a stop to what is done.
func (p *stopPictures) past(s *report.Stop) {
	if !p.under(s) {
		p.lay(p.faint, s, false)
	}
	p.stop(p.faint, s, true)
}

// lay draws the cloth that comes into the hoop for a stop: as it is laid, or as
// it lies after the trim.
func (p *stopPictures) lay(img *image.RGBA, s *report.Stop, now bool) {
	if box := p.cloth.block(s); box != nil {
		p.area(img, box, p.tint(blockTint), p.tint(rule))
	}
	for _, q := range p.cloth.pieces(s) {
		shape := q.cut
		if now {
			shape = q.laid
		}
		p.area(img, shape, p.tint(pieceTint), p.tint(pieceEdge))
	}
}

// area draws a cloth.
func (p *stopPictures) area(img *image.RGBA, line []geom.Point, fill, edge color.RGBA) {
	if len(line) < 3 {
		return
	}
	corners := make([][2]float64, len(line))
	for i, q := range line {
		corners[i][0], corners[i][1] = p.place.at(q)
	}
	area(img, corners, fill)
	b := brush{threadPainter{img: img}}
	b.line(edge, max(1, float64(p.side)/220))
	b.closed(p.place, line)
}

// scissors marks where a stop's cloth is cut after it.
func (p *stopPictures) scissors(img *image.RGBA, s *report.Stop) {
	unit := float64(p.side) / 220
	for i, line := range p.cloth.cuts(s) {
		b := brush{threadPainter{img: img}}
		b.line(ink, 1.6*unit)
		b.dashed(p.place, line, 6*unit, 4*unit)
		if i > 0 || len(line) == 0 {
			continue
		}
		at := line[0] // the upper right of it, where no letters stand
		for _, q := range line {
			if q.X+q.Y > at.X+at.Y {
				at = q
			}
		}
		x, y := p.place.at(at)
		const size = 46
		cv := &pixels{img: img, perMM: 1}
		x = max(size*unit*0.55, min(x, float64(p.side)-size*unit*0.55))
		y = max(size*unit*0.55, min(y, float64(p.side)-size*unit*0.55))
		disc(img, x, y, size*unit*0.56, white)
		drawSign(cv, x-size*unit*0.4, y-size*unit*0.4, size*unit*0.8, ink, signTrim)
	}
}

// under reports whether a stop's cloth lies on the underside of the hoop.
func (p *stopPictures) under(s *report.Stop) bool {
	if p.cloth.r == nil {
		p.cloth = newClothStates(p.r)
	}
	return p.cloth.under(s)
}

// underside draws the hoop from below, left for right, with the batting or
// backing on it.
func (p *stopPictures) underside(img *image.RGBA, s *report.Stop) {
	box(img, img.Rect, p.tint(underTint))
	for k := range p.done {
		p.stop(img, &p.r.Stops[k], true)
	}
	margin := 0.03 * max(p.r.WidthMM, p.r.HeightMM)
	b := s.BoundsMM
	cloth := []geom.Point{{X: b[0] - margin, Y: b[1] - margin}, {X: b[2] + margin, Y: b[1] - margin}, {X: b[2] + margin, Y: b[3] + margin}, {X: b[0] - margin, Y: b[3] + margin}}
	if s.Role == report.RoleBattingHoldDown {
		p.area(img, cloth, white, p.tint(pieceEdge))
		unit := float64(p.side) / 220
		x0, y0 := p.place.at(cloth[3])
		x1, y1 := p.place.at(cloth[1])
		row := 0
		for y := y0 + 7*unit; y < y1-4*unit; y += 11 * unit {
			for x := x0 + (7+float64(row%2)*5.5)*unit; x < x1-4*unit; x += 11 * unit {
				disc(img, x, y, 1.9*unit, p.tint(battingDot))
			}
			row++
		}
	} else {
		p.area(img, cloth, p.tint(blockTint), p.tint(pieceEdge))
	}
	p.stop(img, s, false)
	for y := range img.Rect.Dy() {
		for x := range img.Rect.Dx() / 2 {
			i, k := img.PixOffset(x, y), img.PixOffset(img.Rect.Dx()-1-x, y)
			for n := range 4 {
				img.Pix[i+n], img.Pix[k+n] = img.Pix[k+n], img.Pix[i+n]
			}
		}
	}
}

// stop draws one stop in its thread's colour, or black without colours, and one
// that is done in grey. A thread too pale for the paper gets a dark edge.
func (p *stopPictures) stop(img *image.RGBA, s *report.Stop, past bool) {
	c := s.Thread.Colour
	switch {
	case p.ink:
		c = ink
	case !s.Thread.HasColour():
		c = unknownThread
	}
	thick, edge := p.thick(s), 0.0
	switch {
	case past:
		c = pastGrey
		thick = max(min(thick, greyLine*float64(p.side)), p.laid())
	case contrast(c, white) < 2 || contrast(c, pieceTint) < 1.5:
		edge = 2.4 * float64(p.side) / 220
	}
	t := threadPainter{img: img}
	pass := func(c color.RGBA, thick float64) {
		t.line(c, thick)
		p.place.stitches(p.d, p.r, s, func(_ int, x0, y0, x1, y1 float64) { t.stitch(x0, y0, x1, y1) })
	}
	if edge > 0 {
		pass(paleCasing, thick+edge)
	}
	pass(c, thick)
}

func (p *stopPictures) laid() float64 { return report.DefaultSettings().LaidWidth() * p.place.perMM }

// thick is how wide a stop's lines are drawn.
func (p *stopPictures) thick(s *report.Stop) float64 {
	length := 0.0
	p.place.stitches(p.d, p.r, s, func(_ int, x0, y0, x1, y1 float64) { length += math.Hypot(x1-x0, y1-y0) })
	w, h := s.BoundsMM[2]-s.BoundsMM[0]+1, s.BoundsMM[3]-s.BoundsMM[1]+1
	room := w * h * p.place.perMM * p.place.perMM
	least, most := leastLine*float64(p.side), mostLine*float64(p.side)
	thick := most
	if length > 0 {
		thick = max(least, min(most, lineShare*room/length))
	}
	return max(thick, p.laid())
}
