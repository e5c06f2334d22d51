package render

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	htmltemplate "html/template"
	"math"
	"path"
	"path/filepath"
	"strings"

	"github.com/stopcard/stopcard/analyse"
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
	CSS    htmltemplate.CSS
	JS     htmltemplate.JS
	Policy string

	Title   string
	Index   []indexRow // for more than one design
	Designs []*pageDesign
	Left    int // designs without a section
}

// indexRow is one design of a pack in the index.
type indexRow struct {
	ID, Name, Size, Hoop, Stitches, Time string
	Fits                                 bool
	Files                                []string
	Found                                string
}

// pageDesign is the section of one design.
type pageDesign struct {
	ID, Key, Name, File, Files string
	Open                       bool
	Figures                    []pageFigure
	Store                      []pagePicture // pictures and paths that others point to
	View                       pageBox
	Faint                      htmltemplate.HTMLAttr
	Stops                      []pageStop
	StopsLeft, Pictures        int
	Threads                    []pageThread
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
	Href       htmltemplate.HTMLAttr
	Path       string
}

type pageStop struct {
	Number        int
	Role, Reason  string
	Colour        string // "#rrggbb", as drawn
	Casing        string // a colour that parts the line from the ground
	Thread        string
	Known         bool // the file gave the colour
	Figures       string
	Before, After []pageStep
	Parts         []string
	Picture       bool
	Grave         string // the gravest finding of this stop
	Found         []string
}

type pageStep struct {
	Text string
	Hoop bool // the hoop leaves the machine: scissors or turning
}

type pageThread struct {
	Colour, Name, Stops, Length string
	Known                       bool
}

type pageFinding struct {
	ID, Number, Severity, Rule, Message, Advice string
	Stop                                        int
	Marked                                      bool
}

type pageCloth struct {
	Kind, Size string
	Stop       int
}

type pagePiece struct {
	Number                 int
	Stops, Cut, Cover, Gap string
	Bare                   bool
}

type pageColumn struct {
	Stop                                     int
	Length, Width, Pitch, Coverage, Underlay string
}

// pageView is a further picture of the whole design.
type pageView struct {
	Kind, Name, Text string
	Href             htmltemplate.HTMLAttr
	W, H             int
}

// newPageModel gathers what the page shows.
func newPageModel(items []PageItem, o PageOptions) (*pageModel, error) {
	m := &pageModel{Title: safeText(o.Title)}
	groups := groupDesigns(items)
	first := mainDesign(groups, hoopField{o.HoopWidthMM, o.HoopHeightMM})
	side := pictureSide(len(groups))
	for i, g := range groups {
		if i >= mostSections {
			m.Left = len(groups) - i
			break
		}
		d, err := newPageDesign(g, fmt.Sprintf("d%d", i+1), side, o)
		if err != nil {
			return nil, err
		}
		d.Open = i == first
		m.Designs = append(m.Designs, d)
	}
	if len(groups) > 1 {
		for i, g := range groups {
			m.Index = append(m.Index, newIndexRow(g, fmt.Sprintf("d%d", i+1), i < mostSections, o))
		}
	}
	if m.Title == "" && len(m.Designs) > 0 {
		m.Title = m.Designs[0].Name
	}
	return m, nil
}

// nameOf is the design's own name, or its file's.
func nameOf(r *analyse.Report) string {
	if s := safeText(r.Name); s != "" {
		return s
	}
	base := fileOf(r)
	if s := strings.TrimSuffix(base, path.Ext(base)); s != "" {
		return s
	}
	return "Design without a name"
}

// fileOf is the name of a design's file without its folders, empty where it is
// not known.
func fileOf(r *analyse.Report) string {
	if r.Path == "" || r.Path == "-" {
		return ""
	}
	return safeText(path.Base(filepath.ToSlash(r.Path)))
}

func newPageDesign(g []PageItem, id string, side int, o PageOptions) (*pageDesign, error) {
	d, r := g[0].Design, g[0].Report
	p := &pageDesign{ID: id, Key: contentKey(d), Name: nameOf(r), File: fileOf(r)}
	var others []string
	for _, other := range g[1:] {
		others = append(others, fmt.Sprintf("%s (%s)", fileOf(other.Report), other.Report.Format))
	}
	p.Files = strings.Join(others, ", ")
	p.Figures = pageFigures(d, r, hoopField{o.HoopWidthMM, o.HoopHeightMM})
	p.findings(r)
	for i := range r.Stops {
		if i >= mostRows {
			p.StopsLeft = len(r.Stops) - i
			break
		}
		p.Stops = append(p.Stops, p.stop(&r.Stops[i], i < mostPictures))
	}
	p.threads(r)
	for _, c := range r.Cloths {
		kind := safeText(c.Kind)
		if c.Piece > 0 {
			kind += fmt.Sprintf(", piece %d", c.Piece)
		}
		p.Cloths = append(p.Cloths, pageCloth{kind, cutText(c.WidthMM, c.HeightMM), c.Stop})
	}
	p.pieces(r)
	p.columns(r)
	p.resize(r)
	for i, w := range r.Warnings {
		if i == mostMarks {
			p.Warnings = append(p.Warnings, fmt.Sprintf("and %d more", len(r.Warnings)-i))
			break
		}
		p.Warnings = append(p.Warnings, fmt.Sprintf("byte %d: %s", w.Offset, safeLong(w.Message)))
	}
	if len(r.Stops) == 0 {
		return p, nil
	}
	return p, p.pictures(d, r, side, o)
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

func pageFigures(d *stitchfile.Design, r *analyse.Report, own hoopField) []pageFigure {
	f := []pageFigure{
		{"Size", sizeText(r.WidthMM, r.HeightMM)},
		{"Hoop", hoopText(r.WidthMM, r.HeightMM, own)},
		{"Stitches", fmt.Sprintf("%d in %s, %s", r.Stitches, tally(r.ColourStops, "colour stop", "colour stops"), tally(r.Trims, "trim", "trims"))},
		{"Time", aboutText(r.Minutes) + ", machine and hands"},
		{"Needle thread", fmt.Sprintf("%.0f m", math.Ceil(r.NeedleThreadM))},
		{"Bobbin thread", bobbinText(r)},
	}
	if d.Hoop.Width > 0 && d.Hoop.Height > 0 {
		f = append(f, pageFigure{"The file asks for", fmt.Sprintf("a hoop of %s", sizeText(d.Hoop.Width, d.Hoop.Height))})
	}
	return f
}

func bobbinText(r *analyse.Report) string {
	s := fmt.Sprintf("%.0f m", math.Ceil(r.BobbinThreadM))
	if n := int(math.Ceil(r.Bobbins)); n > 0 {
		s += ", " + tally(n, "full bobbin", "full bobbins")
	}
	return s
}

func (p *pageDesign) stop(s *analyse.Stop, picture bool) pageStop {
	out := pageStop{
		Number: s.Number, Role: safeText(s.Role), Reason: safeLong(s.Reason),
		Colour: hexColour(threadColour(s)), Casing: hexColour(casingOf(threadColour(s))),
		Known: s.Thread.HasColour(), Picture: picture,
		Figures: fmt.Sprintf("%s, %s", tally(s.Stitches, "stitch", "stitches"), clockText(s.Minutes)),
		Thread:  stopThread(s),
		Before:  pageSteps(s.Before, s.BeforeSteps), After: pageSteps(s.After, s.AfterSteps),
	}
	if len(s.Parts) > 1 {
		for _, part := range s.Parts {
			text := safeText(part.Role)
			if part.Piece > 0 {
				text += fmt.Sprintf(" of piece %d", part.Piece)
			}
			out.Parts = append(out.Parts, text)
		}
	}
	for _, list := range [][]pageFinding{p.Grave, p.Notes} {
		for _, f := range list {
			if f.Stop != s.Number {
				continue
			}
			out.Found = append(out.Found, f.Number)
			if out.Grave == "" {
				out.Grave = f.Severity
			}
		}
	}
	return out
}

// stopThread names a stop's thread, in the file's own words too where it has any.
func stopThread(s *analyse.Stop) string {
	if s.ColourName == nil {
		return "thread of your choice"
	}
	return safeText(threadText(s))
}

func pageSteps(texts []string, kinds []analyse.Step) []pageStep {
	var out []pageStep
	for i, t := range texts {
		s := pageStep{Text: safeLong(t)}
		if i < len(kinds) {
			k := kinds[i].Kind
			s.Hoop = k == analyse.StepHoopOff || k == analyse.StepTurnOver || k == analyse.StepTrim
		}
		out = append(out, s)
	}
	return out
}

// threads lists what to set out, a row for each thread in the order of use.
func (p *pageDesign) threads(r *analyse.Report) {
	at := map[string]int{}
	var metres []float64
	for i := range r.Stops {
		s := &r.Stops[i]
		if !s.Thread.HasColour() {
			p.NoColours = true
			continue
		}
		text := stopThread(s)
		key := hexColour(s.Thread.Colour) + text
		k, ok := at[key]
		if !ok {
			if len(p.Threads) >= mostRows {
				continue
			}
			k = len(p.Threads)
			at[key] = k
			p.Threads = append(p.Threads, pageThread{Colour: hexColour(s.Thread.Colour), Name: text, Known: true})
			metres = append(metres, 0)
		} else {
			p.Threads[k].Stops += ", "
		}
		p.Threads[k].Stops += fmt.Sprint(s.Number)
		metres[k] += s.NeedleThreadM
	}
	for k, m := range metres {
		p.Threads[k].Length = fmt.Sprintf("%.0f m", math.Ceil(m))
	}
}

// findings puts the gravest first and numbers them all as the picture does.
func (p *pageDesign) findings(r *analyse.Report) {
	radius := int(math.Round(0.034 * 10 * max(r.WidthMM, r.HeightMM, 1)))
	n := 0
	for _, severity := range []analyse.Severity{analyse.Fault, analyse.Caution, analyse.Note} {
		for _, f := range r.Findings {
			if f.Severity != severity {
				continue
			}
			if n++; n > mostRows {
				p.FindingsLeft++
				continue
			}
			out := pageFinding{ID: p.ID, Number: fmt.Sprint(n), Severity: string(severity), Rule: safeText(f.Rule), Stop: f.Stop, Message: safeLong(f.Message), Advice: safeLong(f.Advice)}
			if f.AtMM != nil && len(p.Marks) < mostMarks {
				out.Marked = true
				p.Marks = append(p.Marks, pageMark{
					Number: out.Number, Grave: out.Severity, R: radius, TextSize: radius * 5 / 4,
					X: int(math.Round(10 * f.AtMM[0])), Y: int(math.Round(-10 * f.AtMM[1])),
				})
			}
			if severity == analyse.Note {
				p.Notes = append(p.Notes, out)
			} else {
				p.Grave = append(p.Grave, out)
			}
		}
	}
	spreadMarks(p.Marks, 5*r.WidthMM*1.06, 5*r.HeightMM*1.06)
}

func (p *pageDesign) pieces(r *analyse.Report) {
	for i, c := range r.Pieces {
		if i == mostRows {
			break
		}
		var stops []string
		for _, s := range []struct {
			name string
			stop int
		}{{"placement line", c.PlacementStop}, {"tack-down", c.TackDownStop}, {"cover", c.CoverStop}} {
			if s.stop > 0 {
				stops = append(stops, fmt.Sprintf("%s %d", s.name, s.stop))
			}
		}
		row := pagePiece{Number: c.Number, Stops: strings.Join(stops, ", ")}
		if c.CutSizeMM[0] > 0 {
			row.Cut = cutText(c.CutSizeMM[0], c.CutSizeMM[1])
		}
		if c.CoverStop > 0 {
			row.Cover = fmt.Sprintf("%.1f mm at least, %.1f mm usual", c.OuterCoverMM.Min, c.OuterCoverMM.Median)
		}
		row.Gap = "none"
		if c.UncoveredMM > 0 {
			row.Gap, row.Bare = fmt.Sprintf("%.1f mm", c.UncoveredMM), true
		} else if c.CoverStop == 0 {
			row.Gap = "no cover found"
		}
		p.Pieces = append(p.Pieces, row)
	}
}

func (p *pageDesign) columns(r *analyse.Report) {
	for i, c := range r.SatinColumns {
		if i == 200 {
			p.ColumnsLeft = len(r.SatinColumns) - i
			break
		}
		var under []string
		for _, k := range c.Underlay {
			under = append(under, k.String())
		}
		row := pageColumn{
			Stop: c.Stop, Length: fmt.Sprintf("%.0f mm", c.LengthMM),
			Width:    fmt.Sprintf("%.1f to %.1f mm", c.Width.Min, c.Width.Max),
			Pitch:    fmt.Sprintf("%.2f mm", c.Pitch.Median),
			Coverage: fmt.Sprintf("%.0f %%", 100*c.Coverage),
			Underlay: strings.Join(under, ", "),
		}
		p.Columns = append(p.Columns, row)
	}
}

func (p *pageDesign) resize(r *analyse.Report) {
	if r.Resize == nil {
		return
	}
	p.Resize = append(p.Resize, fmt.Sprintf("With its stitch count kept this design may be sewn from %.0f %% to %.0f %% of its size.", 100*r.Resize.Smallest, 100*r.Resize.Largest))
	for i, l := range r.Resize.Limits {
		if i == 20 {
			break
		}
		text := fmt.Sprintf("At %.0f %%: %s", 100*l.Scale, safeText(l.Rule))
		if l.Stop > 0 {
			text += fmt.Sprintf(" in stop %d", l.Stop)
		}
		p.Resize = append(p.Resize, fmt.Sprintf("%s (%.2f, limit %.2f %s)", text, l.Measured, l.Limit, safeText(l.Unit)))
	}
}
