package render

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/color"
	"image/png"
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// layerSide is the longer side of a page's pictures in pixels: enough that a
// thread of a 200 mm block is two pixels wide, and few enough for a phone.
const layerSide = 1500

// layout places a design on a picture of the given size in pixels, with a margin
// of 3 % of its larger side.
type layout struct {
	place plane
	w, h  int
}

// layOut gives the picture of a design whose larger side has perMM pixels a
// millimetre.
func layOut(r *report.Report, perMM float64) layout {
	margin := 0.06 * max(r.WidthMM, r.HeightMM, 1)
	side := func(mm float64) int { return max(1, min(maxPicture, int(math.Ceil(perMM*(mm+margin))))) }
	w, h := side(r.WidthMM), side(r.HeightMM)
	return layout{planeIn(image.Rect(0, 0, w, h), perMM), w, h}
}

// layer draws stops on a transparent ground, no larger than they are.
func (l layout) layer(d *stitchfile.Design, r *report.Report, stops []report.Stop) *image.RGBA {
	only := *r
	only.Stops = stops
	var b image.Rectangle
	for i := range stops {
		box := stops[i].BoundsMM
		x0, y1 := l.place.at(geom.Point{X: box[0], Y: box[1]})
		x1, y0 := l.place.at(geom.Point{X: box[2], Y: box[3]})
		// Threads reach past their needle holes.
		reach := int(settingsOf(r).LaidWidth()*l.place.perMM) + 2
		b = b.Union(image.Rect(int(x0), int(y0), int(x1)+1, int(y1)+1).Inset(-reach))
	}
	img := image.NewRGBA(b.Intersect(image.Rect(0, 0, l.w, l.h)))
	if !img.Rect.Empty() {
		sew(img, l.place, d, &only, ThreadOptions{})
	}
	return img
}

// The palette of a layer: one thread has one hue, so light and cover tell its
// pixels apart. One entry is left for nothing at all. Of steps twice as fine no difference is
// seen at four times the size, and the files are a fifth larger.
const (
	lightSteps = 15
	coverSteps = 5
)

// fewerColours brings a layer of one thread down to a palette, for a file a quarter as
// large. Each entry is the mean of the pixels that it stands for.
func fewerColours(img *image.RGBA) *image.Paletted {
	lo, hi := 255, 0
	eachPixel(img, func(_ int, c color.NRGBA) {
		lo, hi = min(lo, lightness(c)), max(hi, lightness(c))
	})
	out := image.NewPaletted(img.Rect, nil)
	var sums [1 + lightSteps*coverSteps][5]int
	eachPixel(img, func(at int, c color.NRGBA) {
		l := (lightness(c) - lo) * (lightSteps - 1) / max(1, hi-lo)
		a := (int(c.A) - 1) * coverSteps / 255
		i := 1 + l*coverSteps + a
		out.Pix[at] = uint8(i)
		for k, v := range [5]int{int(c.R), int(c.G), int(c.B), int(c.A), 1} {
			sums[i][k] += v
		}
	})
	// Unused entries are left out, so that indices are small and few.
	var index [len(sums)]uint8
	out.Palette = color.Palette{color.NRGBA{}}
	for i, s := range sums {
		if n := s[4]; n > 0 {
			index[i] = uint8(len(out.Palette))
			out.Palette = append(out.Palette, color.NRGBA{uint8(s[0] / n), uint8(s[1] / n), uint8(s[2] / n), uint8(s[3] / n)})
		}
	}
	for i, v := range out.Pix {
		out.Pix[i] = index[v]
	}
	return out
}

func lightness(c color.NRGBA) int { return (299*int(c.R) + 587*int(c.G) + 114*int(c.B)) / 1000 }

// eachPixel calls f for each pixel that is not wholly transparent, with its place
// in a Paletted of the same size.
func eachPixel(img *image.RGBA, f func(at int, c color.NRGBA)) {
	w := img.Rect.Dx()
	for y := range img.Rect.Dy() {
		row := img.Pix[y*img.Stride:]
		for x := range w {
			px := row[4*x : 4*x+4 : 4*x+4]
			a := int(px[3])
			if a == 0 {
				continue
			}
			if a == 255 {
				f(y*w+x, color.NRGBA{px[0], px[1], px[2], 255})
				continue
			}
			full := func(v uint8) uint8 { return uint8(min(255, int(v)*255/a)) }
			f(y*w+x, color.NRGBA{full(px[0]), full(px[1]), full(px[2]), px[3]})
		}
	}
}

// dataURL is img as PNG in a data: URL. Its letters are those of base64 and of
// the fixed head, so it holds nothing that a page could take for markup.
func dataURL(img image.Image) (string, error) {
	var b bytes.Buffer
	e := png.Encoder{CompressionLevel: png.DefaultCompression}
	if err := e.Encode(&b, img); err != nil {
		return "", err
	}
	return "data:image/png;base64," + base64.StdEncoding.EncodeToString(b.Bytes()), nil
}
