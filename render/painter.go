package render

import (
	"encoding/binary"
	"image"
	"image/color"
	"math"

	"github.com/stopcard/stopcard/analyse/words"
)

// shades is how many steps of light a thread is drawn in, and tones across how
// many steps it is round, from its edge to its middle.
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
	colour [shades][tones]uint32
}

// line readies the painter for plain strokes of one colour, thick pixels wide.
func (p *threadPainter) line(c color.RGBA, thick float64) {
	p.half = max(thick/2, 0.3)
	for i := range p.colour {
		for j := range p.colour[i] {
			p.colour[i][j] = pack(c)
		}
	}
}

// How far a thread's shades lie from its colour, in CIE L*. Along its edges it is
// darker and along its middle lighter, by as much in sum, so that ground covered
// with it keeps its colour; across the light it is lighter than along it, by so
// little that nobody takes one thread for two. 8 between two directions would
// still do (2 to 3 is seen side by side, 10 and more reads as another colour:
// common practice of colour matching, no single source).
const (
	edgeShade  = -10.0
	bodyShade  = 0.0
	gleamShade = 5.0
	turnShade  = 2.2 // each way
)

// dress readies the shades of one thread colour: a dark edge, the body in the
// light that the stitch's direction catches, and a gleam along the middle.
func (p *threadPainter) dress(c color.RGBA) {
	lab := words.LabOf(c)
	for i := range shades {
		t := float64(i) / (shades - 1)
		for j := range tones {
			k := float64(j) / (tones - 1)
			dl := bodyShade
			switch {
			case p.half < 1:
				dl = 0
			case k < 0.25:
				dl = edgeShade
			case k > 0.65:
				dl = gleamShade
			}
			shade := lab
			shade.L = max(0, min(100, lab.L+dl+turnShade*(2*t-1)))
			p.colour[i][j] = pack(rgbOf(shade))
		}
	}
}

// fade mixes a share of the ground into the shades that dress made, the dark
// edges too.
func (p *threadPainter) fade(ground color.RGBA, share float64) {
	for i := range p.colour {
		for j := range p.colour[i] {
			p.colour[i][j] = pack(mix(unpack(p.colour[i][j]), ground, share))
		}
	}
}

// stitch draws one stitch from end to end, with a little of the thread past each
// needle hole.
func (p *threadPainter) stitch(x0, y0, x1, y1 float64) {
	dx, dy := x1-x0, y1-y0
	l := math.Hypot(dx, dy)
	if !(l >= 0.01) {
		return
	}
	ux, uy := dx/l, dy/l
	// Thread gleams where it lies across the light, which falls from the upper left.
	across := math.Abs(ux-uy) * math.Sqrt2 / 2
	colour := &p.colour[int(across*(shades-1)+0.5)]

	end := p.half * 0.6
	reach := p.half + 0.5 // as far as a pixel's centre can be and still be touched
	b := p.img.Rect
	loX, hiX := min(x0, x1)-reach-end, max(x0, x1)+reach+end
	loY := max(b.Min.Y, int(math.Floor(min(y0, y1)-reach-end)))
	hiY := min(b.Max.Y-1, int(math.Ceil(max(y0, y1)+reach+end)))
	slant, wide := 0.0, math.Inf(1)
	if math.Abs(uy) > 1e-6 {
		slant, wide = ux/uy, reach/math.Abs(uy)
	}
	// Across and along the thread a pixel's place is counted in 1/65536 of a
	// pixel: whole numbers are quicker to compare.
	half, ahead, past := fixed16(p.half), fixed16(end+0.5), fixed16(l+end+0.5)
	most := fixed16(min(1, 2*p.half))
	tone := fixed16((tones-1)/p.half + 0.5/one16)
	stepX, stepY := fixed16(ux), fixed16(uy)
	for y := loY; y <= hiY; y++ {
		// The pixels of this row within reach across the thread and along it.
		py := float64(y) + 0.5 - y0
		m := x0 + py*slant
		lo, hi := max(loX, m-wide), min(hiX, m+wide)
		first, last := max(b.Min.X, int(lo-0.5)), min(b.Max.X-1, int(hi+0.5))
		if first > last {
			continue
		}
		px := float64(first) + 0.5 - x0
		along, off := fixed16(px*ux+py*uy), fixed16(px*uy-py*ux)
		at := p.img.PixOffset(first, y)
		row := p.img.Pix[at : at+4*(last-first+1)]
		for ; len(row) >= 4; row, along, off = row[4:], along+stepX, off+stepY {
			in := off
			if in < 0 {
				in = -in
			}
			in = half - in
			cover := in + one16/2
			if v := along + ahead; v < cover {
				cover = v
			}
			if v := past - along; v < cover {
				cover = v
			}
			if cover <= 0 {
				continue
			}
			if cover > most {
				cover = most
			}
			k := int64(0)
			if in > 0 {
				k = (in>>4*tone>>12 + one16/2) >> 16 & (tones - 1)
			}
			if c := colour[k]; cover == one16 {
				binary.LittleEndian.PutUint32(row, c)
			} else {
				blend(row, c, uint32(cover>>8))
			}
		}
	}
}

// one16 is one pixel in fixed point.
const one16 = 1 << 16

func fixed16(v float64) int64 { return int64(v * one16) }

// pack is a colour as it lies in an image's memory.
func pack(c color.RGBA) uint32 {
	return uint32(c.R) | uint32(c.G)<<8 | uint32(c.B)<<16 | uint32(c.A)<<24
}

func unpack(c uint32) color.RGBA {
	return color.RGBA{uint8(c), uint8(c >> 8), uint8(c >> 16), uint8(c >> 24)}
}

// blend lays a share, of 256, of an opaque colour over a pixel, two channels at
// a time.
func blend(px []uint8, c, share uint32) {
	const mask = 0x00ff00ff
	was, keep := binary.LittleEndian.Uint32(px), 256-share
	low := (was&mask*keep + c&mask*share) >> 8 & mask
	high := (was>>8&mask*keep + c>>8&mask*share) &^ mask
	binary.LittleEndian.PutUint32(px, low|high)
}
