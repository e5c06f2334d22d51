package render

import (
	"context"
	"image"
	"image/color"
	"math"
	"strings"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/stitchfile"
)

// StripPanel is one picture of a Strip.
type StripPanel struct {
	Scale float64 // of the design; the thread keeps its width
	Label string  // may have several lines
}

// StripOptions say what Strip draws. The zero value of each measure takes its
// default.
type StripOptions struct {
	Stop       int        // the stop to look at
	At         geom.Place // the place on the design as it is, mm
	Panels     []StripPanel
	WindowMM   float64     // side of the cloth shown in each panel; 0: 14 mm
	PanelWidth int         // pixels; 0: 560
	Laid       float64     // laid width of the thread in mm; 0: 40 wt at the default flattening
	Units      words.Units // in which lengths are told
	TrimMM     float64     // how far outside the tack-down scissors leave the cloth; 0: no cut edge is drawn
	// Context ends the drawing soon after it ends itself, without a picture; nil never does.
	Context context.Context
}

// Strip draws one place of a design at several scales side by side, all with the
// same thread at its true laid width and the same window of cloth, so that satin
// which opens or crowds is seen. The stop asked for stands out from what lies
// under it. Where the place lies on an applique piece, its cut edge is drawn as
// a dashed line: scissors do not scale either. It is nil where the context of o ended.
func Strip(d *stitchfile.Design, r *report.Report, o StripOptions) *image.RGBA {
	r = worn(r)
	if o.WindowMM <= 0 {
		o.WindowMM = 14
	}
	if o.PanelWidth <= 0 {
		o.PanelWidth = 560
	}
	o.PanelWidth = min(o.PanelWidth, 2000)
	if o.Laid <= 0 {
		o.Laid = report.DefaultSettings().LaidWidth()
	}
	const gap = 24
	n := max(1, len(o.Panels))
	lines := 1
	for _, p := range o.Panels {
		lines = max(lines, strings.Count(p.Label, "\n")+1)
	}
	size := float64(o.PanelWidth) / 560 * 14 // readable two steps away
	page := image.NewRGBA(image.Rect(0, 0, n*o.PanelWidth+(n+1)*gap, 0))
	bold, plain := newPen(page, size, true, color.RGBA{20, 20, 20, 255}), newPen(page, size, false, color.RGBA{20, 20, 20, 255})
	// Lines more for the bar and for the note.
	page = image.NewRGBA(image.Rect(0, 0, n*o.PanelWidth+(n+1)*gap, o.PanelWidth+(lines+4)*bold.line+2*gap))
	bold.page, plain.page = page, page
	box(page, page.Bounds(), color.RGBA{255, 255, 255, 255})

	edge := false
	for i, p := range o.Panels {
		x := gap + i*(o.PanelWidth+gap)
		y := gap + lines*bold.line
		for k, line := range strings.Split(p.Label, "\n") {
			pen := plain
			if k == 0 {
				pen = bold
			}
			pen.write(x, gap+(k+1)*bold.line-bold.line/3, pen.fit(line, o.PanelWidth))
		}
		panel := page.SubImage(image.Rect(x, y, x+o.PanelWidth, y+o.PanelWidth)).(*image.RGBA)
		edge = stripPanel(panel, d, r, o, p.Scale) || edge
		if ended(o.Context) != nil {
			return nil
		}
		frame(page, panel.Rect, 2, color.RGBA{90, 90, 90, 255})
	}
	note := "Each panel shows the same stretch of cloth with the same thread at its true width, four times as large as sewn when it is printed at its own size. Ground between the stitches is cloth that shows."
	if edge {
		note += " Dashed: where scissors leave the edge of the cloth."
	}
	y := gap + lines*bold.line + o.PanelWidth
	y = stripBar(page, plain, o, gap, y)
	for k, line := range plain.wrap(note, page.Rect.Dx()-2*gap) {
		if k < 2 {
			plain.write(gap, y+(k+1)*bold.line, line)
		}
	}
	return page
}

// stripBarMM is the length of the bar under a strip.
const stripBarMM = 5.0

// stripBar draws a bar of true length and a thread of true width in the scale of the
// panels, and gives where the next line may begin.
func stripBar(page *image.RGBA, pen pen, o StripOptions, x, y int) int {
	px := float64(o.PanelWidth) / o.WindowMM
	ink := color.RGBA{20, 20, 20, 255}
	mid := y + pen.line
	end := x + int(math.Round(stripBarMM*px))
	box(page, image.Rect(x, mid-2, end, mid+2), ink)
	box(page, image.Rect(x, mid-pen.line/3, x+3, mid+pen.line/3), ink)
	box(page, image.Rect(end-3, mid-pen.line/3, end, mid+pen.line/3), ink)
	text := o.Units.Length(stripBarMM)
	pen.write(end+pen.line/2, mid+pen.line/3, text)
	from := end + pen.line/2 + pen.width(text) + 2*pen.line
	p := threadPainter{img: page, half: o.Laid * px / 2}
	p.dress(color.RGBA{0, 90, 160, 255})
	p.stitch(float64(from), float64(mid), float64(from)+3*px, float64(mid))
	pen.write(from+int(3*px)+pen.line/2, mid+pen.line/3, "one thread, laid "+o.Units.StitchTo(o.Laid, 2)+" wide")
	return y + 2*pen.line
}

// StripDPI is the resolution in pixels per inch at which a strip is printed four times as
// large as it is sewn.
func StripDPI(o StripOptions) float64 {
	const larger = 4
	width, window := float64(o.PanelWidth), o.WindowMM
	if width <= 0 {
		width = 560
	}
	if window <= 0 {
		window = 14
	}
	return width / window * 25.4 / larger
}

// stripPanel draws one panel and reports whether a cut edge runs through it.
func stripPanel(img *image.RGBA, d *stitchfile.Design, r *report.Report, o StripOptions, scale float64) bool {
	ink := okabeIto[0]
	if o.Stop >= 1 && o.Stop <= len(r.Stops) {
		ink = threadColour(&r.Stops[o.Stop-1])
	}
	ground := contrastGround(ink)
	box(img, img.Rect, ground)
	px := float64(img.Rect.Dx()) / o.WindowMM
	cx, cy := float64(img.Rect.Min.X)+float64(img.Rect.Dx())/2, float64(img.Rect.Min.Y)+float64(img.Rect.Dy())/2
	at := func(q geom.Point) (x, y float64) {
		return cx + (q.X-o.At[0]*scale)*px, cy - (q.Y-o.At[1]*scale)*px
	}
	point := func(m stitchfile.Move) geom.Point {
		return geom.Point{X: (float64(m.X) - r.CentreX) / 10 * scale, Y: (float64(m.Y) - r.CentreY) / 10 * scale}
	}
	reach := o.WindowMM/2 + o.Laid
	near := func(q geom.Point) bool {
		return math.Abs(q.X-o.At[0]*scale) < reach+15 && math.Abs(q.Y-o.At[1]*scale) < reach+15
	}
	p := threadPainter{img: img, half: o.Laid * px / 2}
	for i := range r.Stops {
		s := &r.Stops[i]
		if o.Stop > 0 && s.Number > o.Stop {
			break
		}
		dressed := -1
		down := false
		var last geom.Point
		for k := s.First; k < s.Last; k++ {
			if (k-s.First)%movesBetweenLooks == 0 && ended(o.Context) != nil {
				return false
			}
			m := d.Moves[k]
			if m.Kind != stitchfile.Stitch {
				down = false
				continue
			}
			q := point(m)
			if down && (near(q) || near(last)) {
				// What lies under the satin is there, but it is not the cover.
				under := 1
				if s.Number == o.Stop && k < len(r.Kinds) && r.Kinds[k] == report.KindSatin {
					under = 0
				}
				if under != dressed {
					p.dress(threadColour(s))
					if under == 1 {
						p.fade(ground, 0.8)
					}
					dressed = under
				}
				x0, y0 := at(last)
				x1, y1 := at(q)
				p.stitch(x0, y0, x1, y1)
			}
			last, down = q, true
		}
	}
	return o.TrimMM > 0 && cutEdge(img, r, o, scale, at)
}

// cutEdge draws where scissors leave the cloth of the pieces that the stop
// covers.
func cutEdge(img *image.RGBA, r *report.Report, o StripOptions, scale float64, at func(geom.Point) (x, y float64)) bool {
	dark, light := threadPainter{img: img}, threadPainter{img: img}
	dark.line(color.RGBA{0, 0, 0, 255}, 6.8)
	light.line(color.RGBA{255, 255, 255, 255}, 3.6)
	seen := false
	for i := range r.Pieces {
		c := &r.Pieces[i]
		if c.CoverStop != o.Stop {
			continue
		}
		for _, pen := range []*threadPainter{&dark, &light} {
			for k := range c.Edge {
				e := &c.Edge[k]
				if k/2%2 == 1 || e.State == report.EdgeHidden {
					continue
				}
				// The design grows and the trim allowance does not.
				cut := func(q geom.Point) (x, y float64) {
					return at(q.Sub(e.Outward.Times(o.TrimMM)).Times(scale).Add(e.Outward.Times(o.TrimMM)))
				}
				x0, y0 := cut(e.From)
				x1, y1 := cut(e.To)
				if image.Pt(int(x0), int(y0)).In(img.Rect) {
					seen = true
				}
				pen.stitch(x0, y0, x1, y1)
			}
		}
	}
	return seen
}

// contrastGround is a cloth that a thread shows on: pale under dark threads, dark
// under pale ones.
func contrastGround(thread color.RGBA) color.RGBA {
	dark := color.RGBA{38, 38, 44, 255}
	if contrast(thread, Cloth) >= contrast(thread, dark) {
		return Cloth
	}
	return dark
}
