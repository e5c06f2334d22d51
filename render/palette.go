package render

import (
	"image/color"
	"math"
	"slices"
	"strings"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// okabeIto is the colour-blind-safe set of Okabe and Ito, "Color Universal
// Design", 2002, for threads that have no colour in the file. Black is left out
// and yellow stands last, since neither shows a thread well.
var okabeIto = []color.RGBA{
	{0, 114, 178, 255}, {213, 94, 0, 255}, {0, 158, 115, 255}, {204, 121, 167, 255},
	{86, 180, 233, 255}, {230, 159, 0, 255}, {240, 228, 66, 255},
}

// Cloth is the default ground of pictures, an unbleached cotton.
var Cloth = color.RGBA{244, 239, 228, 255}

// threadColour is the colour a stop is drawn in.
func threadColour(s *report.Stop) color.RGBA {
	if s.Thread.HasColour() {
		return s.Thread.Colour
	}
	return okabeIto[(s.Number-1)%len(okabeIto)]
}

// worn is a report whose stops have the colours of the threads that the notes choose for
// them, where those are known: of one's own, by the thread box, or said as a colour. The
// others keep the file's. All that is drawn begins with it, so that swatch, cloth and list
// show one thread alike.
func worn(r *report.Report) *report.Report {
	out := r
	for i := range r.Stops {
		c, ok := notedColour(&r.Stops[i])
		if !ok || c == r.Stops[i].Thread.Colour {
			continue
		}
		if out == r {
			copied := *r
			copied.Stops = slices.Clone(r.Stops)
			out = &copied
		}
		out.Stops[i].Thread.Colour = c
	}
	return out
}

// notedColour is the colour of the thread that the notes choose for a stop.
func notedColour(s *report.Stop) (color.RGBA, bool) {
	if !s.ThreadNoted {
		return color.RGBA{}, false
	}
	if s.Spool != nil && s.Spool.Near == report.NearNoted {
		return words.ParseHex(s.Spool.Colour)
	}
	said := strings.ToLower(strings.TrimSpace(s.ThreadName))
	if c, ok := words.ParseHex(said); ok {
		return c, true
	}
	return words.ColourOf(said)
}

// mix is a share t of b in a.
func mix(a, b color.RGBA, t float64) color.RGBA {
	f := func(p, q uint8) uint8 { return uint8(float64(p) + (float64(q)-float64(p))*t + 0.5) }
	return color.RGBA{f(a.R, b.R), f(a.G, b.G), f(a.B, b.B), 255}
}

// contrast is the contrast ratio of two colours, 1 to 21 (WCAG 2.2).
func contrast(a, b color.RGBA) float64 {
	p, q := luminance(a), luminance(b)
	return (max(p, q) + 0.05) / (min(p, q) + 0.05)
}

// luminance is the relative luminance of an sRGB colour, 0 to 1 (WCAG 2.2).
func luminance(c color.RGBA) float64 {
	f := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*f(c.R) + 0.7152*f(c.G) + 0.0722*f(c.B)
}
