package render

import (
	"context"
	"image"
	"image/color"
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// stopPictures draws the pictures of the rows in sewing order: the stop at hand in
// its thread's colour, all before it in one grey, and the cloth that lies in the
// hoop in pale tints. What is done is kept, so that a long design costs one drawing
// of each stop and not one for every row after it.
type stopPictures struct {
	ctx  context.Context
	d    *stitchfile.Design
	r    *report.Report
	side int // pixels
	ink  bool

	// plate is the share of the side below a picture of the underside that a word takes.
	plate float64

	place plane
	face  plane       // where the face of the hoop lies
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
	backTint   = color.RGBA{228, 220, 236, 255} // backing
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
	p.place.ctx = p.ctx
	p.face = p.place
	p.faint = image.NewRGBA(r)
	box(p.faint, r, white)
	p.cloth = clothStates{p.r}
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
	img := p.base(stops[0])
	for _, s := range stops {
		p.stop(img, s, false)
	}
	p.finish(img, stops[0])
	return img
}

// base is the picture of a stop without the stop itself, before finish.
func (p *stopPictures) base(s *report.Stop) *image.RGBA {
	if p.faint == nil {
		p.begin()
	}
	if p.plate > 0 {
		p.place = p.face
	}
	for ; p.done < len(p.r.Stops) && p.r.Stops[p.done].Number < s.Number; p.done++ {
		p.lay(p.faint, &p.r.Stops[p.done], false)
		p.stop(p.faint, &p.r.Stops[p.done], true)
	}
	img := image.NewRGBA(p.faint.Rect)
	if under := p.under(s); under != nil {
		if p.plate > 0 {
			p.place.perMM *= 1 - p.plate
			p.place.y *= 1 - p.plate
		}
		p.below(img, s, *under)
	} else {
		copy(img.Pix, p.faint.Pix)
		p.lay(img, s, true)
	}
	return img
}

// finish marks where scissors go after a stop, and turns the underside round.
func (p *stopPictures) finish(img *image.RGBA, s *report.Stop) {
	cuts := p.cloth.cuts(s)
	p.dashes(img, cuts)
	under := p.under(s) != nil
	if under {
		mirror(img)
	}
	if len(cuts) > 0 {
		x, y := p.scissorsAt(img.Rect, cuts[0], under)
		disc(img, x, y, p.scissorsSide()*0.56, white)
		size := p.scissorsSide()
		drawSign(&pixels{img: img, perMM: 1}, x-size*0.4, y-size*0.4, size*0.8, ink, signTrim)
	}
}

// lay draws the cloth on the face that comes into the hoop for a stop: as it is
// laid, or as it lies after the trim.
func (p *stopPictures) lay(img *image.RGBA, s *report.Stop, now bool) {
	for _, l := range p.cloth.came(s) {
		if l.Side == report.Underside {
			continue
		}
		laid, cut := p.cloth.outline(l, s)
		shape := cut
		if now || l.What != report.AppliqueCloth && !p.cloth.trimmedAfter(l, s) {
			shape = laid
		}
		p.area(img, shape, p.tint(tintOf(l.What)), p.tint(edgeOf(l.What)))
		if l.What == report.Batting {
			p.dots(img, shape)
		}
	}
	if !now {
		return
	}
	// Cloth that is trimmed later still lies with its corners over the rest.
	for _, l := range p.cloth.untrimmed(s) {
		if laid, _ := p.cloth.outline(l, s); laid != nil {
			p.shade(img, laid, p.tint(pieceTint))
			p.edge(img, laid, p.tint(pieceEdge))
		}
	}
}

func tintOf(m report.Material) color.RGBA {
	switch m {
	case report.AppliqueCloth:
		return pieceTint
	case report.Batting:
		return white
	case report.Backing:
		return backTint
	}
	return blockTint
}

func edgeOf(m report.Material) color.RGBA {
	if m == report.BlockCloth {
		return rule
	}
	return pieceEdge
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
	p.edge(img, line, edge)
}

func (p *stopPictures) unit() float64 { return float64(p.side) / 220 }

func (p *stopPictures) edge(img *image.RGBA, line []geom.Point, c color.RGBA) {
	b := brush{threadPainter{img: img}}
	b.line(c, max(1, p.unit()))
	b.closed(p.place, line)
}

// shade darkens a box to a tint: what lies in it stays to be seen.
func (p *stopPictures) shade(img *image.RGBA, line []geom.Point, c color.RGBA) {
	b := geom.BoxOf(line)
	x0, y1 := p.place.at(b.Lo)
	x1, y0 := p.place.at(b.Hi)
	r := image.Rect(int(x0), int(y0), int(x1), int(y1)).Intersect(img.Rect)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			i := img.PixOffset(x, y)
			img.Pix[i], img.Pix[i+1], img.Pix[i+2] = min(img.Pix[i], c.R), min(img.Pix[i+1], c.G), min(img.Pix[i+2], c.B)
		}
	}
}

// dots mark batting.
func (p *stopPictures) dots(img *image.RGBA, line []geom.Point) {
	if len(line) == 0 {
		return
	}
	b := geom.BoxOf(line)
	x0, y1 := p.place.at(b.Lo)
	x1, y0 := p.place.at(b.Hi)
	x0, y0, x1, y1 = max(x0, 0), max(y0, 0), min(x1, float64(img.Rect.Dx())), min(y1, float64(img.Rect.Dy()))
	row, unit := 0, p.unit()
	for y := y0 + 7*unit; y < y1-4*unit; y += 11 * unit {
		for x := x0 + (7+float64(row%2)*5.5)*unit; x < x1-4*unit; x += 11 * unit {
			disc(img, x, y, 1.9*unit, p.tint(battingDot))
		}
		row++
	}
}

// dashes draws where scissors go.
func (p *stopPictures) dashes(img *image.RGBA, cuts [][]geom.Point) {
	b := brush{threadPainter{img: img}}
	b.line(ink, 1.6*p.unit())
	for _, line := range cuts {
		b.dashed(p.place, append(slices.Clone(line), line[0]), 6*p.unit(), 4*p.unit())
	}
}

// scissorsSide is how large their sign is.
func (p *stopPictures) scissorsSide() float64 { return 46 * p.unit() }

// scissorsAt is the middle of the sign of scissors: on the upper right of the line that
// they follow, or beside it where the sign would hide a third of the line's width.
func (p *stopPictures) scissorsAt(in image.Rectangle, line []geom.Point, mirrored bool) (x, y float64) {
	radius := 0.58 * p.scissorsSide()
	wide, high := float64(in.Dx()), float64(in.Dy())
	lo, hi := [2]float64{wide, high}, [2]float64{}
	corners := make([][2]float64, len(line))
	for i, q := range line {
		at := &corners[i]
		at[0], at[1] = p.place.at(q)
		if mirrored {
			at[0] = wide - at[0]
		}
		for k := range at {
			lo[k], hi[k] = min(lo[k], at[k]), max(hi[k], at[k])
		}
	}
	small := min(hi[0]-lo[0], hi[1]-lo[1]) < 6*radius
	within := func(v, most float64) float64 { return max(radius, min(v, most-radius)) }
	least := math.Inf(1)
	for _, to := range [][2]float64{{1, -1}, {-1, -1}, {1, 1}, {-1, 1}} {
		at := corners[0]
		for _, q := range corners {
			if q[0]*to[0]+q[1]*to[1] > at[0]*to[0]+at[1]*to[1] {
				at = q
			}
		}
		if small {
			at[0], at[1] = at[0]+0.75*radius*to[0], at[1]+0.75*radius*to[1]
		}
		inX, inY := within(at[0], wide), within(at[1], high)
		if off := math.Hypot(inX-at[0], inY-at[1]); off < least-0.5 {
			least, x, y = off, inX, inY
		}
		if !small {
			break
		}
	}
	return x, y
}

// under is the cloth on the underside that a stop is about, if that is so.
func (p *stopPictures) under(s *report.Stop) *report.Lying {
	return clothStates{p.r}.under(s)
}

// below draws the underside of the hoop with the cloth that comes on it, still as
// it lies under the face.
func (p *stopPictures) below(img *image.RGBA, s *report.Stop, l report.Lying) {
	box(img, img.Rect, p.tint(underTint))
	for k := range p.done {
		p.stop(img, &p.r.Stops[k], true)
	}
	laid, _ := p.cloth.outline(l, s)
	if laid == nil {
		laid = boxOf(s).Grown(3).Corners()
	}
	p.area(img, laid, p.tint(tintOf(l.What)), p.tint(pieceEdge))
	if l.What == report.Batting {
		p.dots(img, laid)
	}
}

// mirror turns a picture left for right.
func mirror(img *image.RGBA) {
	w := img.Rect.Dx()
	for y := range img.Rect.Dy() {
		for x := range w / 2 {
			i, k := img.PixOffset(x, y), img.PixOffset(w-1-x, y)
			for n := range 4 {
				img.Pix[i+n], img.Pix[k+n] = img.Pix[k+n], img.Pix[i+n]
			}
		}
	}
}

// stop draws one stop in its thread's colour, or black without colours, and one
// that is done in grey. A thread too pale for the paper gets a dark edge.
func (p *stopPictures) stop(img *image.RGBA, s *report.Stop, past bool) {
	c := hoopInk(s)
	if p.ink {
		c = ink
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

func (p *stopPictures) laid() float64 { return settingsOf(p.r).LaidWidth() * p.place.perMM }

// thick is how wide a stop's lines are drawn.
func (p *stopPictures) thick(s *report.Stop) float64 {
	length := 0.0
	p.place.stitches(p.d, p.r, s, func(_ int, x0, y0, x1, y1 float64) { length += math.Hypot(x1-x0, y1-y0) })
	w, h := boxOf(s).Width()+1, boxOf(s).Height()+1
	room := w * h * p.place.perMM * p.place.perMM
	least, most := leastLine*float64(p.side), mostLine*float64(p.side)
	thick := most
	if length > 0 {
		thick = max(least, min(most, lineShare*room/length))
	}
	return max(thick, p.laid())
}
