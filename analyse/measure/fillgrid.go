package measure

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
)

// fillGrid finds how far apart the rows of a fill lie, cell by cell. It may be used
// again, which saves memory.
type fillGrid struct {
	length []float64 // mm of thread in each cell
	own    []float64
}

// mostFillCells is how many cells there may be for each stitch of a fill: a real one
// has three stitches in a cell, and what is spread a hundred times thinner is none.
const mostFillCells = 64

// rows gives the spacing of the rows in each cell that the fill lies all over. It is
// good until rows is called again.
func (g *fillGrid) rows(pts []geom.Point) []float64 {
	box := geom.BoxOf(pts)
	at := func(v float64) float64 { return math.Floor(v / fillCell) }
	// A rim of empty cells, so that each has eight neighbours.
	x0, y0 := at(box.Lo.X)-1, at(box.Lo.Y)-1
	w, h := at(box.Hi.X)-x0+2, at(box.Hi.Y)-y0+2
	if w*h > float64(mostFillCells*(len(pts)+fillCellsLeast)) {
		return nil
	}
	nx, n := int(w), int(w)*int(h)
	if cap(g.length) < n {
		g.length = make([]float64, n)
	}
	g.length = g.length[:n]
	clear(g.length)
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		l := geom.Distance(a, b)
		n := min(int(l/fillStep)+1, 64) // a stitch is 12 mm at most; longer is a damaged file
		part := l / float64(n)
		for k := range n {
			q := geom.Lerp(a, b, (float64(k)+0.5)/float64(n))
			g.length[int(at(q.Y)-y0)*nx+int(at(q.X)-x0)] += part
		}
	}
	g.own = g.own[:0]
	for k := nx + 1; k+nx+1 < len(g.length); k++ {
		if l := g.length[k]; l > 0 && g.inner(k, nx) {
			g.own = append(g.own, fillCell*fillCell/l)
		}
	}
	return g.own
}

const fillCellsLeast = 64 // cells however few stitches a fill has

// inner reports whether there is thread in all eight cells about one.
func (g *fillGrid) inner(k, nx int) bool {
	for _, row := range [3]int{k - nx, k, k + nx} {
		if g.length[row-1] == 0 || g.length[row] == 0 || g.length[row+1] == 0 {
			return false
		}
	}
	return true
}
