package words

import (
	"fmt"
	"image/color"
	"math"
	"strconv"
)

// Lab is a colour in CIE L*a*b* under the D65 white.
type Lab struct{ L, A, B float64 }

// LabOf converts an opaque sRGB colour (IEC 61966-2-1, D65) to CIE L*a*b*.
func LabOf(c color.RGBA) Lab {
	linear := func(v uint8) float64 {
		f := float64(v) / 255
		if f <= 0.04045 {
			return f / 12.92
		}
		return math.Pow((f+0.055)/1.055, 2.4)
	}
	r, g, b := linear(c.R), linear(c.G), linear(c.B)
	f := func(t float64) float64 {
		if t > 216.0/24389 {
			return math.Cbrt(t)
		}
		return (24389.0/27*t + 16) / 116
	}
	x := f((0.41239*r + 0.35758*g + 0.18048*b) / 0.95046)
	y := f(0.21264*r + 0.71517*g + 0.07219*b)
	z := f((0.01933*r + 0.11919*g + 0.95053*b) / 1.08906)
	return Lab{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

// CIEDE2000 is the colour difference dE00 between two colours, with unit weights:
// 1 is about the least that is seen. The formula is that of CIE 142-2001 as
// worked out by Sharma, Wu and Dalal, Color Research and Application 30 (2005).
func CIEDE2000(p, q Lab) float64 {
	const k = 6103515625 // 25^7
	pow7 := func(x float64) float64 { x2 := x * x; return x2 * x2 * x2 * x }
	rad := math.Pi / 180

	chroma := func(a, b float64) float64 { return math.Sqrt(a*a + b*b) }
	c := (chroma(p.A, p.B) + chroma(q.A, q.B)) / 2
	g := 0.5 * (1 - math.Sqrt(pow7(c)/(pow7(c)+k)))
	a1, a2 := (1+g)*p.A, (1+g)*q.A
	c1, c2 := chroma(a1, p.B), chroma(a2, q.B)
	hue := func(a, b float64) float64 {
		if a == 0 && b == 0 {
			return 0
		}
		h := math.Atan2(b, a)
		if h < 0 {
			h += 2 * math.Pi
		}
		return h
	}
	h1, h2 := hue(a1, p.B), hue(a2, q.B)

	dh, h := h2-h1, (h1+h2)/2
	switch {
	case c1*c2 == 0:
		dh, h = 0, h1+h2
	case math.Abs(h1-h2) > math.Pi+1e-9: // opposite hues stay opposite, however they round
		if dh > 0 {
			dh -= 2 * math.Pi
		} else {
			dh += 2 * math.Pi
		}
		if h1+h2 < 2*math.Pi {
			h += math.Pi
		} else {
			h -= math.Pi
		}
	}
	dL, dC := q.L-p.L, c2-c1
	dH := 2 * math.Sqrt(c1*c2) * math.Sin(dh/2)
	l, cm := (p.L+q.L)/2, (c1+c2)/2

	t := 1 - 0.17*math.Cos(h-30*rad) + 0.24*math.Cos(2*h) + 0.32*math.Cos(3*h+6*rad) - 0.20*math.Cos(4*h-63*rad)
	bend := (h/rad - 275) / 25
	theta := 30 * rad * math.Exp(-bend*bend)
	rc := 2 * math.Sqrt(pow7(cm)/(pow7(cm)+k))
	sl := lightnessWeight(l)
	sc, sh := 1+0.045*cm, 1+0.015*cm*t
	u, v, w := dL/sl, dC/sc, dH/sh
	return math.Sqrt(u*u + v*v + w*w - math.Sin(2*theta)*rc*v*w)
}

// lightnessWeight is what differences of lightness are divided by about a lightness.
func lightnessWeight(l float64) float64 {
	l50 := (l - 50) * (l - 50)
	return 1 + 0.015*l50/math.Sqrt(20+l50)
}

// beyond reports whether two colours lie further apart than a distance for their lightness
// alone: what CIEDE2000 adds to it is never negative.
func beyond(p, q Lab, distance float64) bool {
	return math.Abs(q.L-p.L) > distance*lightnessWeight((p.L+q.L)/2)
}

// Hex writes an opaque colour as "#rrggbb".
func Hex(c color.RGBA) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// ParseHex reads an opaque colour written as "#rrggbb", as Hex does.
func ParseHex(text string) (color.RGBA, bool) {
	if len(text) != 7 || text[0] != '#' {
		return color.RGBA{}, false
	}
	v, err := strconv.ParseUint(text[1:], 16, 32)
	if err != nil {
		return color.RGBA{}, false
	}
	return color.RGBA{uint8(v >> 16), uint8(v >> 8), uint8(v), 255}, true
}
