package gather

import (
	"slices"
	"sort"
)

// Rect is a rectangle on cloth: X across it, Y along the selvedge.
type Rect struct {
	X, Y              float64
	WidthMM, HeightMM float64

	ID int // the caller's own, kept when it is placed
}

// PackShelves lays rectangles in rows across a cloth of the given width, the
// tallest first, each in the first row that has room for it, and gives the
// length of cloth this takes and where each lies (first-fit decreasing height;
// no more than 1.7 times the best length plus the tallest rectangle: Coffman,
// Garey, Johnson, Tarjan, SIAM J. Computing 9, 1980). Rectangles keep to the
// grain; only one that is too wide for the cloth is turned, and left out of
// placed if it is too wide that way too.
func PackShelves(rects []Rect, width float64) (length float64, placed []Rect) {
	var fit []Rect
	for _, r := range rects {
		if r.WidthMM > width {
			r.WidthMM, r.HeightMM = r.HeightMM, r.WidthMM
		}
		if r.WidthMM <= width {
			fit = append(fit, r)
		}
	}
	sort.SliceStable(fit, func(i, j int) bool { return fit[i].HeightMM > fit[j].HeightMM })
	type shelf struct{ y, used float64 }
	var shelves []shelf
	for _, r := range fit {
		const slack = 1e-9 // widths that fill a cloth exactly add up to a little more
		i := slices.IndexFunc(shelves, func(s shelf) bool { return s.used+r.WidthMM <= width+slack })
		if i < 0 {
			i = len(shelves)
			shelves = append(shelves, shelf{y: length})
			length += r.HeightMM
		}
		r.X, r.Y = shelves[i].used, shelves[i].y
		shelves[i].used += r.WidthMM
		placed = append(placed, r)
	}
	return length, placed
}
