package render

import (
	"image"
	"image/color"
	"math"
	"sync"

	"github.com/stopcard/stopcard/analyse/words"
)

// The ramp of density pictures starts in a pale straw and ends in a dark plum,
// by way of amber, vermilion and wine. CIE L* falls by the same amount at each
// step, so that equal steps look equal and the order shows without colour.
var rampStops = []words.Lab{
	{L: 95, A: -2, B: 14}, {L: 78, A: 12, B: 44}, {L: 61, A: 36, B: 46}, {L: 44, A: 48, B: 22}, {L: 27, A: 36, B: -8}, {L: 10, A: 14, B: -14},
}

// rampSize is the number of colours in the ramp.
const rampSize = 256

var ramp = sync.OnceValue(func() *[rampSize]color.RGBA {
	var out [rampSize]color.RGBA
	for i := range out {
		t := float64(i) / (rampSize - 1) * float64(len(rampStops)-1)
		k := min(int(t), len(rampStops)-2)
		t -= float64(k)
		p, q := rampStops[k], rampStops[k+1]
		out[i] = rgbOf(words.Lab{L: p.L + (q.L-p.L)*t, A: p.A + (q.A-p.A)*t, B: p.B + (q.B-p.B)*t})
	}
	return &out
})

// rampAt is the colour at a share of the ramp, held to 0 and 1.
func rampAt(t float64) color.RGBA {
	if !(t > 0) {
		t = 0
	}
	return ramp()[int(min(t, 1)*(rampSize-1)+0.5)]
}

// rgbOf converts CIE L*a*b* (D65) to the nearest sRGB colour, the reverse of
// analyse.LabOf.
func rgbOf(l words.Lab) color.RGBA {
	g := func(t float64) float64 {
		if t3 := t * t * t; t3 > 216.0/24389 {
			return t3
		}
		return (116*t - 16) * 27 / 24389
	}
	fy := (l.L + 16) / 116
	x, y, z := 0.95046*g(fy+l.A/500), g(fy), 1.08906*g(fy-l.B/200)
	f := func(v float64) uint8 {
		if v <= 0.0031308 {
			v *= 12.92
		} else {
			v = 1.055*math.Pow(v, 1/2.4) - 0.055
		}
		return uint8(max(0, min(1, v))*255 + 0.5)
	}
	return color.RGBA{
		f(3.24097*x - 1.53738*y - 0.49861*z),
		f(-0.96924*x + 1.87597*y + 0.04156*z),
		f(0.05563*x - 0.20398*y + 1.05697*z), 255}
}

// scaleRamp is the ramp as a legend: from 0 to most, in a unit.
type scaleRamp struct {
	most  float64
	unit  string
	limit float64 // marked; 0: none
	name  string  // what the limit is
}

// draw draws the ramp with its figures, and gives where it ends.
func (k *scaleRamp) draw(s *sheet, x, y int, paint bool) int {
	p := s.pen(1, false, ink)
	em := int(s.em)
	w, h := min(s.field.Dx()*6/10, em*30), em*3/2
	if k.limit > 0 {
		y += p.line
	}
	if paint {
		for i := range w {
			box(s.img, image.Rect(x+i, y, x+i+1, y+h), rampAt(float64(i)/float64(w-1)))
		}
		frame(s.img, image.Rect(x, y, x+w, y+h), max(1, em/12), ink)
		step := tickStep(k.most)
		for v := 0.0; v <= k.most*1.0001; v += step {
			at := x + int(v/k.most*float64(w))
			box(s.img, image.Rect(at, y+h, at+max(2, em/12), y+h+em/3), ink)
			text := words.Figure(v, 2)
			p.write(at-p.width(text)/2, y+h+em/3+p.line*9/10, text)
		}
		p.write(x+w+em, y+h-em/3, p.fit(k.unit, s.field.Dx()-2*em-x-w))
		if k.limit > 0 && k.limit <= k.most {
			at := x + int(k.limit/k.most*float64(w))
			c := s.pen(1, true, ink)
			box(s.img, image.Rect(at-em/8, y-em/3, at+em/8+1, y+h+em/3), ink)
			box(s.img, image.Rect(at-em/16, y-em/3, at+em/16+1, y+h+em/3), white)
			text := k.name + " " + words.Figure(k.limit, 2)
			c.write(max(x, min(at-c.width(text)/2, s.field.Max.X-em-c.width(text))), y-em/2, text)
		}
	}
	return y + h + em/3 + p.line*6/5
}

// tickStep is a round step that gives at most nine ticks.
func tickStep(most float64) float64 {
	if !(most > 0) || math.IsInf(most, 0) {
		return 1
	}
	unit := math.Pow(10, math.Floor(math.Log10(most)))
	for _, m := range []float64{0.1, 0.2, 0.25, 0.5, 1} {
		if most/(unit*m) <= 8.0001 {
			return unit * m
		}
	}
	return unit * 2
}
