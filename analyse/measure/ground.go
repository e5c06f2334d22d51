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
	cell []bool
	of   []int32 // by needle point: its cell
}

// densityOfPart measures what a part asks for of the crowding and the layers of thread.
func (p *Pass) densityOfPart(g *report.Grid) {
	whole := p.from.Report.Density.Grid
	if limit := p.part.Crowding; limit > 0 {
		p.crowding(g, p.dense(whole.Crowding(), 2, limit, g.CellMM))
	}
	if limit := p.part.Layers; limit > 0 {
		p.layers(g, p.dense(p.from.LayersAbout(), 1, limit, g.CellMM))
	}
}

// dense finds the ground where a figure, which the whole pass has for each cell, may be
// past a limit at the scale of p or further down: by its own law it goes with the given
// power of one over the scale. nil is all ground.
func (p *Pass) dense(v []float32, power, limit, cell float64) *ground {
	g := p.from.Report.Density.Grid
	k := p.Scale / p.from.Scale
	if g.CellMM != gridCell || cell != gridCell || k > 1 {
		return nil
	}
	if p.from.cellOf == nil {
		p.from.cellOf = make([]int32, len(p.from.Sewn.Track.Pts))
		for i, q := range p.from.Sewn.Track.Pts {
			p.from.cellOf[i] = int32(cellOf(g, q))
		}
	}
	out := &ground{make([]bool, len(v)), p.from.cellOf}
	down := k
	if p.part.Down > 0 {
		down = min(k, p.part.Down/p.from.Scale)
	}
	least := float32(limit * math.Pow(down/(1+GridGrain), power))
	// What lies about a place lies further from it on the design as it is; its own
	// densest spot there may lie as far off the other way.
	reach := int(math.Ceil(2*crowdReach/k - crowdReach + 1))
	for y := range g.NY {
		for x := range g.NX {
			if i := y*g.NX + x; v[i] == 0 || v[i] < least {
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

// LayersAbout are for each cell of the density grid with thread the mean layers of three by
// three, of which the peak is taken; of a part, where it looks at. They are worked out when
// they are first asked for.
func (p *Pass) LayersAbout() []float32 {
	if p.about != nil {
		return p.about
	}
	g := p.Report.Density.Grid
	p.about = make([]float32, len(g.Layers))
	for y := range g.NY {
		for x := range g.NX {
			if i := y*g.NX + x; g.Layers[i] > 0 {
				p.about[i] = sumAbout(g, g.Layers, x, y) / 9
			}
		}
	}
	return p.about
}

// has reports whether a needle point lies on the ground.
func (w *ground) has(i int) bool { return w == nil || w.cell[w.of[i]] }

// crosses reports whether a stitch from a to b, which ends at point i, may lie on the
// ground: a long one may cross it.
func (w *ground) crosses(i int, a, b geom.Point) bool {
	return w == nil || w.has(i-1) || w.has(i) || max(math.Abs(a.X-b.X), math.Abs(a.Y-b.Y)) > 2*gridCell
}
