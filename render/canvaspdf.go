package render

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"

	"codeberg.org/go-pdf/fpdf"
	"github.com/stopcard/stopcard/analyse/geom"
)

// pdfFile is a PDF under way (ISO 32000): text stays text, lines stay lines, and
// every length is true.
type pdfFile struct {
	f        *fpdf.Fpdf
	pictures int
}

func newPDF(title string) *pdfFile {
	f := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "mm", Size: fpdf.SizeType{Wd: A4.WidthMM, Ht: A4.HeightMM}})
	f.SetAutoPageBreak(false, 0)
	f.SetMargins(0, 0, 0)
	f.SetTitle(title, true)
	f.SetProducer("Stopcard", true)
	f.SetCatalogSort(true)
	fonts, err := fontFiles()
	if err != nil {
		panic("render: embedded font: " + err.Error())
	}
	f.AddUTF8FontFromBytes("go", "", fonts[0])
	f.AddUTF8FontFromBytes("go", "B", fonts[1])
	f.SetLineCapStyle("round")
	f.SetLineJoinStyle("round")
	return &pdfFile{f: f}
}

// page begins a sheet.
func (p *pdfFile) page(paper Paper) canvas {
	p.f.AddPageFormat("P", fpdf.SizeType{Wd: paper.WidthMM, Ht: paper.HeightMM})
	return p
}

// end writes the file. Errors are those of w, or of the library.
func (p *pdfFile) end(w io.Writer) error {
	if err := p.f.Output(w); err != nil {
		return fmt.Errorf("render: PDF: %w", err)
	}
	return nil
}

func (p *pdfFile) area(c color.RGBA, corners ...geom.Point) {
	if len(corners) < 3 {
		return
	}
	p.f.SetFillColor(int(c.R), int(c.G), int(c.B))
	points := make([]fpdf.PointType, len(corners))
	for i, q := range corners {
		points[i] = fpdf.PointType{X: q.X, Y: q.Y}
	}
	p.f.Polygon(points, "F")
}

func (p *pdfFile) line(c color.RGBA, wide float64, points ...geom.Point) {
	if len(points) < 2 {
		return
	}
	p.f.SetDrawColor(int(c.R), int(c.G), int(c.B))
	p.f.SetLineWidth(wide)
	p.f.MoveTo(points[0].X, points[0].Y)
	for _, q := range points[1:] {
		p.f.LineTo(q.X, q.Y)
	}
	p.f.DrawPath("D")
}

func (p *pdfFile) dashed(c color.RGBA, wide, on, off float64, points ...geom.Point) {
	p.f.SetDashPattern([]float64{on, off}, 0)
	p.line(c, wide, points...)
	p.f.SetDashPattern(nil, 0)
}

// pointsPerMM turns mm into the points that letters are measured in.
const pointsPerMM = 72 / 25.4

func (p *pdfFile) write(l lettering, c color.RGBA, x, y float64, text string) {
	style := ""
	if l.bold {
		style = "B"
	}
	p.f.SetFont("go", style, l.em*pointsPerMM)
	p.f.SetTextColor(int(c.R), int(c.G), int(c.B))
	p.f.Text(x, y, l.legible(text))
}

func (p *pdfFile) picture(at rect, img image.Image) {
	if rgba, ok := img.(*image.RGBA); ok {
		img = indexed(rgba, mostColours)
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		p.f.SetError(err)
		return
	}
	p.pictures++
	name := fmt.Sprint("picture", p.pictures)
	o := fpdf.ImageOptions{ImageType: "PNG"}
	p.f.RegisterImageOptionsReader(name, o, &b)
	p.f.ImageOptions(name, at.x, at.y, at.w, at.h, false, o, 0, "")
}

func (p *pdfFile) clip(at rect, draw func()) {
	p.f.ClipRect(at.x, at.y, at.w, at.h, false)
	draw()
	p.f.ClipEnd()
}
