package measure

import (
	"math"
	"slices"
	"sync"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/stitches"
)

// crowding fills in the crowding of every cell, and gives the place where it is worst
// and how much it is there, in holes to the mm2.
//
// It is the number of holes about a place over the area about it, holes near to it
// counting more: their weight falls evenly to nothing crowdReach cells away along
// either axis, twice a moving mean over four half cells. So much of it lies within 3 x
// 3 mm as within a square of that size, but holes in regular rows, as all stitching
// has, are told to a percent or two, where a square would catch a row more or less.
func crowding(t *stitches.Track, g *report.Grid, on *ground) (geom.Point, float64) {
	w := countPool.Get().(*counts)
	defer countPool.Put(w)
	if !w.within(t, g, on) {
		return geom.Point{}, 0
	}
	half := g.CellMM / 2
	at, most, counted := crowdingOf(w, &w.holes, math.MaxUint8, t, g, on)
	if !counted { // more holes in a half cell than a byte counts: hardly any design has them
		at, most, _ = crowdingOf(w, new([]uint32), mostHoles, t, g, on)
	}
	return geom.Point{X: g.X + (float64(at.x)+0.5)*half, Y: g.Y + (float64(at.y)+0.5)*half}, float64(most) * eachHole(half)
}

// eachHole is how much one hole weighs in a sum, in holes to the mm2.
func eachHole(half float64) float64 {
	return 1 / (crowdSpan * crowdSpan * crowdSpan * crowdSpan * half * half)
}

// crowdingOf is crowding with counts of holes that go up to full. It gives the half cell that
// is crowded most and its sum, and false where the counts are too narrow.
func crowdingOf[N uint8 | uint32](w *counts, holes *[]N, full N, t *stitches.Track, g *report.Grid, on *ground) (at cellPlace, most uint32, counted bool) {
	w.begin()
	nx, ny := w.x1-w.x0, w.y1-w.y0
	row := nx + crowdPad
	*holes = zeros(*holes, row*ny+crowdPad)
	half := halfCells(g)
	for i, q := range t.Pts {
		if !on.has(i) || !isHole(t, i) {
			continue
		}
		c := half.of(q)
		if n := &(*holes)[(c.y-w.y0)*row+crowdPad+c.x-w.x0]; *n < full {
			*n++
		} else if uint64(full) < mostHoles {
			return at, 0, false
		}
	}
	for y := range ny + crowdSpan - 1 {
		if y < ny {
			sumAlong(w.rowOf(y), (*holes)[y*row:])
		}
		top := w.take(y)
		if y -= crowdSpan - 1; y < 0 {
			continue
		}
		if top > most {
			most, at = top, cellPlace{w.x0 + slices.Index(w.sums, top), w.y0 + y}
		}
		if g.Crowding != nil {
			w.fill(g, y, eachHole(g.CellMM/2))
		}
	}
	return at, most, true
}

const (
	crowdSpan  = 4       // half cells in each moving mean
	crowdReach = 2.0     // cells
	mostHoles  = 1 << 22 // in a half cell, so that sums do not overflow
	ownShare   = 0.15    // of what crowds a place; stops with less are not named
)

// counts are the holes of half cells and what is summed up of them row by row. Its
// memory is used again from design to design.
type counts struct {
	x0, y0, x1, y1 int      // the half cells that holes crowd
	holes          []uint8  // by half cell, with crowdPad empty ones before each row and behind the last
	along          []uint32 // for the last crowdRows rows: the holes about each half cell in its row, weighed
	none           []uint32 // a row of zeros
	sums           []uint32 // by column: what is about the half cell in the last row
	step           []uint32 // by column: by how much that is more than in the row before
	top            []uint32 // by cell: the most in the lower half of its row
}

const (
	crowdPad  = 2 * crowdSpan // how far back a sum takes leave of a hole
	crowdRows = 16            // rows of which sums are kept: more than crowdPad, a power of two
)

var countPool = sync.Pool{New: func() any { return new(counts) }}

// zeros are n zeros, in the memory of v if there is room.
func zeros[N uint8 | uint32](v []N, n int) []N {
	v = slices.Grow(v[:0], n)[:n]
	clear(v)
	return v
}

// within finds the half cells that any of the holes on a ground crowds, if there are any.
func (w *counts) within(t *stitches.Track, g *report.Grid, on *ground) bool {
	w.x0, w.y0, w.x1, w.y1 = 0, 0, 2*g.NX, 2*g.NY
	if on == nil {
		return true
	}
	w.x0, w.y0, w.x1, w.y1 = w.x1, w.y1, 0, 0
	half := halfCells(g)
	for i, q := range t.Pts {
		if on.has(i) && isHole(t, i) {
			c := half.of(q)
			w.x0, w.y0, w.x1, w.y1 = min(w.x0, c.x), min(w.y0, c.y), max(w.x1, c.x+1), max(w.y1, c.y+1)
		}
	}
	if w.x0 >= w.x1 {
		return false
	}
	w.x0, w.y0, w.x1, w.y1 = max(0, w.x0-crowdSpan+1), max(0, w.y0-crowdSpan+1), min(2*g.NX, w.x1+crowdSpan-1), min(2*g.NY, w.y1+crowdSpan-1)
	return true
}

// begin readies w for the first row.
func (w *counts) begin() {
	nx := w.x1 - w.x0
	w.none, w.sums, w.step, w.top = zeros(w.none, nx), zeros(w.sums, nx), zeros(w.step, nx), zeros(w.top, (nx+1)/2)
	w.along = slices.Grow(w.along[:0], crowdRows*nx)[:crowdRows*nx]
}

// sumAlong sums up what is about each half cell of a row, in it: holes begins with the
// empty ones before it.
//
// The sum is one of sums: it grows from cell to cell by a step, and that by the hole
// that comes in, less twice the one in the middle, and the one that goes out.
func sumAlong[N uint8 | uint32](out []uint32, holes []N) {
	var sum, step uint32
	come := holes[crowdPad:]
	for _, n := range come[:crowdSpan-1] {
		step += uint32(n)
		sum += step
	}
	come = come[crowdSpan-1:]
	mid, gone := holes[crowdPad-1:], holes[crowdSpan-1:]
	come, mid, gone = come[:len(out)], mid[:len(out)], gone[:len(out)]
	for x := range out {
		step += uint32(come[x]) - 2*uint32(mid[x]) + uint32(gone[x])
		sum += step
		out[x] = sum
	}
}

// take lets a row come in, as sumAlong does with the holes of one, and puts into sums those
// of the row crowdSpan-1 before it: all holes about each half cell, twice summed up over
// crowdSpan half cells along either axis. It gives the largest.
func (w *counts) take(y int) (most uint32) {
	sums := w.sums
	come, mid, gone, step := w.rowOf(y)[:len(sums)], w.rowOf(y - crowdSpan)[:len(sums)], w.rowOf(y - 2*crowdSpan)[:len(sums)], w.step[:len(sums)]
	for x := range sums {
		s := step[x] + come[x] - 2*mid[x] + gone[x]
		step[x] = s
		s += sums[x]
		sums[x] = s
		most = max(most, s)
	}
	return most
}

// rowOf is what is summed up along a row.
func (w *counts) rowOf(y int) []uint32 {
	if y < 0 || y >= w.y1-w.y0 {
		return w.none
	}
	nx := w.x1 - w.x0
	return w.along[y%crowdRows*nx:][:nx]
}

// fill fills in the crowding of the cells of a whole grid once the upper half of their
// row, counted in half cells, has been summed up.
func (w *counts) fill(g *report.Grid, y int, each float64) {
	row := g.Crowding[y/2*g.NX:][:g.NX]
	top, sums := w.top[:len(row)], w.sums[:2*len(row)]
	if y%2 == 0 {
		for x := range top {
			top[x] = max(sums[2*x], sums[2*x+1])
		}
		return
	}
	for x := range row {
		row[x] = float32(float64(max(sums[2*x], sums[2*x+1], top[x])) * each)
	}
}
