package measure

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
)

// nearby tells of boxes whether they lie near any of some places of interest: of all that
// do and a few more, and of each in the same time, however large it is.
type nearby struct {
	box    geom.Box // around all places
	per    float64  // one over the side of a cell, mm
	nx, ny int
	sums   []int32 // by corner of cells: those with places below it and to its left
}

const (
	nearbyCell  = 2.0     // mm
	nearbyCells = 1 << 14 // or so many of them at most, however far places lie apart
)

// newNearby lays cells over the boxes of places that each gives, twice.
func newNearby(each func(place func(geom.Box))) *nearby {
	w, n := &nearby{}, 0
	each(func(b geom.Box) {
		if n++; n == 1 {
			w.box = b
		}
		w.box = w.box.With(b)
	})
	if n == 0 {
		return w
	}
	width, height := w.box.Width(), w.box.Height()
	side := max(nearbyCell, math.Sqrt(width*height/nearbyCells), max(width, height)/nearbyCells)
	w.per, w.nx, w.ny = 1/side, int(width/side)+1, int(height/side)+1
	row := w.nx + 1
	w.sums = make([]int32, row*(w.ny+1))
	each(func(b geom.Box) {
		x0, y0, x1, y1 := w.span(b)
		w.sums[y0*row+x0]++
		w.sums[y0*row+x1+1]--
		w.sums[(y1+1)*row+x0]--
		w.sums[(y1+1)*row+x1+1]++
	})
	// Row by row: how many boxes lie over each cell, and the cells with any summed up.
	over := make([]int32, row) // boxes that lie over the row, by the column where they begin, less those that end before it
	copy(over, w.sums)
	clear(w.sums[:row])
	for y := range w.ny {
		below, here := w.sums[y*row:][:row], w.sums[(y+1)*row:][:row]
		var boxes, cells int32
		for x := range w.nx {
			boxes, over[x], here[x] = boxes+over[x], over[x]+here[x], cells+below[x]
			if boxes > 0 {
				cells++
			}
		}
		here[w.nx] = cells + below[w.nx]
	}
	return w
}

// span is the columns and rows of cells that a box which meets w.box touches.
func (w *nearby) span(b geom.Box) (x0, y0, x1, y1 int) {
	at := func(v float64, n int) int { return int(max(0, min(v*w.per, float64(n-1)))) }
	return at(b.Lo.X-w.box.Lo.X, w.nx), at(b.Lo.Y-w.box.Lo.Y, w.ny), at(b.Hi.X-w.box.Lo.X, w.nx), at(b.Hi.Y-w.box.Lo.Y, w.ny)
}

// meets reports whether a box may lie over any of the places.
func (w *nearby) meets(b geom.Box) bool {
	if w.nx == 0 || !w.box.Meets(b) {
		return false
	}
	x0, y0, x1, y1 := w.span(b)
	row := w.nx + 1
	return w.sums[(y1+1)*row+x1+1]-w.sums[y0*row+x1+1]-w.sums[(y1+1)*row+x0]+w.sums[y0*row+x0] > 0
}
