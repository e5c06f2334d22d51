package render

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// shape is what to cut for one piece of applique cloth.
type shape struct {
	number    int     // of the piece, or of the colour stop where pieces are not known
	stop      int     // that sews the placement line
	margin    float64 // how far the cut shape reaches past the line, mm
	placement [][]geom.Point
	cut       [][]geom.Point
}

// maxCutShapes bounds the cut shapes of a design; further pieces keep their
// placement lines.
const maxCutShapes = 200

// shapes finds the placement lines of a design: those of the report's pieces,
// or else the lines of the stops that have that role. margin is in mm; 0 stands
// for that which the report tells, by which its cut sizes are counted as well, and a
// negative one for none. A piece that the report cuts to its line is always cut so.
func shapes(d *stitchfile.Design, r *report.Report, margin float64) []shape {
	told := margin == 0
	switch {
	case told:
		margin = settingsOf(r).ClothMarginMM
	case margin < 0:
		margin = 0
	}
	var out []shape
	add := func(number, stop int, lines [][]geom.Point, tack []geom.Point, margin float64) {
		s := shape{number: number, stop: stop, margin: margin, placement: lines}
		for _, l := range lines {
			switch {
			case !nearlyClosed(l) || len(out) >= maxCutShapes:
			case margin == 0:
				s.cut = append(s.cut, closedLine(l))
			default:
				s.cut = append(s.cut, outer(geom.Offset(linesOfCloth(l, tack), margin, geom.RoundCorners))...)
			}
		}
		if len(lines) > 0 {
			out = append(out, s)
		}
	}
	for i := range r.Pieces {
		p := &r.Pieces[i]
		line, stop := p.Placement, p.PlacementStop
		if len(line) < 2 {
			line, stop = p.TackDown, p.TackDownStop
		}
		own := margin
		if told || p.MarginMM == 0 {
			own = p.MarginMM
		}
		if len(line) >= 2 {
			add(p.Number, stop, [][]geom.Point{line}, p.TackDown, own)
		}
	}
	if len(r.Pieces) > 0 {
		return out
	}
	for i := range r.Stops {
		if s := &r.Stops[i]; s.Role == report.RolePlacementLine {
			add(len(out)+1, s.Number, threadPaths(d, r, s), nil, margin)
		}
	}
	return out
}

// linesOfCloth are the lines of a piece that its cloth must reach past, running the same way
// round: the placement line and, where it closes, the tack-down, which may lie outside it.
// The report's cut size is the box of both.
func linesOfCloth(line, tack []geom.Point) [][]geom.Point {
	out := [][]geom.Point{closedLine(line)}
	if !nearlyClosed(tack) {
		return out
	}
	tack = closedLine(tack)
	if (geom.PolygonArea(tack) > 0) != (geom.PolygonArea(line) > 0) {
		tack = slices.Clone(tack)
		slices.Reverse(tack)
	}
	return append(out, tack)
}

// closedLine is a line that comes back to its start.
func closedLine(l []geom.Point) []geom.Point {
	if l[0] == l[len(l)-1] {
		return l
	}
	return append(slices.Clone(l), l[0])
}

// nearlyClosed reports whether a line encloses cloth: its opening is less than a
// tenth of its length.
func nearlyClosed(line []geom.Point) bool {
	if len(line) < 3 {
		return false
	}
	return geom.Distance(line[0], line[len(line)-1]) < geom.PathLength(line)/10
}

// threadPaths are the lines that a stop sews without lifting the needle.
func threadPaths(d *stitchfile.Design, r *report.Report, s *report.Stop) [][]geom.Point {
	var out [][]geom.Point
	var line []geom.Point
	end := func() {
		if len(line) > 2 {
			out = append(out, line)
		}
		line = nil
	}
	for _, m := range d.Moves[s.First:s.Last] {
		if m.Kind != stitchfile.Stitch {
			end()
			continue
		}
		line = append(line, geom.Point{X: (float64(m.X) - r.CentreX) / 10, Y: (float64(m.Y) - r.CentreY) / 10})
	}
	end()
	return out
}

// outer are the rings that go round a shape, without those round pockets in it.
func outer(rings [][]geom.Point) [][]geom.Point {
	return slices.DeleteFunc(rings, func(r []geom.Point) bool { return geom.PolygonArea(r) < 0.5 })
}
