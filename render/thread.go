package render

import (
	"context"
	"image"
	"image/color"
	"image/draw"
	"math"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// ThreadOptions say how Thread draws. The zero value draws 1000 pixels wide, with a margin of 3 % of the larger side.
type ThreadOptions struct {
	Width  int        // pixels
	Height int        // pixels; 0: as the design's shape asks
	Ground color.RGBA // zero: Cloth, or a darker one where the threads are too pale for it
	Laid   float64    // laid width of the thread in mm; 0: 40 wt at the default flattening
	// Strong is the number of the one stop drawn in full; earlier stops are
	// faint and later ones left out. 0 draws all.
	Strong int
	// Context ends the drawing soon after it ends itself, without a picture; nil never does.
	Context context.Context
}

// maxPicture bounds a picture's sides in pixels.
const maxPicture = 16000

// Thread draws the design as it will look sewn: each stitch at its laid width,
// lit from the upper left so that satin shines and its direction shows. Threads
// that the machine leaves loose between two sewn parts are drawn too; where it
// cuts them there is nothing. It is nil where the context of o ended.
func Thread(d *stitchfile.Design, r *report.Report, o ThreadOptions) *image.RGBA {
	r = worn(r)
	if o.Width <= 0 {
		o.Width = 1000
	}
	if o.Ground.A == 0 {
		_, o.Ground = groundFor(r)
	}
	margin := 0.03 * max(r.WidthMM, r.HeightMM, 1)
	w, h := r.WidthMM+2*margin, r.HeightMM+2*margin
	scale := float64(o.Width) / w
	if o.Height <= 0 {
		o.Height = max(1, int(math.Round(scale*h)))
	}
	o.Width, o.Height = min(o.Width, maxPicture), min(o.Height, maxPicture)
	scale = min(float64(o.Width)/w, float64(o.Height)/h)

	img := image.NewRGBA(image.Rect(0, 0, o.Width, o.Height))
	draw.Draw(img, img.Bounds(), image.NewUniform(o.Ground), image.Point{}, draw.Src)
	place := planeIn(img.Rect, scale)
	place.ctx = o.Context
	sew(img, place, d, r, o)
	if ended(o.Context) != nil {
		return nil
	}
	return img
}

// sew draws the threads of Thread on a picture.
func sew(img *image.RGBA, place plane, d *stitchfile.Design, r *report.Report, o ThreadOptions) {
	if o.Laid <= 0 {
		o.Laid = settingsOf(r).LaidWidth()
	}
	p := threadPainter{img: img, half: max(o.Laid*place.perMM/2, 0.45)}
	for i := range r.Stops {
		s := &r.Stops[i]
		if o.Strong > 0 && s.Number > o.Strong {
			break
		}
		p.dress(threadColour(s))
		if o.Strong > 0 && s.Number < o.Strong {
			p.fade(o.Ground, 0.78)
		}
		place.threads(d, r, s, p.stitch)
	}
}
