package measure

import (
	"math"
	"sync"

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
	b := p.sewnBox().Grown(gridCell / 2)
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
	w := laying{cellFinder: cells(g), cell: g.CellMM, nx: g.NX, laid: float32(p.Settings.LaidWidth() / (g.CellMM * g.CellMM)), layers: g.Layers}
	for _, s := range t.Segs {
		p.watch.Step(s.Last - s.First)
		from := w.of(t.Pts[s.First])
		for i := s.First + 1; i < s.Last; i++ {
			to := w.of(t.Pts[i])
			if on.crosses(i, t.Pts[i-1], t.Pts[i]) { // else no thread leads here that matters
				w.lay(t.Pts[i-1], t.Pts[i], from, to)
			}
			from = to
		}
	}
	at, peak := peakOf(g, g.Layers)
	d.MaxLayers, d.MaxLayersAt = peak, middleOf(g, at).Place()
	if p.part != nil && peak <= p.part.Layers {
		return
	}
	d.MaxLayersStops = p.LayerStops(middleOf(g, at))
}

// LayerStops lists the stops that make a good share of the layers about a place.
func (p *Pass) LayerStops(at geom.Point) []int {
	t := &p.Sewn.Track
	return stopsAround(p, at, 1.5*p.Report.Density.CellMM, func(i int) float64 {
		if i == 0 || !t.Joined(i) {
			return 0
		}
		return geom.Distance(t.Pts[i-1], t.Pts[i])
	})
}

// crowding fills in the peak of crowding, of the holes that lie on a ground. That of every
// cell is worked out when it is asked for.
func (p *Pass) crowding(g *report.Grid, on *ground) {
	d, t := &p.Report.Density, &p.Sewn.Track
	if on == nil {
		g.Crowding = sync.OnceValue(func() []float32 { return crowdingGrid(t, g) })
	}
	q, peak := crowding(t, g, on)
	d.MaxPenetrations, d.MaxPenetAt = peak, q.Place()
	if p.part != nil && peak <= p.part.Crowding {
		return
	}
	d.MaxPenetStops = p.HoleStops(q)
}

// HoleStops lists the stops that make a good share of the needle holes about a place.
func (p *Pass) HoleStops(at geom.Point) []int {
	t := &p.Sewn.Track
	return stopsAround(p, at, crowdReach*p.Report.Density.CellMM, func(i int) float64 {
		if !isHole(t, i) {
			return 0
		}
		return 1
	})
}

// CrowdingAbout is for each cell of the density grid the most crowding in it, in holes to the
// mm2, of all holes, whatever a part asks for.
func (p *Pass) CrowdingAbout() []float32 {
	g := p.Report.Density.Grid
	if g.Crowding != nil {
		return g.Crowding()
	}
	return crowdingGrid(&p.Sewn.Track, g)
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
func isHole(t *stitches.Track, i int) bool { return t.Kind[i] != report.KindTie && !t.Again(i) }

// middleOf is the middle of a cell.
func middleOf(g *report.Grid, cell int) geom.Point {
	return geom.Point{X: g.X + (float64(cell%g.NX)+0.5)*g.CellMM, Y: g.Y + (float64(cell/g.NX)+0.5)*g.CellMM}
}

// stopsAround lists the stops that make a good share of what lies within reach of a
// place, along either axis; weigh tells how much each needle point makes of it.
func stopsAround(p *Pass, c geom.Point, reach float64, weigh func(i int) float64) []int {
	b := geom.Box{Lo: c, Hi: c}.Grown(reach)
	by := make([]float64, len(p.Report.Stops))
	near := 0
	for i := range p.Sewn.Stops {
		if boundsOf(&p.Sewn.Stops[i]).Meets(b) {
			by[i] = -1 // it is to be looked at
			near++
		}
	}
	var all float64
	for _, s := range p.Sewn.Track.Segs {
		if by[s.Stop] == 0 {
			continue
		}
		for i, q := range p.Sewn.Track.Pts[s.First:s.Last] {
			if b.Holds(q) {
				if w := weigh(s.First + i); w > 0 {
					if near == 1 {
						return []int{s.Stop + 1} // no other makes any of it
					}
					by[s.Stop] = max(0, by[s.Stop]) + w
					all += w
				}
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
	near := limit * limit * (1 + 1e-9) // few are, and roots are taken of those only
	for _, s := range t.Segs {
		pts, kinds := t.Pts[s.First:s.Last], t.Kind[s.First:s.Last]
		for i := 1; i < len(pts); i++ {
			if v := pts[i].Sub(pts[i-1]); v.Dot(v) <= near && kinds[i] != report.KindTie && v.Norm() < limit {
				n++
			}
		}
	}
	return n
}

// sewnBox is the box around all needle points.
func (p *Pass) sewnBox() geom.Box {
	var b geom.Box
	for i := range p.Sewn.Stops {
		if s := boundsOf(&p.Sewn.Stops[i]); i > 0 {
			b = b.With(s)
		} else {
			b = s
		}
	}
	return b
}

// boundsOf is the box around the needle points of a stop.
func boundsOf(s *report.Stop) geom.Box {
	b := s.BoundsMM
	return geom.Box{Lo: geom.Point{X: b[0], Y: b[1]}, Hi: geom.Point{X: b[2], Y: b[3]}}
}
