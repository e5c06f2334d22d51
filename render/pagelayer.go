package render

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/color"
	"image/png"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/stitchfile"
)

// layerSide is the longer side of a page's pictures in pixels: enough that a
// thread of a 200 mm block is two pixels wide, and few enough for a phone.
const layerSide = 1500

// stopLayer draws one stop alone on a transparent ground, as large as the whole
// design's picture.
func stopLayer(d *stitchfile.Design, r *analyse.Report, i, width int) *image.RGBA {
	one := *r
	one.Stops = r.Stops[i : i+1]
	return Thread(d, &one, ThreadOptions{Width: width, bare: true})
}

// cropped is the part of img that holds anything at all.
func cropped(img *image.RGBA) *image.RGBA {
	b := img.Rect
	found := image.Rectangle{Min: b.Max, Max: b.Min}
	for y := b.Min.Y; y < b.Max.Y; y++ {
		row := img.Pix[img.PixOffset(b.Min.X, y):img.PixOffset(b.Max.X, y)]
		for x := b.Min.X; x < b.Max.X; x++ {
			if row[4*(x-b.Min.X)+3] == 0 {
				continue
			}
			found.Min.X, found.Max.X = min(found.Min.X, x), max(found.Max.X, x+1)
			found.Min.Y, found.Max.Y = min(found.Min.Y, y), max(found.Max.Y, y+1)
		}
	}
	if found.Empty() {
		return img.SubImage(image.Rect(0, 0, 1, 1)).(*image.RGBA)
	}
	return img.SubImage(found).(*image.RGBA)
}

// The palette of a layer: one thread has one hue, so light and cover tell its
// pixels apart. One entry is left for nothing at all.
const (
	lightSteps = 31
	coverSteps = 8
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
