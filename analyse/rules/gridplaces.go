package rules

import (
	"sort"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// gridPlace is cells of the density grid that are past a figure and hang together.
type gridPlace struct {
	value  float64    // the most in any of them
	at     geom.Point // the middle of that one, at the scale of the pass
	cells  int
	across float64 // mm from side to side, or from top to bottom, of the middles of its cells
}

// placesPast are the places of a grid past a figure, the worst first; v has the grid's
// values, row by row.
func placesPast(g *report.Grid, v []float32, figure float64) (out []gridPlace) {
	seen := make([]bool, len(v))
	var of []int
	for i := range v {
		if seen[i] || float64(v[i]) <= figure {
			continue
		}
		seen[i] = true
		of = append(of[:0], i)
		worst, x0, x1, y0, y1 := i, i%g.NX, i%g.NX, i/g.NX, i/g.NX
		for k := 0; k < len(of); k++ {
			x, y := of[k]%g.NX, of[k]/g.NX
			x0, x1, y0, y1 = min(x0, x), max(x1, x), min(y0, y), max(y1, y)
			if v[of[k]] > v[worst] {
				worst = of[k]
			}
			for yy := max(0, y-1); yy <= min(g.NY-1, y+1); yy++ {
				for xx := max(0, x-1); xx <= min(g.NX-1, x+1); xx++ {
					if j := yy*g.NX + xx; !seen[j] && float64(v[j]) > figure {
						seen[j], of = true, append(of, j)
					}
				}
			}
		}
		out = append(out, gridPlace{float64(v[worst]), middleOf(g, worst), len(of), float64(max(x1-x0, y1-y0)) * g.CellMM})
	}
	sort.SliceStable(out, func(i, j int) bool { return out[j].value < out[i].value })
	return out
}

func middleOf(g *report.Grid, cell int) geom.Point {
	return geom.Point{X: g.X + (float64(cell%g.NX)+0.5)*g.CellMM, Y: g.Y + (float64(cell/g.NX)+0.5)*g.CellMM}
}
