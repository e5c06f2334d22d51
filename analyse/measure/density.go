package measure

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/stitches"
)

// DensityGrid lays a grid of square cells over the design and works out for each
// the layers of thread (laid thread area over cloth area) and the needle holes per
// mm2. A hole counts once, however often the needle goes into it: triple lines, and
// lines that later stops repeat, cut no new ones. Ties are left out. Layers are means
// over three by three cells, holes are taken as crowding says: it is crowding over
// several mm2 that cuts cloth and breaks needles, and the edge of any satin fills
// single cells.
var DensityGrid = &Step{
	Name:     "density",
	Doc:      "layers of thread and needle penetrations on a grid, with their peaks",
	Requires: []*Step{Sizes},
	Run:      findDensity,
}

const (
	gridCell = 1.0 // mm
	// cellsPerStitch and leastCells bound the grid of a design of absurd extent;
	// its cells grow instead. A real block has one cell to every stitch or two.
	cellsPerStitch = 4
	leastCells     = 1 << 16

	// cellsAcross bounds the cells that its stitches cross, on average: they are 12 mm
	// long at most, and ten times that on a design blown up.
	cellsAcross = 256
)

func findDensity(p *Pass) {
	r, t := p.Report, &p.Sewn.Track
	d := &r.Density
	d.CellMM = gridCell
	if len(t.Pts) == 0 {
		return
	}
	b := geom.BoxOf(t.Pts).Grown(gridCell / 2)
	if p.part == nil || p.Scale > p.from.Scale || p.from.Report.Density.CellMM != gridCell { // it does not grow as a design shrinks
		d.CellMM = cellFor(t, b)
	}
	g := &report.Grid{CellMM: d.CellMM, X: b.Lo.X, Y: b.Lo.Y,
		NX: int(b.Width()/d.CellMM) + 1, NY: int(b.Height()/d.CellMM) + 1}
	d.Grid = g
	if p.part != nil {
		p.densityOfPart(g)
		return
	}

	g.Needles = make([]float32, g.NX*g.NY)
	hole := float32(1 / (g.CellMM * g.CellMM))
	for i, q := range t.Pts {
		if isHole(t, i) {
			g.Needles[cellOf(g, q)] += hole
		}
	}
	p.layers(g, nil)
	p.crowding(g, nil)
	d.CloseNeedles = closeNeedles(t, p.Settings.Limit("crowded-needle-close"))
}

// cellFor is the side of the cells in mm of a grid over a box of stitching.
func cellFor(t *stitches.Track, b geom.Box) float64 {
	cell, most := gridCell, float64(leastCells+cellsPerStitch*len(t.Pts))
	if n := b.Width() * b.Height() / (gridCell * gridCell); n > most {
		cell = gridCell * math.Sqrt(n/most)
	}
	if max(b.Width(), b.Height()) > cellsAcross*cell {
		cell = max(cell, meanStitch(t)/cellsAcross)
	}
	return cell
}

// layers fills in the layers of thread of every cell, and their peak, of the thread
// that lies on a ground.
func (p *Pass) layers(g *report.Grid, on *ground) {
	d, t := &p.Report.Density, &p.Sewn.Track
	g.Layers = make([]float32, g.NX*g.NY)
	laid := float32(p.Settings.LaidWidth() / (g.CellMM * g.CellMM))
	for i := 1; i < len(t.Pts); i++ {
		p.watch.Step(1)
		if t.Joined(i) && on.crosses(i, t.Pts[i-1], t.Pts[i]) {
			alongCells(g, t.Pts[i-1], t.Pts[i], func(cell int, l float64) { g.Layers[cell] += laid * float32(l) })
		}
	}
	at, peak := peakOf(g, g.Layers)
	d.MaxLayers, d.MaxLayersAt = peak, middleOf(g, at).Place()
	if p.part != nil && peak <= p.part.Layers {
		return
	}
	d.MaxLayersStops = stopsAround(p, middleOf(g, at), 1.5*g.CellMM, func(i int) float64 {
		if i == 0 || !t.Joined(i) {
			return 0
		}
		return geom.Distance(t.Pts[i-1], t.Pts[i])
	})
}

// crowding fills in the crowding of every cell, and its peak, of the holes that lie on a
// ground.
func (p *Pass) crowding(g *report.Grid, on *ground) {
	d, t := &p.Report.Density, &p.Sewn.Track
	if on == nil {
		g.Crowding = make([]float32, g.NX*g.NY)
	}
	q, peak := crowding(t, g, on)
	d.MaxPenetrations, d.MaxPenetAt = peak, q.Place()
	if p.part != nil && peak <= p.part.Crowding {
		return
	}
	d.MaxPenetStops = stopsAround(p, q, crowdReach*g.CellMM, func(i int) float64 {
		if !isHole(t, i) {
			return 0
		}
		return 1
	})
}

// meanStitch is the mean length in mm of the stitches that are sewn on.
func meanStitch(t *stitches.Track) float64 {
	var l float64
	for i := 1; i < len(t.Pts); i++ {
		if t.Joined(i) {
			l += geom.Distance(t.Pts[i-1], t.Pts[i])
		}
	}
	return l / float64(len(t.Pts))
}

// isHole reports whether a penetration makes a hole that counts.
func isHole(t *stitches.Track, i int) bool { return t.Kind[i] != report.KindTie && !t.Again[i] }

func cellOf(g *report.Grid, q geom.Point) int {
	x, y := columnRow(g, q)
	return y*g.NX + x
}

// columnRow are the column and the row of the cell of a place.
func columnRow(g *report.Grid, q geom.Point) (x, y int) {
	return min(int((q.X-g.X)/g.CellMM), g.NX-1), min(int((q.Y-g.Y)/g.CellMM), g.NY-1)
}

// middleOf is the middle of a cell.
func middleOf(g *report.Grid, cell int) geom.Point {
	return geom.Point{X: g.X + (float64(cell%g.NX)+0.5)*g.CellMM, Y: g.Y + (float64(cell/g.NX)+0.5)*g.CellMM}
}

// alongCells calls f for every cell that the line from a to b crosses, with the
// length in it, walking from border to border.
func alongCells(g *report.Grid, a, b geom.Point, f func(cell int, l float64)) {
	x, y := columnRow(g, a)
	ex, ey := columnRow(g, b)
	v := b.Sub(a)
	l := v.Norm()
	if x == ex && y == ey {
		f(y*g.NX+x, l)
		return
	}
	sx, tx, dx := walk(a.X-g.X, v.X, g.CellMM, x)
	sy, ty, dy := walk(a.Y-g.Y, v.Y, g.CellMM, y)
	var done float64
	for n := max(ex-x, x-ex) + max(ey-y, y-ey); n > 0; n-- {
		next := min(tx, ty, 1)
		f(y*g.NX+x, (next-done)*l)
		done = next
		if tx < ty {
			x += sx
			tx += dx
		} else {
			y += sy
			ty += dy
		}
		x, y = max(0, min(x, g.NX-1)), max(0, min(y, g.NY-1))
	}
	f(y*g.NX+x, (1-done)*l)
}

// walk prepares one axis of along: the direction of steps, the share of the line
// up to the first border, and that from border to border.
func walk(from, v, cell float64, i int) (step int, first, each float64) {
	switch {
	case v > 0:
		return 1, (float64(i+1)*cell - from) / v, cell / v
	case v < 0:
		return -1, (float64(i)*cell - from) / v, -cell / v
	}
	return 0, math.Inf(1), math.Inf(1)
}

// peakOf is the cell in the middle of the block of three by three with the
// highest mean, and that mean.
func peakOf(g *report.Grid, v []float32) (cell int, mean float64) {
	n := float32(0)
	for y := range g.NY {
		for x := range g.NX {
			i := y*g.NX + x
			if v[i] == 0 {
				continue
			}
			if sum := sumAbout(g, v, x, y); sum > n {
				n, cell = sum, i
			}
		}
	}
	return cell, float64(n) / 9
}

// sumAbout sums up the block of three by three about a cell.
func sumAbout(g *report.Grid, v []float32, x, y int) (sum float32) {
	for yy := max(0, y-1); yy <= min(g.NY-1, y+1); yy++ {
		for xx := max(0, x-1); xx <= min(g.NX-1, x+1); xx++ {
			sum += v[yy*g.NX+xx]
		}
	}
	return sum
}

// stopsAround lists the stops that make a good share of what lies within reach of a
// place, along either axis; weigh tells how much each needle point makes of it.
func stopsAround(p *Pass, c geom.Point, reach float64, weigh func(i int) float64) []int {
	b := geom.Box{Lo: c, Hi: c}.Grown(reach)
	by := make([]float64, len(p.Report.Stops))
	var all float64
	for _, s := range p.Sewn.Track.Segs {
		for i := s.First; i < s.Last; i++ {
			q := p.Sewn.Track.Pts[i]
			if q.X >= b.Lo.X && q.X <= b.Hi.X && q.Y >= b.Lo.Y && q.Y <= b.Hi.Y {
				w := weigh(i)
				by[s.Stop] += w
				all += w
			}
		}
	}
	out := []int{}
	for i, w := range by {
		if w > 0 && w >= ownShare*all {
			out = append(out, i+1)
		}
	}
	return out
}

// closeNeedles counts the penetrations nearer than limit to the one before in
// the same line of stitching, ties apart.
func closeNeedles(t *stitches.Track, limit float64) int {
	n := 0
	for i := 1; i < len(t.Pts); i++ {
		if t.Kind[i] != report.KindTie && t.Joined(i) && geom.Distance(t.Pts[i-1], t.Pts[i]) < limit {
			n++
		}
	}
	return n
}
