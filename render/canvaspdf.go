package render

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"reflect"
	"unsafe"

	"codeberg.org/go-pdf/fpdf"
	"github.com/stopcard/stopcard/analyse/geom"
)

// pdfFile is a PDF under way (ISO 32000): text stays text, lines stay lines, and
// every length is true. The same pages give the same bytes.
type pdfFile struct {
	f        *fpdf.Fpdf
	pictures map[[32]byte]string // the name of each, by a hash of it
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
	return &pdfFile{f: f, pictures: map[[32]byte]string{}}
}

// page begins a sheet.
func (p *pdfFile) page(paper Paper) canvas {
	p.f.AddPageFormat("P", fpdf.SizeType{Wd: paper.WidthMM, Ht: paper.HeightMM})
	return p
}

// end writes the file. Errors are those of w, or of the library.
func (p *pdfFile) end(w io.Writer) error {
	if err := p.f.Output(undated{w}); err != nil {
		return fmt.Errorf("render: PDF: %w", err)
	}
	return nil
}

// undated leaves out when a PDF was written, which the library never does: the lines are
// blank, so that the places of all objects stay true.
type undated struct{ w io.Writer }

func (u undated) Write(data []byte) (int, error) {
	from := bytes.LastIndex(data, []byte("/CreationDate ("))
	if from < 0 {
		return u.w.Write(data)
	}
	to := from + bytes.Index(data[from:], []byte("/ModDate ("))
	to += bytes.IndexByte(data[to:], ')') + 1
	n := 0
	for _, part := range [][]byte{data[:from], bytes.Repeat([]byte(" "), to-from), data[to:]} {
		k, err := u.w.Write(part)
		if n += k; err != nil {
			return n, err
		}
	}
	return n, nil
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
	o := fpdf.ImageOptions{ImageType: "PNG"}
	key := sha256.Sum256(b.Bytes())
	name, drawn := p.pictures[key]
	if !drawn {
		name = fmt.Sprint("picture", len(p.pictures)+1)
		p.pictures[key] = name
		if info := p.f.RegisterImageOptionsReader(name, o, &b); info != nil {
			inOrder(info, len(p.pictures))
		}
	}
	p.f.ImageOptions(name, at.x, at.y, at.w, at.h, false, o, 0, "")
}

// inOrder gives the nth picture its place among those of its width. The library writes
// pictures by their widths, those of one width in no order, and writes whole widths: a
// fraction of a pixel orders them. It keeps the width to itself; the one way to it besides,
// its form for encoding/gob, would bring a fiftieth more program. A library whose pictures
// look otherwise is left alone: only the order would not repeat, which a test would tell.
func inOrder(info *fpdf.ImageInfoType, n int) {
	if width := reflect.ValueOf(info).Elem().FieldByName("w"); width.IsValid() && width.Kind() == reflect.Float64 {
		*(*float64)(unsafe.Pointer(width.UnsafeAddr())) += float64(n) / (1 << 20)
	}
}

func (p *pdfFile) clip(at rect, draw func()) {
	p.f.ClipRect(at.x, at.y, at.w, at.h, false)
	draw()
	p.f.ClipEnd()
}
