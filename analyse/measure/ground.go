package measure

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// GridGrain is the share by which a scale may differ from the one at which a peak of the
// density grid is foretold to reach a figure: where holes or stitches are few, the cells
// fall otherwise at each scale.
const GridGrain = 0.12

// ground is the cells of a grid over the design as it is about which needle holes or
// thread may be too dense at another scale.
type ground struct {
	grid *report.Grid
	cell []bool
	k    float64 // from the pass's places to the grid's
}

// densityOfPart measures what a part asks for of the crowding and the layers of thread.
func (p *Pass) densityOfPart(g *report.Grid) {
	whole := p.from.Report.Density.Grid
	if limit := p.part.Crowding; limit > 0 {
		p.crowding(g, p.dense(whole.Crowding, 0, 2, limit, g.CellMM))
	}
	if limit := p.part.Layers; limit > 0 {
		p.layers(g, p.dense(whole.Layers, 1, 1, limit, g.CellMM))
	}
}

// dense finds the ground where a figure, which the whole pass has for each cell, may be
// past a limit at the scale of p: by its own law it goes with the given power of one
// over the scale. nil is all ground.
func (p *Pass) dense(v []float32, over int, power, limit, cell float64) *ground {
	g := p.from.Report.Density.Grid
	k := p.Scale / p.from.Scale
	if g.CellMM != gridCell || cell != gridCell || k > 1 {
		return nil
	}
	out := &ground{grid: g, cell: make([]bool, len(v)), k: 1 / k}
	least := float32(limit * math.Pow(k/(1+GridGrain), power))
	// What lies about a place lies further from it on the design as it is; its own
	// densest spot there may lie as far off the other way.
	reach := int(math.Ceil(2*crowdReach/k - crowdReach + 1))
	for y := range g.NY {
		for x := range g.NX {
			if i := y*g.NX + x; v[i] == 0 || mean(g, v, x, y, over) < least {
				continue
			}
			for yy := max(0, y-reach); yy <= min(g.NY-1, y+reach); yy++ {
				row := out.cell[yy*g.NX:]
				for xx := max(0, x-reach); xx <= min(g.NX-1, x+reach); xx++ {
					row[xx] = true
				}
			}
		}
	}
	return out
}

// mean is that of a cell and of those up to so many cells from it.
func mean(g *report.Grid, v []float32, x, y, over int) float32 {
	var sum float32
	for yy := max(0, y-over); yy <= min(g.NY-1, y+over); yy++ {
		for xx := max(0, x-over); xx <= min(g.NX-1, x+over); xx++ {
			sum += v[yy*g.NX+xx]
		}
	}
	return sum / float32((2*over+1)*(2*over+1))
}

// has reports whether a place of the pass lies on the ground.
func (w *ground) has(q geom.Point) bool {
	return w == nil || w.cell[cellOf(w.grid, q.Times(w.k))]
}

// crosses reports whether a stitch may lie on the ground: a long one may cross it.
func (w *ground) crosses(a, b geom.Point) bool {
	return w.has(a) || w.has(b) || max(math.Abs(a.X-b.X), math.Abs(a.Y-b.Y)) > 2*gridCell
}
