package render

import (
	"github.com/stopcard/stopcard/analyse/gather"
	"github.com/stopcard/stopcard/analyse/geom"
)

// CutSheetMM is how wide the sheet is that pieces are laid on side by side: a cutting mat
// of twelve inches, with a little to spare.
const CutSheetMM = 300.0

// cutGap is how much cloth stays between two pieces, in mm.
const cutGap = 2.0

// nested lays the shapes side by side on a sheet of the given width, so that none lies
// on another. Each keeps the way it lies in the design, so that the grain of the cloth
// does; a piece that is wider than the sheet makes the sheet wider.
func nested(all []shape, width float64) []shape {
	var rects []gather.Rect
	boxes := make([]geom.Box, len(all))
	for i := range all {
		var pts []geom.Point
		for _, lines := range [][][]geom.Point{all[i].placement, all[i].cut} {
			for _, l := range lines {
				pts = append(pts, l...)
			}
		}
		boxes[i] = geom.BoxOf(pts)
		w, h := boxes[i].Width()+cutGap, boxes[i].Height()+cutGap
		width = max(width, w)
		rects = append(rects, gather.Rect{WidthMM: w, HeightMM: h, ID: i})
	}
	out := make([]shape, len(all))
	_, placed := gather.PackShelves(rects, width)
	for _, r := range placed {
		b := boxes[r.ID]
		// Shelves run down from the top, Y runs up.
		shift := geom.Point{X: r.X - b.Lo.X, Y: -r.Y - b.Hi.Y}
		s := all[r.ID]
		s.placement, s.cut = moved(s.placement, shift), moved(s.cut, shift)
		out[r.ID] = s
	}
	return out
}

func moved(lines [][]geom.Point, shift geom.Point) [][]geom.Point {
	out := make([][]geom.Point, len(lines))
	for i, l := range lines {
		out[i] = make([]geom.Point, len(l))
		for k, q := range l {
			out[i][k] = q.Add(shift)
		}
	}
	return out
}
