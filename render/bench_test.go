package render_test

import (
	"image"
	"testing"

	"github.com/fogleman/gg"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/render"
	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// bulk has about 30,000 stitches over 150 mm, in nine stops.
func bulk() (*stitchfile.Design, *report.Report) {
	var b stitchtest.Builder
	for i := range 9 {
		b.Satin(stitchtest.Circle(stitchtest.Point{}, 70-float64(i)), stitchtest.SatinAlong{Width: 4, Pitch: 0.25}).Stop()
	}
	d := b.Design()
	return d, mustRun(d, report.DefaultSettings())
}

func BenchmarkThread2000(b *testing.B) {
	d, r := bulk()
	for b.Loop() {
		render.Thread(d, r, render.ThreadOptions{Width: 2000})
	}
}

// The same strokes in a general drawing library, each as one plain line of the
// laid width: a third of what Thread draws, which has edge, body and gleam.
func BenchmarkThread2000PlainLibrary(b *testing.B) {
	d, r := bulk()
	for b.Loop() {
		plain(d, r, 2000)
	}
}

func plain(d *stitchfile.Design, r *report.Report, width int) image.Image {
	c := gg.NewContext(width, width)
	c.SetColor(render.Cloth)
	c.Clear()
	k := float64(width) / (1.06 * r.WidthMM) / 10
	c.SetLineWidth(3 * k)
	for i := range r.Stops {
		s := &r.Stops[i]
		c.SetRGB(0, 0.4, 0.7)
		down := false
		var x0, y0 float64
		for _, m := range d.Moves[s.First:s.Last] {
			if m.Kind != stitchfile.Stitch {
				down = false
				continue
			}
			x, y := float64(width)/2+(float64(m.X)-r.CentreX)*k, float64(width)/2-(float64(m.Y)-r.CentreY)*k
			if down {
				c.DrawLine(x0, y0, x, y)
				c.Stroke()
			}
			x0, y0, down = x, y, true
		}
	}
	return c.Image()
}

func BenchmarkCardPage(b *testing.B) {
	d, r := bulk()
	for b.Loop() {
		for range render.Card(d, r, render.CardOptions{}) {
			break // the first page
		}
	}
}

func BenchmarkViews(b *testing.B) {
	d, r := bulk()
	for _, v := range render.Views() {
		b.Run(v.Name, func(b *testing.B) {
			for b.Loop() {
				for range v.Draw(d, r, render.Options{}) {
				}
			}
		})
	}
}
