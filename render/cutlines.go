package render

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strconv"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// ErrNoPlacement is the error of Cutlines for a design in which no placement
// line was found.
var ErrNoPlacement = errors.New("no placement line was found: there is nothing to cut")

// CutlineOptions say how Cutlines writes. The zero value is useful.
type CutlineOptions struct {
	MarginMM float64 // how far the cut shape reaches past the placement line; 0: as the report tells of each piece, negative: none
	Mirror   bool    // left for right, for cloth that lies face down
	CheckBar bool    // add a layer with a line of 50 mm to measure
	CutOnly  bool    // leave the layer with the placement lines out
	InPlace  bool    // each piece where it lies in the design, where pieces may lie on one another
	SheetMM  float64 // width of the sheet that pieces are laid on side by side; 0: CutSheetMM
}

// Cutlines writes the applique pieces of a design as SVG (W3C SVG 1.1) for a
// cutting machine: one layer with the placement lines, one with the cut shapes. The
// pieces are laid side by side, so that no cut runs through another piece; a piece without
// a tack-down is cut to its line.
// One unit of the drawing is one millimetre, and its width and height say so. It
// writes nothing but paths, groups and titles. The error is ErrNoPlacement or
// one of w.
func Cutlines(w io.Writer, d *stitchfile.Design, r *report.Report, o CutlineOptions) error {
	all := shapes(d, r, o.MarginMM)
	if len(all) == 0 {
		return ErrNoPlacement
	}
	if !o.InPlace {
		if o.SheetMM <= 0 {
			o.SheetMM = CutSheetMM
		}
		all = nested(all, o.SheetMM)
	}
	s := newCutSheet(all, o)
	fmt.Fprintf(&s.out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n")
	fmt.Fprintf(&s.out, "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"%smm\" height=\"%smm\" viewBox=\"0 0 %s %s\">\n",
		mm(s.w), mm(s.h), mm(s.w), mm(s.h))
	s.title(" ", r.Name)
	if !o.CutOnly {
		s.layer("placement", "Placement lines", "#000000")
		for _, q := range all {
			s.path(fmt.Sprintf("placement-%d", q.number), fmt.Sprintf("piece %d, placement line of stop %d", q.number, q.stop), q.placement)
		}
		s.end()
	}
	s.layer("cut", "Cut shapes", "#d55e00")
	for _, q := range all {
		s.path(fmt.Sprintf("cut-%d", q.number), fmt.Sprintf("piece %d, cut shape", q.number), q.cut)
	}
	s.end()
	if o.CheckBar {
		s.layer("check", "Line of 50 mm to measure", "#0072b2")
		fmt.Fprintf(&s.out, "  <path id=\"check-50mm\" d=\"M1 %s H51\"/>\n", mm(s.h-1))
		s.end()
	}
	s.out.WriteString("</svg>\n")
	_, err := w.Write(s.out.Bytes())
	return err
}

// cutSheet is an SVG drawing under way.
type cutSheet struct {
	out    bytes.Buffer
	lo, hi geom.Point // of the drawing, report coordinates
	w, h   float64
	mirror bool
}

// cutAir is how much stands free round the shapes, in mm.
const cutAir = 1

func newCutSheet(all []shape, o CutlineOptions) *cutSheet {
	s := &cutSheet{mirror: o.Mirror}
	first := true
	for _, q := range all {
		for _, lines := range [][][]geom.Point{q.placement, q.cut} {
			for _, l := range lines {
				for _, p := range l {
					if first {
						s.lo, s.hi, first = p, p, false
					}
					s.lo.X, s.hi.X = min(s.lo.X, p.X), max(s.hi.X, p.X)
					s.lo.Y, s.hi.Y = min(s.lo.Y, p.Y), max(s.hi.Y, p.Y)
				}
			}
		}
	}
	s.w, s.h = s.hi.X-s.lo.X+2*cutAir, s.hi.Y-s.lo.Y+2*cutAir
	if o.CheckBar {
		s.w, s.h = max(s.w, 52), s.h+3
	}
	return s
}

// mm writes a length to 0.001 mm.
func mm(v float64) string {
	b := strconv.AppendFloat(nil, v, 'f', 3, 64)
	b = bytes.TrimRight(b, "0")
	return string(bytes.TrimSuffix(b, []byte(".")))
}

// title writes a title element. Its text may come from a file.
func (s *cutSheet) title(indent, text string) {
	s.out.WriteString(indent + "<title>")
	xml.EscapeText(&s.out, []byte(safeText(text))) // a Buffer takes everything
	s.out.WriteString("</title>\n")
}

func (s *cutSheet) layer(id, title, colour string) {
	fmt.Fprintf(&s.out, " <g id=\"%s\" fill=\"none\" stroke=\"%s\" stroke-width=\"0.25\">\n", id, colour)
	s.title("  ", title)
}

func (s *cutSheet) end() { s.out.WriteString(" </g>\n") }

// path writes lines as one path; lines that come back to their start are closed.
func (s *cutSheet) path(id, title string, lines [][]geom.Point) {
	if len(lines) == 0 {
		return
	}
	fmt.Fprintf(&s.out, "  <path id=\"%s\" d=\"", id)
	for _, l := range lines {
		closed := len(l) > 2 && l[0] == l[len(l)-1]
		if closed {
			l = l[:len(l)-1]
		}
		for i, p := range l {
			x, y := p.X-s.lo.X+cutAir, s.hi.Y-p.Y+cutAir
			if s.mirror {
				x = s.hi.X - p.X + cutAir
			}
			switch i {
			case 0:
				s.out.WriteByte('M')
			case 1:
				s.out.WriteByte('L')
			default:
				s.out.WriteByte(' ')
			}
			s.out.WriteString(mm(x) + " " + mm(y))
		}
		if closed {
			s.out.WriteByte('Z')
		}
	}
	s.out.WriteString("\">\n")
	s.title("   ", title)
	s.out.WriteString("  </path>\n")
}
