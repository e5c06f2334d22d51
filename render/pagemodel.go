package render

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"math"
	"path"
	"path/filepath"
	"strings"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/stitchfile"
)

// Bounds on what a page lists, so that a file made to be endless gives a page
// that still opens. Past them the page says what it leaves out.
const (
	mostRows     = 1000 // stops, columns, findings
	mostPictures = 150  // stops with a picture
	mostMarks    = 60   // numbers on one picture
)

// pageModel is what the template shows. Its texts are plain: the template escapes
// them, all but the fixed parts and the pictures, which are made here.
type pageModel struct {
	CSS    rawCSS
	JS     rawJS
	Policy string
	Mark   rawHTML // that it is known again by

	Title   string
	Index   []indexRow // for more than one design
	Designs []*pageDesign
	Left    int // designs without a section

	Unread     []string // files that could not be read, and why
	UnreadLeft int
}

// indexRow is one design of a pack in the index.
type indexRow struct {
	ID, Name, Size, Hoop, Stitches, Time string
	Fits                                 bool
	Files                                []string
	Found, Worst                         string
}

// pageDesign is the section of one design.
type pageDesign struct {
	ctx context.Context

	ID, Key, Name, File, Files string
	Ground, GroundWords        string // what the pictures lie on, and why
	Found                      string // what a person should look at, counted
	Worst                      string // severity of the gravest
	Partly                     string // that it is not all there; empty where it is
	Open                       bool
	Figures                    []pageFigure
	Store                      []pagePicture // pictures and paths that others point to
	View                       pageBox
	Stops                      []pageStop
	StopsLeft, Pictures        int
	Threads                    []pageThread
	AnyThread                  bool // the last of them is any
	NoColours                  bool
	Grave                      []pageFinding // faults and warnings
	Notes                      []pageFinding
	FindingsLeft               int
	Marks                      []pageMark
	Cloths                     []pageCloth
	Pieces                     []pagePiece
	Columns                    []pageColumn
	ColumnsLeft                int
	Resize                     []string
	ResizeLater                bool // a place is kept for it
	Warnings                   []string
	Views                      []pageView
}

// pageFigure is a name and its value in the head.
type pageFigure struct{ Name, Value string }

// pageBox is a box in 0.1 mm.
type pageBox struct{ X, Y, W, H int }

// String gives the box as an SVG viewBox.
func (v pageBox) String() string { return fmt.Sprintf("%d %d %d %d", v.X, v.Y, v.W, v.H) }

// pagePicture is the picture of one stop, kept once and used many times.
type pagePicture struct {
	Stop       int
	X, Y, W, H string // in 0.1 mm
	Href       rawAttr
	Path       string
}

// pageView is a further picture of the whole design.
type pageView struct {
	Kind, Name, Text string
	Href             rawAttr
	W, H             int
}

// newPageModel gathers what the page shows.
func newPageModel(items []PageItem, o PageOptions) (*pageModel, error) {
	m := &pageModel{Title: safeText(o.Title)}
	groups := groupDesigns(items)
	first := mainDesign(groups)
	side := pictureSide(len(groups))
	for i, g := range groups {
		if i >= mostSections {
			m.Left = len(groups) - i
			break
		}
		d, err := newPageDesign(o.Context, g, fmt.Sprintf("d%d", i+1), side)
		if err != nil {
			return nil, err
		}
		d.Open = i == first
		d.ResizeLater = o.ResizeLater && d.Resize == nil
		m.Designs = append(m.Designs, d)
	}
	for i, u := range o.Unreadable {
		if i == mostMarks {
			m.UnreadLeft = len(o.Unreadable) - i
			break
		}
		m.Unread = append(m.Unread, safeLong(u.Path+": "+strings.TrimPrefix(u.Error, u.Path+": ")))
	}
	if len(groups) > 1 {
		for i, g := range groups {
			m.Index = append(m.Index, newIndexRow(g, fmt.Sprintf("d%d", i+1), i < mostSections))
		}
	}
	if m.Title == "" && len(m.Designs) > 0 {
		m.Title = m.Designs[0].Name
	}
	return m, nil
}

// fileOf is the name of a design's file without its folders, empty where it is
// not known.
func fileOf(r *report.Report) string {
	if r.Path == "" || r.Path == "-" {
		return ""
	}
	return safeText(path.Base(filepath.ToSlash(r.Path)))
}

func newPageDesign(ctx context.Context, g []PageItem, id string, side int) (*pageDesign, error) {
	r := worn(g[0].Report)
	d, err := loaded(g[0].Design, g[0].Load)
	if err != nil {
		return nil, err
	}
	p := &pageDesign{ctx: ctx, ID: id, Key: contentKey(d), Name: titleOf(r), File: fileOf(r)}
	var others []string
	for _, other := range g[1:] {
		others = append(others, fmt.Sprintf("%s (%s)", fileOf(other.Report), other.Report.Format))
	}
	p.Files = strings.Join(others, ", ")
	p.Figures = pageFigures(d, r)
	p.Ground, _ = groundFor(r)
	p.GroundWords = groundWords(p.Ground)
	p.Found, p.Worst = foundText(r), worstOf(r)
	p.Partly = safeLong(partly(r))
	p.findings(r)
	for i := range r.Stops {
		if i >= mostRows {
			p.StopsLeft = len(r.Stops) - i
			break
		}
		p.Stops = append(p.Stops, p.stop(r, &r.Stops[i], i < mostPictures))
	}
	p.threads(r)
	for _, c := range r.Cloths {
		kind := safeText(c.Kind)
		if c.Piece > 0 {
			kind += fmt.Sprintf(", piece\u00a0%d", c.Piece)
			if cloth := clothOf(r, []int{c.Piece}); cloth != "" {
				kind += ": " + cloth
			}
		}
		p.Cloths = append(p.Cloths, pageCloth{kind, cutSize(unitsOf(r), c.WidthMM, c.HeightMM), c.Stop})
	}
	p.pieces(r)
	p.columns(r)
	p.Resize = ResizeWords(r)
	warnings := r.Untold()
	for i, w := range warnings {
		if i == mostMarks {
			p.Warnings = append(p.Warnings, fmt.Sprintf("and %d more", len(warnings)-i))
			break
		}
		w.Message = safeLong(w.Message)
		p.Warnings = append(p.Warnings, w.String())
	}
	if len(r.Stops) == 0 {
		return p, nil
	}
	return p, p.pictures(d, r, side)
}

// contentKey names a design by what it sews, so that ticks stay with it when its
// file is renamed or its page is written anew.
func contentKey(d *stitchfile.Design) string {
	h := sha256.New()
	var b []byte
	for _, m := range d.Moves {
		b = binary.LittleEndian.AppendUint32(b[:0], uint32(m.X))
		b = binary.LittleEndian.AppendUint32(b, uint32(m.Y))
		h.Write(append(b, byte(m.Kind)))
	}
	for _, t := range d.Threads {
		h.Write([]byte{t.Colour.R, t.Colour.G, t.Colour.B, t.Colour.A})
	}
	return hex.EncodeToString(h.Sum(nil)[:12])
}

// cutSize tells what to cut in a narrow column: a line breaks before the inches, and nowhere
// else.
func cutSize(u words.Units, w, h float64) string {
	return strings.NewReplacer(" (", " (", " ", "\u00a0").Replace(u.Cut(w, h))
}

func pageFigures(d *stitchfile.Design, r *report.Report) []pageFigure {
	u := unitsOf(r)
	f := []pageFigure{
		{"Size", u.Size(r.WidthMM, r.HeightMM)},
		{"Hoop", hoopText(r)},
		{"Stitches", fmt.Sprintf("%d, in %s, %s", r.Stitches, words.Count(r.ColourStops, "colour stop"), words.Count(r.Trims, "trim"))},
		{"Time", words.TimeOfBoth(r)},
		{"Needle thread", u.Metres(r.NeedleThreadM)},
		{"Bobbin thread", bobbinText(r)},
	}
	if d.Hoop.Width > 0 && d.Hoop.Height > 0 {
		f = append(f, pageFigure{"The file asks for", "a hoop of " + u.Field(d.Hoop.Width, d.Hoop.Height)})
	}
	return f
}

func bobbinText(r *report.Report) string {
	s := unitsOf(r).Metres(r.BobbinThreadM)
	if n := int(math.Ceil(r.Bobbins)); n > 0 {
		s += ", " + words.Count(n, "full bobbin")
	}
	return s
}
