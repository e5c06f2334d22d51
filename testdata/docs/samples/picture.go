package samples

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"slices"

	"github.com/fogleman/gg"
	"github.com/stopcard/stopcard/analyse/analysetest"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/render"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
	xdraw "golang.org/x/image/draw"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
)

// The layout of a picture, in pixels.
const (
	panelW, panelH = 236, 177
	headH, footH   = 26, 26
	gapW           = 12
	finer          = 2 // panels are drawn this much larger, then shrunk
)

var (
	paper   = color.RGBA{255, 255, 255, 255}
	letters = color.RGBA{20, 20, 20, 255}
	good    = color.RGBA{0, 90, 60, 255}
	bad     = color.RGBA{178, 0, 32, 255}
)

// colours is how many colours a picture has; more are not seen at its size.
const colours = 96

// Picture draws both halves of a sample.
func (s Sample) Picture() (*image.Paletted, error) {
	c := gg.NewContext(2*panelW+gapW, headH+panelH+footH)
	c.SetColor(paper)
	c.Clear()
	regular, err := face(goregular.TTF, 14)
	if err != nil {
		return nil, err
	}
	bold, err := face(gobold.TTF, 15)
	if err != nil {
		return nil, err
	}
	for i, p := range []Panel{s.Sound, s.Faulty} {
		x := float64(i * (panelW + gapW))
		c.DrawImage(p.picture(i == 1), int(x), headH)
		c.SetColor(color.RGBA{120, 120, 120, 255})
		c.SetLineWidth(1)
		c.DrawRectangle(x+0.5, headH+0.5, panelW-1, panelH-1)
		c.Stroke()
		sign(c, x+10, headH/2, i == 0)
		c.SetColor(letters)
		c.SetFontFace(bold)
		c.DrawString([]string{"sound", s.Rule}[i], x+24, headH-8)
		c.SetFontFace(regular)
		c.DrawString(p.Caption, x+2, headH+panelH+18)
	}
	return Paletted(c.Image().(*image.RGBA), colours), nil
}

func face(ttf []byte, size float64) (font.Face, error) {
	f, err := opentype.Parse(ttf)
	if err != nil {
		return nil, err
	}
	return opentype.NewFace(f, &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingFull})
}

// sign draws a tick or a cross.
func sign(c *gg.Context, x, y float64, sound bool) {
	c.SetLineWidth(3)
	c.SetLineCapRound()
	if sound {
		c.SetColor(good)
		c.MoveTo(x-5, y)
		c.LineTo(x-1.5, y+4.5)
		c.LineTo(x+6, y-5)
	} else {
		c.SetColor(bad)
		c.MoveTo(x-5, y-5)
		c.LineTo(x+5, y+5)
		c.MoveTo(x+5, y-5)
		c.LineTo(x-5, y+5)
	}
	c.Stroke()
}

// picture draws what a panel shows, with a ring about its finding if wanted.
func (p Panel) picture(ring bool) image.Image {
	const w, h = panelW * finer, panelH * finer
	perMM := w / p.WidthMM
	at := func(q st.Point) (x, y float64) { return w/2 + (q.X-p.Middle.X)*perMM, h/2 - (q.Y-p.Middle.Y)*perMM }
	c := gg.NewContext(w, h)
	c.SetColor(render.Cloth)
	c.Clear()
	outline := func(path st.Path) {
		for _, q := range path {
			c.LineTo(at(q))
		}
		c.ClosePath()
	}

	last := p.Stops
	if last == 0 {
		last = p.Design.Counts().ColourStops + 1
	}
	sewn := 0
	sew := func(to int) {
		if to > sewn {
			d := between(p.Design, sewn, to)
			p.threads(c.Image().(draw.Image), d, perMM)
			sewn = to
		}
	}
	for _, patch := range p.Patches {
		sew(min(patch.After, last))
		outline(patch.Shape)
		c.SetColor(patch.Colour)
		c.FillPreserve()
		c.SetColor(color.RGBA{patch.Colour.R / 2, patch.Colour.G / 2, patch.Colour.B / 2, 255})
		c.SetLineWidth(2.5)
		c.Stroke()
	}
	sew(last)

	if p.Holes {
		for _, m := range p.Design.Moves {
			if m.Kind == stitchfile.Stitch {
				x, y := at(pt(float64(m.X)/10, float64(m.Y)/10))
				c.SetColor(paper)
				c.DrawCircle(x, y, max(4.5, 0.13*perMM+1.5))
				c.Fill()
				c.SetColor(letters)
				c.DrawCircle(x, y, max(3, 0.13*perMM))
				c.Fill()
			}
		}
	}
	if p.HoopMM > 0 {
		outline(st.Rect(pt(0, 0), p.HoopMM, p.HoopMM))
		c.SetDash(16, 10)
		c.SetColor(letters)
		c.SetLineWidth(4)
		c.Stroke()
		c.SetDash()
	}
	if q := p.place(); ring && q != nil {
		r := p.RingMM
		if r == 0 {
			r = p.WidthMM / 8
		}
		x, y := at(*q)
		for _, pass := range []struct {
			c color.Color
			w float64
		}{{paper, 11}, {bad, 6}} {
			c.SetColor(pass.c)
			c.SetLineWidth(pass.w)
			c.DrawCircle(x, y, r*perMM)
			c.Stroke()
		}
	}
	out := image.NewRGBA(image.Rect(0, 0, panelW, panelH))
	xdraw.CatmullRom.Scale(out, out.Rect, c.Image(), c.Image().Bounds(), xdraw.Src, nil)
	return out
}

// place is where the ring goes: where the panel says, or else at its finding.
func (p Panel) place() *st.Point {
	if p.Ring != nil {
		return p.Ring
	}
	r := p.Report()
	for _, f := range r.Findings {
		if f.AtMM != nil {
			q := pt(f.AtMM[0]+r.CentreX/10, f.AtMM[1]+r.CentreY/10)
			return &q
		}
	}
	return nil
}

// threads draws a design's threads on a picture, as the thread view does.
func (p Panel) threads(on draw.Image, d *stitchfile.Design, perMM float64) {
	r := analysetest.Run(d, report.DefaultSettings())
	view, _ := render.ViewNamed("thread")
	for pic := range view.Draw(d, r, render.Options{DPI: perMM * 25.4, Bare: true, Transparent: true}) {
		b, size := on.Bounds(), pic.Image.Bounds()
		x := float64(b.Dx()-size.Dx())/2 + (r.CentreX/10-p.Middle.X)*perMM
		y := float64(b.Dy()-size.Dy())/2 - (r.CentreY/10-p.Middle.Y)*perMM
		to := image.Pt(int(math.Round(x)), int(math.Round(y)))
		draw.Draw(on, size.Sub(size.Min).Add(to), pic.Image, size.Min, draw.Over)
	}
}

// between is the part of a design sewn after so many colour stops and before so
// many.
func between(d *stitchfile.Design, from, to int) *stitchfile.Design {
	part := &stitchfile.Design{Claims: stitchfile.NoClaims}
	stop := 0
	for _, m := range d.Moves {
		if stop >= from && stop < to {
			part.Moves = append(part.Moves, m)
		}
		if m.Kind == stitchfile.ColourStop {
			stop++
		}
	}
	part.Threads = slices.Clone(d.Threads[min(from, len(d.Threads)):min(to, len(d.Threads))])
	return part
}
