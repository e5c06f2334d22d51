package render

import (
	"cmp"
	"fmt"
	"image"
	"image/color"
	"math"
	"runtime"
	"sort"
	"strconv"
	"sync"
	"sync/atomic"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// pictures draws each stop once, the whole design faintly to lie under it, and the
// views that show more than thread.
func (p *pageDesign) pictures(d *stitchfile.Design, r *report.Report, side int) error {
	// Ten pixels a millimetre show every thread; more would only be larger,
	// but for the smallest designs.
	const perMM, least = 10, 500
	long := max(r.WidthMM, r.HeightMM, 1)
	l := layOut(r, max(min(float64(side)/long, perMM), least/long))
	unit := 10 / l.place.perMM // of the page's drawings in a pixel
	p.View = pageBox{
		int(math.Round(-l.place.x * unit)), int(math.Round(-l.place.y * unit)),
		int(math.Round(float64(l.w) * unit)), int(math.Round(float64(l.h) * unit)),
	}
	p.Store = make([]pagePicture, min(len(r.Stops), mostPictures))
	err := eachAtOnce(len(p.Store), func(i int) error {
		if err := ended(p.ctx); err != nil {
			return err
		}
		s := &r.Stops[i]
		img := l.layer(d, r, r.Stops[i:i+1])
		url, err := dataURL(fewerColours(img))
		x, y := float64(img.Rect.Min.X)-l.place.x, float64(img.Rect.Min.Y)-l.place.y
		p.Store[i] = pagePicture{
			Stop: s.Number,
			X:    oneDecimal(x * unit), Y: oneDecimal(y * unit),
			W: oneDecimal(float64(img.Rect.Dx()) * unit), H: oneDecimal(float64(img.Rect.Dy()) * unit),
			Href: hrefAttr(url), Path: stopPath(d, r, s),
		}
		return err
	})
	if err != nil {
		return err
	}
	if err := p.bases(d, r); err != nil {
		return err
	}
	return p.views(d, r, max(viewWidth/2, viewWidth*side/layerSide))
}

// A row's picture is so many pixels wide; fewer where there are many rows.
const (
	baseSide  = 420
	baseSmall = 260
	manyRows  = 40
)

// bases draws what lies in the hoop at each stop, under the stop's own line: cloth
// and what is sewn already, as on the card.
func (p *pageDesign) bases(d *stitchfile.Design, r *report.Report) error {
	side := baseSide
	if len(p.Store) > manyRows {
		side = baseSmall
	}
	pics := stopPictures{ctx: p.ctx, d: d, r: r, side: side}
	for i := range p.Store {
		if err := ended(p.ctx); err != nil {
			return err
		}
		s := &r.Stops[i]
		img := pics.base(s)
		pics.finish(img, s)
		url, err := dataURL(indexed(img, mostColours))
		if err != nil {
			return err
		}
		half := float64(side) / 2 / pics.place.perMM * 10
		q := &p.Stops[i]
		q.Base, q.Under = hrefAttr(url), pics.under(s) != nil
		q.BaseX, q.BaseW = oneDecimal(-half), oneDecimal(2*half)
	}
	return nil
}

// pageViews are the views that a page shows beside the stops.
var pageViews = []struct{ view, title string }{
	{"cover", "Cover of the cut edges"},
	{"density", "Layers of thread"},
	{"penetrations", "Needle holes"},
	{"kinds", "Kinds of stitches"},
}

func (p *pageDesign) views(d *stitchfile.Design, r *report.Report, width int) error {
	show := pageViews
	if len(r.Pieces) == 0 {
		show = show[1:]
	}
	p.Views = make([]pageView, len(show))
	return eachAtOnce(len(show), func(i int) error {
		v, ok := ViewNamed(show[i].view)
		if !ok {
			return fmt.Errorf("render: no view named %s", show[i].view)
		}
		for pic := range v.Draw(d, r, Options{Width: width, Context: p.ctx}) {
			url, err := dataURL(indexed(pic.Image, viewColours))
			if err != nil {
				return err
			}
			b := pic.Image.Rect
			p.Views[i] = pageView{Kind: v.Name, Name: show[i].title, Text: v.Doc, Href: hrefAttr(url), W: b.Dx(), H: b.Dy()}
			break
		}
		return ended(p.ctx)
	})
}

// viewWidth is the width of further views in pixels; their words can be read
// when they are enlarged.
const viewWidth = 900

// eachAtOnce calls f for 0 to n-1 on all processors, and gives the first error.
func eachAtOnce(n int, f func(int) error) error {
	errs := make([]error, n)
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		wg.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				errs[i] = f(i)
			}
		})
	}
	wg.Wait()
	return cmp.Or(errs...)
}

func oneDecimal(v float64) string { return strconv.FormatFloat(v, 'f', 1, 64) }

// hrefAttr is a picture's attribute. The template would escape every plus sign of
// base64, which makes the page larger; dataURL gives nothing that needs it.
func hrefAttr(url string) rawAttr { return rawAttr(`href="` + url + `"`) }

// faintPicture draws the whole design in a few pale greys on a transparent ground.
func faintPicture(l layout, d *stitchfile.Design, r *report.Report) *image.Paletted {
	const tones = 12
	img := image.NewRGBA(image.Rect(0, 0, l.w, l.h))
	sew(img, l.place, d, r, ThreadOptions{})
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

// How many colours a palette has. Views have few and their mixtures at edges, so that a
// quarter of the palette looks the same and makes smaller files.
const (
	mostColours = 256
	viewColours = 64
)

// indexed is an opaque picture in a palette of its commonest colours, for a file a
// third as large. Colours are told apart to a sixteenth of each channel; those
// left out become the nearest that is in.
func indexed(img *image.RGBA, most int) *image.Paletted {
	type bin struct{ n, r, g, b int }
	var bins [1 << 12]bin
	at := func(c color.NRGBA) int { return int(c.R>>4)<<8 | int(c.G>>4)<<4 | int(c.B>>4) }
	eachPixel(img, func(_ int, c color.NRGBA) {
		b := &bins[at(c)]
		b.n, b.r, b.g, b.b = b.n+1, b.r+int(c.R), b.g+int(c.G), b.b+int(c.B)
	})
	var order []int
	for i := range bins {
		if bins[i].n > 0 {
			order = append(order, i)
		}
	}
	sort.SliceStable(order, func(i, j int) bool { return bins[order[j]].n < bins[order[i]].n })
	out := image.NewPaletted(image.Rect(0, 0, img.Rect.Dx(), img.Rect.Dy()), nil)
	var index [len(bins)]uint8
	for k, i := range order {
		b := bins[i]
		c := color.NRGBA{uint8(b.r / b.n), uint8(b.g / b.n), uint8(b.b / b.n), 255}
		if k < most {
			index[i] = uint8(k)
			out.Palette = append(out.Palette, c)
		} else {
			index[i] = uint8(out.Palette.Index(c))
		}
	}
	eachPixel(img, func(i int, c color.NRGBA) { out.Pix[i] = index[at(c)] })
	return out
}

// casingOf is the colour that borders a thread's line: dark round pale threads, which
// would be lost on cloth, and white round the others.
func casingOf(c color.RGBA) color.RGBA {
	if contrast(c, Cloth) < 2.5 {
		return color.RGBA{70, 66, 60, 255}
	}
	return white
}
