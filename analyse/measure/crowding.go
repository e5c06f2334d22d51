package measure

import (
	"slices"
	"sync"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/stitches"
)

// crowding gives the place where a ground is crowded most and how much it is there, in
// holes to the mm2.
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
	var at cellPlace
	var most uint32
	if w.count(t, g, on) {
		at, most = w.peak()
	} else {
		sums := w.wideSums(t, g, on)
		most = slices.Max(sums)
		i := slices.Index(sums, most)
		at = cellPlace{i % (w.x1 - w.x0), i / (w.x1 - w.x0)}
	}
	half := g.CellMM / 2
	return geom.Point{X: g.X + (float64(w.x0+at.x)+0.5)*half, Y: g.Y + (float64(w.y0+at.y)+0.5)*half}, float64(most) * eachHole(half)
}

// crowdingGrid is the crowding of every cell: the most in it.
func crowdingGrid(t *stitches.Track, g *report.Grid) []float32 {
	w := countPool.Get().(*counts)
	defer countPool.Put(w)
	out, each := make([]float32, g.NX*g.NY), eachHole(g.CellMM/2)
	fill := func(x, y int, sum uint32) {
		cell := &out[y/2*g.NX+x/2]
		*cell = max(*cell, float32(float64(sum)*each))
	}
	w.within(t, g, nil)
	if w.count(t, g, nil) {
		w.eachRow(func(y int) {
			for x := range 2 * g.NX {
				fill(x, y, uint32(w.sums[x/laneCount]>>(x%laneCount*laneBits))&laneMost)
			}
		})
		return out
	}
	for i, sum := range w.wideSums(t, g, nil) {
		fill(i%(2*g.NX), i/(2*g.NX), sum)
	}
	return out
}

// eachHole is how much one hole weighs in a sum, in holes to the mm2.
func eachHole(half float64) float64 {
	return 1 / (crowdSpan * crowdSpan * crowdSpan * crowdSpan * half * half)
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
	x0, y0, x1, y1 int     // the half cells that holes crowd
	holes          []uint8 // by half cell, with holePad empty ones before each row and behind the last
	crowdLanes
}

var countPool = sync.Pool{New: func() any { return new(counts) }}

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

// count counts the holes of half cells. It gives false where a byte is too narrow for that.
func (w *counts) count(t *stitches.Track, g *report.Grid, on *ground) bool {
	w.begin(w.x1-w.x0, w.y1-w.y0)
	row := laneCount*w.words + holePad
	w.holes = zeros(w.holes, row*w.rows+2*holePad)
	holes, half := w.holes[holePad:], halfCells(g)
	for i, q := range t.Pts {
		if on.has(i) && isHole(t, i) {
			c := half.of(q)
			n := &holes[(c.y-w.y0)*row+c.x-w.x0]
			if *n++; *n == 0 {
				return false
			}
		}
	}
	return true
}

// wideSums are the sums of all half cells, row by row, however many holes one has: hardly
// any design has more of them than a byte counts.
func (w *counts) wideSums(t *stitches.Track, g *report.Grid, on *ground) []uint32 {
	nx, ny := w.x1-w.x0, w.y1-w.y0
	holes, along, sums := make([]uint32, nx*ny), make([]uint32, nx*ny), make([]uint32, nx*ny)
	half := halfCells(g)
	for i, q := range t.Pts {
		if on.has(i) && isHole(t, i) {
			c := half.of(q)
			n := &holes[(c.y-w.y0)*nx+c.x-w.x0]
			*n = min(*n+1, mostHoles)
		}
	}
	const reach = crowdSpan - 1
	weight := func(d int) uint32 { return uint32(crowdSpan - max(d, -d)) }
	for y := range ny {
		for x := range nx {
			for d := max(-reach, -x); d <= min(reach, nx-1-x); d++ {
				along[y*nx+x] += weight(d) * holes[y*nx+x+d]
			}
		}
	}
	for y := range ny {
		for d := max(-reach, -y); d <= min(reach, ny-1-y); d++ {
			for x := range nx {
				sums[y*nx+x] += weight(d) * along[(y+d)*nx+x]
			}
		}
	}
	return sums
}
