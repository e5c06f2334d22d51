package measure

import (
	"slices"
	"sync"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/stitches"
)

// crowding fills in the crowding of every cell, and gives the place where it is worst
// and how much it is there, in holes to the mm2. For all of a design it fills in the
// needle holes of the cells as well.
//
// It is the number of holes about a place over the area about it, holes near to it
// counting more: their weight falls evenly to nothing crowdReach cells away along
// either axis, twice a moving mean over four half cells. So much of it lies within 3 x
// 3 mm as within a square of that size, but holes in regular rows, as all stitching
// has, are told to a percent or two, where a square would catch a row more or less.
func crowding(t *stitches.Track, g *report.Grid, on *ground) (geom.Point, float64) {
	half := g.CellMM / 2
	cell := func(q geom.Point) (x, y int) {
		return min(int((q.X-g.X)/half), 2*g.NX-1), min(int((q.Y-g.Y)/half), 2*g.NY-1)
	}
	// The half cells that any of the holes crowds.
	x0, y0, x1, y1 := 0, 0, 2*g.NX, 2*g.NY
	if on != nil {
		x0, y0, x1, y1 = x1, y1, 0, 0
		for i, q := range t.Pts {
			if on.has(i) && isHole(t, i) {
				x, y := cell(q)
				x0, y0, x1, y1 = min(x0, x), min(y0, y), max(x1, x+1), max(y1, y+1)
			}
		}
		if x0 >= x1 {
			return geom.Point{}, 0
		}
		x0, y0, x1, y1 = max(0, x0-crowdSpan+1), max(0, y0-crowdSpan+1), min(2*g.NX, x1+crowdSpan-1), min(2*g.NY, y1+crowdSpan-1)
	}
	w := countPool.Get().(*counts)
	defer countPool.Put(w)
	w.begin(x1-x0, y1-y0)
	for i, q := range t.Pts {
		if on.has(i) && isHole(t, i) {
			x, y := cell(q)
			if n := w.at(x-x0, y-y0); *n < mostHoles {
				*n++
			}
		}
	}
	if on == nil {
		w.needles(g)
	}
	w.sum()
	var each float64 = 1 / (crowdSpan * crowdSpan * crowdSpan * crowdSpan * half * half)
	most, mx, my := uint32(0), 0, 0
	for y := y0; y < y1; y++ {
		if top := w.next(); top > most {
			most, mx, my = top, x0+slices.Index(w.sums, top), y
		}
		if g.Crowding != nil {
			w.fill(g, y, each)
		}
	}
	return geom.Point{X: g.X + (float64(mx)+0.5)*half, Y: g.Y + (float64(my)+0.5)*half}, float64(most) * each
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
	nx, ny int
	row    int      // that is next
	holes  []uint32 // by half cell, with crowdPad empty ones before each row and behind the last
	along  []uint32 // by half cell: the holes about it in its row, weighed
	none   []uint32 // a row of zeros
	sums   []uint32 // by column: what is about the half cell in the last row
	step   []uint32 // by column: by how much that is more than in the row before
	top    []uint32 // by cell: the most in the lower half of its row
}

// crowdPad is how far back a sum takes leave of a hole.
const crowdPad = 2 * crowdSpan

var countPool = sync.Pool{New: func() any { return new(counts) }}

// begin readies w for so many half cells, all without holes.
func (w *counts) begin(nx, ny int) {
	w.nx, w.ny, w.row = nx, ny, 0
	zero := func(v []uint32, n int) []uint32 {
		v = slices.Grow(v[:0], n)[:n]
		clear(v)
		return v
	}
	w.holes = zero(w.holes, (nx+crowdPad)*ny+crowdPad)
	w.none, w.sums, w.step, w.top = zero(w.none, nx), zero(w.sums, nx), zero(w.step, nx), zero(w.top, nx/2)
	w.along = slices.Grow(w.along[:0], nx*ny)[:nx*ny]
}

// sum readies w for next, when all holes are counted.
func (w *counts) sum() {
	for y := range w.ny {
		w.sumAlong(y)
	}
	for y := range crowdSpan - 1 {
		w.take(y)
	}
}

// at is the number of holes of a half cell.
func (w *counts) at(x, y int) *uint32 { return &w.holes[y*(w.nx+crowdPad)+crowdPad+x] }

// sumAlong sums up what is about each half cell of a row, in it.
//
// The sum is one of sums: it grows from cell to cell by a step, and that by the hole
// that comes in, less twice the one in the middle, and the one that goes out.
func (w *counts) sumAlong(y int) {
	var sum, step uint32
	holes := w.holes[y*(w.nx+crowdPad):]
	come := holes[crowdPad:]
	for _, n := range come[:crowdSpan-1] {
		step += n
		sum += step
	}
	come = come[crowdSpan-1:]
	mid, gone := holes[crowdPad-1:], holes[crowdSpan-1:]
	out := w.along[y*w.nx:][:w.nx]
	come, mid, gone = come[:len(out)], mid[:len(out)], gone[:len(out)]
	for x := range out {
		step += come[x] - 2*mid[x] + gone[x]
		sum += step
		out[x] = sum
	}
}

// next puts into sums those of the next row, all holes about each half cell, twice
// summed up over crowdSpan half cells along either axis, and gives the largest.
func (w *counts) next() uint32 {
	w.row++
	return w.take(w.row + crowdSpan - 2)
}

// take lets a row come in, as sumAlong does with the holes of one.
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

func (w *counts) rowOf(y int) []uint32 {
	if y < 0 || y >= w.ny {
		return w.none
	}
	return w.along[y*w.nx:][:w.nx]
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

// needles fills in the needle holes of each cell of a whole grid out of those of its
// halves.
func (w *counts) needles(g *report.Grid) {
	g.Needles = make([]float32, g.NX*g.NY)
	hole := float32(1 / (g.CellMM * g.CellMM))
	for y := range g.NY {
		row := g.Needles[y*g.NX:][:g.NX]
		lower, upper := w.holes[2*y*(w.nx+crowdPad)+crowdPad:][:2*len(row)], w.holes[(2*y+1)*(w.nx+crowdPad)+crowdPad:][:2*len(row)]
		for x := range row {
			row[x] = hole * float32(lower[2*x]+lower[2*x+1]+upper[2*x]+upper[2*x+1])
		}
	}
}
