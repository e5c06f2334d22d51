package render

import (
	"context"
	_ "embed"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/stopcard/stopcard/analyse/match"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/stitchfile"
)

// ProofItem is one design that a proof's page draws: the one that stands for a size, or
// one that differs from it. The report's Path names it.
type ProofItem struct {
	Design *stitchfile.Design
	Report *report.Report
	Sign   *match.Signature
	Load   Load // in place of Design
}

// ProofOptions say what ProofPage writes.
type ProofOptions struct {
	Title string
	Buyer bool        // the buyer's sheet alone: no problems, no grid
	Units words.Units // in which lengths are told; the buyer's sheet has mm and inches
	// Context ends the work soon after it ends itself, with its error; nil never does.
	Context context.Context
}

//go:embed page/proof.css
var proofCSS string

type proofModel struct {
	CSS      rawCSS
	Title    string
	Buyer    bool
	Ready    bool
	Designs  []proofDesign
	Problems []match.Problem
	Notes    []match.Problem
	Verdict  string
	Speed    string // stitches a minute that the times are told for
}

type proofDesign struct {
	Name    string
	Formats []string
	Sizes   []proofSize
}

type proofSize struct {
	match.ProvenSize
	MM, Inch, Made, Time string
	Hoop                 string
	Picture              rawURL
	Differ               []proofDiffer
	Cells                []proofCell
}

type proofCell struct{ Word, Class, Title, Format string }

type proofDiffer struct {
	Name, Words string
	Picture     rawURL
}

// proofWidth is the width of a thumbnail in pixels.
const proofWidth = 360

// ProofPage writes a proof as one HTML file that needs nothing beside it: the verdict,
// what to mend, the grid of sizes and formats with a picture for each size, and where
// files of one size differ, the needle points that do. Items give the designs to draw, by
// their paths; a size without one has no picture.
func ProofPage(w io.Writer, p *match.Proof, items []ProofItem, o ProofOptions) error {
	m := proofModel{CSS: rawCSS(proofCSS), Title: safeText(o.Title), Buyer: o.Buyer, Ready: p.Ready, Problems: safeProblems(p.Problems), Notes: safeProblems(p.Notes), Verdict: match.VerdictWords(p)}
	by := map[string]*ProofItem{}
	for i := range items {
		by[items[i].Report.Path] = &items[i]
		if s := items[i].Report.Settings; s != nil {
			m.Speed = fmt.Sprintf("%.0f", s.SpeedPerMinute)
		}
	}
	for i := range p.Designs {
		d := &p.Designs[i]
		out := proofDesign{Name: safeText(d.Name), Formats: d.Formats}
		if len(p.Designs) == 1 && strings.EqualFold(out.Name, m.Title) {
			out.Name = "" // the title says it
		}
		for k := range d.Sizes {
			z := &d.Sizes[k]
			if o.Buyer && z.Verdict == report.StretchedCopy {
				continue
			}
			s, err := proofSizeOf(z, by, &o)
			if err != nil {
				return err
			}
			out.Sizes = append(out.Sizes, s)
		}
		m.Designs = append(m.Designs, out)
	}
	if err := ended(o.Context); err != nil {
		return err
	}
	return write(w, func(out markup) { out.proof(&m) })
}

func safeProblems(in []match.Problem) []match.Problem {
	out := slices.Clone(in)
	for i := range out {
		out[i].Message, out[i].Advice, out[i].Path = safeLong(out[i].Message), safeLong(out[i].Advice), safeText(out[i].Path)
	}
	return out
}

func proofSizeOf(z *match.ProvenSize, by map[string]*ProofItem, o *ProofOptions) (proofSize, error) {
	const inch = 25.4
	s := proofSize{ProvenSize: *z, MM: fmt.Sprintf("%.1f x %.1f mm", z.WidthMM, z.HeightMM), Inch: fmt.Sprintf("%.2f x %.2f in", z.WidthMM/inch, z.HeightMM/inch),
		Made: string(z.Verdict), Time: words.PartedTime(z.Minutes, z.MachineMin), Hoop: "none of the usual"}
	if fields := o.Units.FieldsFor(z.WidthMM, z.HeightMM, 1); fields != "" {
		s.Hoop = fields
	}
	switch {
	case o.Buyer:
	case o.Units == words.Inches:
		s.MM = ""
	case o.Units == words.Metric:
		s.Inch = ""
	}
	for _, c := range z.Cells {
		cell := proofCell{Word: map[match.State]string{match.There: "there", match.Missing: "missing", match.Twice: "twice", match.Differs: "differs", match.Unasked: "none"}[c.State],
			Class: string(c.State), Format: c.Format}
		if o.Buyer { // what is to be mended is the seller's to know
			cell = proofCell{Word: "no", Format: c.Format}
			if len(c.Paths) > 0 {
				cell.Word = "yes"
			}
			s.Cells = append(s.Cells, cell)
			continue
		}
		for _, path := range c.Paths {
			cell.Title += safeText(path) + " "
		}
		s.Cells = append(s.Cells, cell)
	}
	lead := by[z.Lead]
	if lead == nil {
		return s, nil
	}
	var err error
	if s.Picture, err = proofPicture(o.Context, lead, nil); err != nil {
		return s, err
	}
	drawn := map[string]bool{}
	for _, c := range z.Cells {
		for _, path := range c.Paths {
			other := by[path]
			if c.State != match.Differs || path == z.Lead || other == nil || drawn[path] {
				continue
			}
			drawn[path] = true
			moved := match.MovedPoints(lead.Sign, other.Sign)
			if len(moved) == 0 {
				continue
			}
			d := proofDiffer{Name: safeText(filepath.Base(path)), Words: movedWords(moved)}
			if d.Picture, err = proofPicture(o.Context, other, moved); err != nil {
				return s, err
			}
			s.Differ = append(s.Differ, d)
		}
	}
	return s, nil
}

// movedWords counts what differs.
func movedWords(moved []match.Moved) string {
	added, gone := 0, 0
	var stops []int
	for _, m := range moved {
		if m.Added {
			added++
		} else {
			gone++
		}
		if !slices.Contains(stops, m.Stop) {
			stops = append(stops, m.Stop)
		}
	}
	slices.Sort(stops)
	where := words.ListStops(stops)
	points := func(n int) string { return words.Plural(n, "needle point is", "needle points are") }
	switch {
	case gone == 0:
		return fmt.Sprintf("%s only here, in %s", points(added), where)
	case added == 0:
		return fmt.Sprintf("%s only in the other files of its size, in %s", points(gone), where)
	}
	return fmt.Sprintf("%s only here, %s only in the other files of its size; in %s", points(added), points(gone), where)
}

// proofPicture draws a design small, with rings where needle points differ: filled ones
// for those that only it has.
func proofPicture(ctx context.Context, i *ProofItem, moved []match.Moved) (rawURL, error) {
	r := worn(i.Report)
	d, err := loaded(i.Design, i.Load)
	if err != nil {
		return "", err
	}
	long := max(r.WidthMM, r.HeightMM, 1)
	l := layOut(r, proofWidth/long)
	l.place.ctx = ctx
	img := image.NewRGBA(image.Rect(0, 0, l.w, l.h))
	box(img, img.Rect, Cloth)
	if len(moved) > 0 {
		draw.Draw(img, img.Rect, faintPicture(l, d, r), image.Point{}, draw.Over)
	} else {
		sew(img, l.place, d, r, ThreadOptions{})
	}
	const most = 4000 // rings; more are one blot
	step := max(1, len(moved)/most)
	only, other := threadPainter{img: img}, threadPainter{img: img}
	only.line(color.RGBA{200, 30, 20, 255}, 5)
	other.line(color.RGBA{20, 60, 200, 255}, 3)
	for k := 0; k < len(moved); k += step {
		x, y := l.place.x+moved[k].AtMM[0]*l.place.perMM, l.place.y-moved[k].AtMM[1]*l.place.perMM
		pen := &other
		if moved[k].Added {
			pen = &only
		}
		pen.stitch(x-0.5, y, x+0.5, y)
	}
	if err := ended(ctx); err != nil {
		return "", err
	}
	url, err := dataURL(indexed(img, mostColours))
	return rawURL(url), err
}
