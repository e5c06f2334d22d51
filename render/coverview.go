package render

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/stitchfile"
)

var coverView = View{
	Name: "cover",
	Doc:  "applique pieces with their cut edges, by how far the satin hides them",
	Draw: single(drawCover),
}

// coverClass is a range of how far the satin reaches past a cut edge. The
// classes differ in lightness as well as in hue, and bare edges are drawn wide.
type coverClass struct {
	above  float64 // mm past the cut edge
	colour color.RGBA
}

var coverClasses = []coverClass{
	{1.0, color.RGBA{0, 62, 110, 255}},
	{0.5, color.RGBA{0, 114, 178, 255}},
	{0.25, color.RGBA{86, 180, 233, 255}},
	{0, color.RGBA{240, 228, 66, 255}},
}

var (
	bareEdge   = color.RGBA{213, 94, 0, 255}
	thinEdge   = color.RGBA{230, 159, 0, 255}
	underCloth = color.RGBA{170, 170, 170, 255}
	clothTint  = color.RGBA{206, 222, 226, 255}
)

// maxNotes bounds the lines of text under a picture.
const maxNotes = 24

// maxGaps bounds the gaps that are numbered; more hide the edge they are about.
const maxGaps = 9

func drawCover(d *stitchfile.Design, r *report.Report, o Options) Picture {
	trim, u := settingsOf(r).TrimAllowanceMM, unitsOf(r)
	f := foot{title: "Cut edges of the applique under their satin"}
	if len(r.Pieces) == 0 {
		f.notes = []string{"No applique was found in this design."}
		s := newSheet(d, r, o, f)
		s.faint()
		return s.picture()
	}
	f.notes = append(f.notes, fmt.Sprintf("Scissors may leave up to %s of cloth outside the tack-down: the line drawn. The satin must reach past it.", u.Small(trim)))
	marks, left := worstGaps(r)
	for _, m := range marks {
		f.notes = append(f.notes, fmt.Sprintf("%d: on piece %d, %s of edge shows; %s.", m.finding, m.piece, u.Stitch(m.LengthMM), shortfall(m.Gap, trim, u)))
	}
	switch {
	case len(marks)+left == 0:
		f.notes = append(f.notes, "No gaps were found.")
	case left > 0:
		f.notes = append(f.notes, words.Plural(left, "more gap is drawn and not numbered.", "more gaps are drawn and not numbered."))
	}
	if len(marks) > 0 {
		f.notes = append(f.notes, "The numbers are those of the findings.")
	}
	for i, c := range coverClasses {
		text := "hidden, " + u.Small(c.above) + " or more to spare"
		if c.above == 0 {
			text = "hidden, less than " + u.Small(coverClasses[i-1].above) + " to spare"
		}
		f.keys = append(f.keys, key{colour: c.colour, text: text})
	}
	f.keys = append(f.keys, key{colour: thinEdge, text: "shows between stitches too far apart"}, key{colour: bareEdge, text: "shows: drawn widest"}, key{colour: underCloth, text: "under another piece, or in the seam"}, key{colour: clothTint, text: "cloth of the piece"}, key{colour: mix(Cloth, ink, 0.22), text: "stitches of the cover"}, key{colour: quiet, text: "tack-down: the thin line"})

	middle, w, h := around(r.Pieces)
	s := newSheetOf(d, r, o, f, middle, w, h)
	in := s.img.SubImage(s.field).(*image.RGBA)
	covers := map[int]bool{}
	for i := range r.Pieces {
		area(in, s.corners(r.Pieces[i].TackDown), clothTint)
		covers[r.Pieces[i].CoverStop] = true
	}
	for i := range r.Stops {
		if covers[r.Stops[i].Number] {
			s.trace(in, &r.Stops[i], mix(s.ground, ink, 0.22), max(1, s.laid()*0.5))
		}
	}
	for i := range r.Pieces {
		s.edge(in, &r.Pieces[i], trim)
	}
	if !o.Bare {
		s.gapNumbers(in)
	}
	return s.picture()
}

// pieceGap is a gap, the piece it is on, and the number of the finding that tells of it.
type pieceGap struct {
	report.Gap
	piece, finding int
}

// findingOf is the number of the finding that tells of a piece's edge, 0 where none does.
// Findings of one cause are told as one: its places say of which pieces.
func findingOf(r *report.Report, p *report.Piece, open bool) int {
	tells := func(f *report.Finding) bool {
		if f.Piece == p.Number || open && f.Rule == "thin-cover" && slices.Contains(f.Stops, p.CoverStop) {
			return true
		}
		return slices.ContainsFunc(f.Places, func(at geom.Place) bool {
			return slices.ContainsFunc(p.Gaps, func(g report.Gap) bool { return g.AtMM == at }) || open && p.ThinnestAt == at
		})
	}
	first, second := "edge-uncovered", "thin-cover"
	if open {
		first, second = second, first
	}
	for _, rule := range []string{first, second} {
		for i := range r.Findings {
			if f := &r.Findings[i]; f.Rule == rule && f.Severity.AtLeast(report.Caution) && tells(f) {
				return f.Number
			}
		}
	}
	return 0
}

// worstGaps are the longest gaps that findings tell of, in the order of the pieces, and
// how many more there are. Where the satin is off the cloth the edge shows too, so such a
// stretch counts only away from any gap.
func worstGaps(r *report.Report) (worst []pieceGap, left int) {
	var all []pieceGap
	untold := 0
	add := func(p *report.Piece, g report.Gap) {
		if n := findingOf(r, p, g.Open); n > 0 {
			all = append(all, pieceGap{g, p.Number, n})
		} else {
			untold++
		}
	}
	for i := range r.Pieces {
		p := &r.Pieces[i]
		for _, g := range p.Gaps {
			add(p, g)
		}
		for _, g := range p.OffCloth {
			near := func(o report.Gap) bool {
				return geom.Distance(geom.Point{X: o.AtMM[0], Y: o.AtMM[1]}, geom.Point{X: g.AtMM[0], Y: g.AtMM[1]}) < max(o.LengthMM, g.LengthMM)
			}
			if !slices.ContainsFunc(p.Gaps, near) {
				add(p, g)
			}
		}
	}
	if len(all) <= maxGaps {
		return all, untold
	}
	lengths := make([]float64, len(all))
	for i, g := range all {
		lengths[i] = g.LengthMM
	}
	slices.Sort(lengths)
	least := lengths[len(lengths)-maxGaps]
	for _, g := range all {
		if g.LengthMM >= least && len(worst) < maxGaps {
			worst = append(worst, g)
		}
	}
	return worst, untold + len(all) - len(worst)
}

// shortfall says why an edge shows.
func shortfall(g report.Gap, trim float64, u words.Units) string {
	switch {
	case g.Open:
		return "its stitches are too far apart"
	case math.IsInf(g.LeastMM, 0) || math.IsNaN(g.LeastMM) || g.LeastMM <= -report.ReachMM:
		return "no satin lies over it"
	case g.LeastMM < 0:
		return "the satin misses it by " + u.Stitch(-g.LeastMM)
	case g.LeastMM >= trim:
		return "the satin lies beyond it"
	}
	return "the satin reaches only " + u.Stitch(g.LeastMM) + " past the tack-down"
}

// around is the middle and the size of what the pieces take up, with room for
// their satin.
func around(pieces []report.Piece) (middle geom.Point, w, h float64) {
	const room = 6 // mm
	var all []geom.Point
	for i := range pieces {
		all = append(all, pieces[i].TackDown...)
	}
	if len(all) == 0 {
		return geom.Point{}, 0, 0
	}
	b := geom.BoxOf(all)
	return b.Middle(), b.Width() + 2*room, b.Height() + 2*room
}

// corners places a line on the picture.
func (s *sheet) corners(line []geom.Point) [][2]float64 {
	out := make([][2]float64, len(line))
	for i, q := range line {
		out[i][0], out[i][1] = s.place.at(q)
	}
	return out
}

// edge draws a piece's tack-down thin, and its cut edge by cover: first all
// dark, to stand off from the satin, then in the colours of the classes.
func (s *sheet) edge(img *image.RGBA, p *report.Piece, trim float64) {
	b := brush{threadPainter{img: img}}
	b.line(quiet, max(1, s.em/14))
	b.open(s.place, p.TackDown)
	thick := max(s.em/4, 0.5*s.place.perMM)
	if len(p.Edge) == 0 {
		b.line(ink, thick/2)
		for _, ring := range p.CutEdge {
			b.open(s.place, ring)
		}
		return
	}
	for pass := range 2 {
		for i := range p.Edge {
			e := &p.Edge[i]
			c, k := edgeColour(e, trim)
			if pass == 0 {
				c, k = ink, k+0.5
			}
			b.line(c, thick*k)
			x0, y0 := s.place.at(e.From)
			x1, y1 := s.place.at(e.To)
			b.stitch(x0, y0, x1, y1)
		}
	}
}

// edgeColour is the colour and the width of a stretch of edge.
func edgeColour(e *report.EdgeSample, trim float64) (c color.RGBA, width float64) {
	switch e.State {
	case report.EdgeBare:
		return bareEdge, 2
	case report.EdgeThin:
		return thinEdge, 1.6
	case report.EdgeHidden:
		return underCloth, 0.6
	}
	for _, class := range coverClasses {
		if e.Outer-trim >= class.above {
			return class.colour, 1
		}
	}
	return coverClasses[len(coverClasses)-1].colour, 1
}

// gapNumbers numbers the gaps as the findings do.
func (s *sheet) gapNumbers(img *image.RGBA) {
	marks, _ := worstGaps(s.r)
	for _, m := range marks {
		x, y := s.place.at(geom.Point{X: m.AtMM[0], Y: m.AtMM[1]})
		s.plates.add(s, img, x, y, fmt.Sprint(m.finding), alarm)
	}
}
