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

	right, top float64 // the last column and row
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
	w.box = w.box.Grown(1e-6) // no place lies on its border, or past it by rounding
	width, height := w.box.Width(), w.box.Height()
	side := max(nearbyCell, math.Sqrt(width*height/nearbyCells), max(width, height)/nearbyCells)
	w.per, w.nx, w.ny = 1/side, int(width/side)+3, int(height/side)+3
	w.right, w.top = float64(w.nx-1), float64(w.ny-1)
	row := w.nx + 1
	w.sums = make([]int32, row*(w.ny+1))
	each(func(b geom.Box) {
		from, to := w.cellOf(b.Lo), w.cellOf(b.Hi)
		w.sums[from.y*row+from.x]++
		w.sums[from.y*row+to.x+1]--
		w.sums[(to.y+1)*row+from.x]--
		w.sums[(to.y+1)*row+to.x+1]++
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

// cellOf is the cell that a place lies in. A rim of cells stands for all that lies outside.
func (w *nearby) cellOf(q geom.Point) cellPlace {
	return cellPlace{int(max(0, min((q.X-w.box.Lo.X)*w.per+1, w.right))), int(max(0, min((q.Y-w.box.Lo.Y)*w.per+1, w.top)))}
}

// meets reports whether a box may lie over any of the places.
func (w *nearby) meets(b geom.Box) bool { return w.between(w.cellOf(b.Lo), w.cellOf(b.Hi)) }

// between reports whether places lie in any of the cells from one to another.
func (w *nearby) between(a, b cellPlace) bool {
	if w.nx == 0 {
		return false
	}
	row := w.nx + 1
	x0, x1, y0, y1 := min(a.x, b.x), max(a.x, b.x)+1, min(a.y, b.y)*row, (max(a.y, b.y)+1)*row
	return w.sums[y1+x1]-w.sums[y0+x1]-w.sums[y1+x0]+w.sums[y0+x0] > 0
}
