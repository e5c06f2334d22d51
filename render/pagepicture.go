package render

import (
	"fmt"
	"html/template"
	"image"
	"image/color"
	"math"
	"strconv"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/stitchfile"
)

// pictures draws each stop once, and the whole design faintly, to lie under it.
func (p *pageDesign) pictures(d *stitchfile.Design, r *analyse.Report, side int) error {
	// Ten pixels a millimetre show every thread; more would only be larger,
	// but for the smallest designs.
	const perMM, least = 10, 500
	long := max(r.WidthMM, r.HeightMM, 1)
	width := max(16, int(math.Ceil(max(min(float64(side)/long, perMM), least/long)*1.06*r.WidthMM)))
	for i := range min(len(r.Stops), mostPictures) {
		s := &r.Stops[i]
		img := stopLayer(d, r, i, width)
		perUnit := p.frameOn(r, img.Rect) // pixels to 0.1 mm
		img = cropped(img)
		href, err := dataURL(fewerColours(img))
		if err != nil {
			return err
		}
		p.Store = append(p.Store, pagePicture{
			Stop: s.Number,
			X:    oneDecimal(float64(p.View.X) + float64(img.Rect.Min.X)*perUnit), Y: oneDecimal(float64(p.View.Y) + float64(img.Rect.Min.Y)*perUnit),
			W: oneDecimal(float64(img.Rect.Dx()) * perUnit), H: oneDecimal(float64(img.Rect.Dy()) * perUnit),
			Href: hrefAttr(href), Path: stopPath(d, r, s),
		})
	}
	href, err := dataURL(faintPicture(d, r, min(width, 560)))
	p.Faint = hrefAttr(href)
	return err
}

// frameOn sets the view so that a picture of the whole design fills it, and gives
// the picture's scale.
func (p *pageDesign) frameOn(r *analyse.Report, b image.Rectangle) float64 {
	margin := 0.03 * max(r.WidthMM, r.HeightMM, 1)
	perPixel := 10 * max((r.WidthMM+2*margin)/float64(b.Dx()), (r.HeightMM+2*margin)/float64(b.Dy()))
	w, h := float64(b.Dx())*perPixel, float64(b.Dy())*perPixel
	p.View = pageBox{int(math.Round(-w / 2)), int(math.Round(-h / 2)), int(math.Round(w)), int(math.Round(h))}
	return perPixel
}

func oneDecimal(v float64) string { return strconv.FormatFloat(v, 'f', 1, 64) }

// hrefAttr is a picture's attribute. The template would escape every plus sign of
// base64, which makes the page larger; dataURL gives nothing that needs it.
func hrefAttr(url string) template.HTMLAttr { return template.HTMLAttr(`href="` + url + `"`) }

func hexColour(c color.RGBA) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// casingOf is the colour that borders a thread's line: dark round pale threads,
// which would be lost on cloth, and cloth round the others.
func casingOf(c color.RGBA) color.RGBA {
	if contrast(c, Cloth) < 2.5 {
		return color.RGBA{70, 66, 60, 255}
	}
	return Cloth
}

// faintPicture draws the whole design in a few pale greys on a transparent ground.
func faintPicture(d *stitchfile.Design, r *analyse.Report, width int) *image.Paletted {
	const tones = 12
	img := Thread(d, r, ThreadOptions{Width: width, bare: true})
	out := image.NewPaletted(img.Rect, color.Palette{color.NRGBA{}})
	for i := range tones {
		// The darkest tone still lies well behind any thread.
		out.Palette = append(out.Palette, color.NRGBA{120, 112, 100, uint8(40 + 75*i/(tones-1))})
	}
	eachPixel(img, func(at int, c color.NRGBA) {
		dark := 255 - lightness(c)
		out.Pix[at] = uint8(1 + dark*int(c.A)/255*(tones-1)/255)
	})
	return out
}
