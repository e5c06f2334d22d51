package measure

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/stitches"
)

// DensityGrid lays a grid of square cells over the design and works out for each
// the layers of thread (laid thread area over cloth area) and the needle
// penetrations per mm2, without those of ties, which go back into their own
// holes. Peaks are taken over blocks of three by three cells:
// it is crowding over several mm2 that cuts cloth and breaks needles, and the
// edge of any satin fills single cells.
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
)

func findDensity(p *Pass) {
	r, t := p.Report, &p.Sewn.Track
	d := &r.Density
	d.CellMM = gridCell
	if len(t.Pts) == 0 {
		return
	}
	b := geom.BoxOf(t.Pts).Grown(gridCell / 2)
	most := float64(leastCells + cellsPerStitch*len(t.Pts))
	if n := b.Width() * b.Height() / (gridCell * gridCell); n > most {
		d.CellMM = gridCell * math.Sqrt(n/most)
	}
	g := &report.Grid{CellMM: d.CellMM, X: b.Lo.X, Y: b.Lo.Y,
		NX: int(b.Width()/d.CellMM) + 1, NY: int(b.Height()/d.CellMM) + 1}
	g.Layers, g.Needles = make([]float32, g.NX*g.NY), make([]float32, g.NX*g.NY)
	d.Grid = g

	area := g.CellMM * g.CellMM
	laid := float32(p.Settings.LaidWidth() / area)
	hole := float32(1 / area)
	for i, q := range t.Pts {
		p.watch.Step(1)
		if t.Kind[i] != report.KindTie {
			g.Needles[cellOf(g, q)] += hole
		}
		if i > 0 && t.Joined(i) {
			alongCells(g, t.Pts[i-1], q, func(cell int, l float64) { g.Layers[cell] += laid * float32(l) })
		}
	}

	at, peak := peakOf(g, g.Layers)
	d.MaxLayers, d.MaxLayersAt = peak, middleOf(g, at).Place()
	d.MaxLayersStops = stopsAround(p, middleOf(g, at), 1.5*g.CellMM)
	q, peak := crowding(t, g)
	d.MaxPenetrations, d.MaxPenetAt = peak, q.Place()
	d.MaxPenetStops = stopsAround(p, q, 1.5*g.CellMM)
	d.CloseNeedles = closeNeedles(t, p.Settings.Limit("crowded-needle-close"))
}

func cellOf(g *report.Grid, q geom.Point) int {
	x, y := int((q.X-g.X)/g.CellMM), int((q.Y-g.Y)/g.CellMM)
	return min(y, g.NY-1)*g.NX + min(x, g.NX-1)
}

// middleOf is the middle of a cell.
func middleOf(g *report.Grid, cell int) geom.Point {
	return geom.Point{X: g.X + (float64(cell%g.NX)+0.5)*g.CellMM, Y: g.Y + (float64(cell/g.NX)+0.5)*g.CellMM}
}

// alongCells calls f for every cell that the line from a to b crosses, with the
// length in it, walking from border to border.
func alongCells(g *report.Grid, a, b geom.Point, f func(cell int, l float64)) {
	first, last := cellOf(g, a), cellOf(g, b)
	v := b.Sub(a)
	l := v.Norm()
	if first == last {
		f(first, l)
		return
	}
	x, y := first%g.NX, first/g.NX
	ex, ey := last%g.NX, last/g.NX
	sx, tx, dx := walk(a.X-g.X, v.X, g.CellMM, x)
	sy, ty, dy := walk(a.Y-g.Y, v.Y, g.CellMM, y)
	var done float64
	for n := math.Abs(float64(ex-x)) + math.Abs(float64(ey-y)); n > 0; n-- {
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
			var sum float32
			for yy := max(0, y-1); yy <= min(g.NY-1, y+1); yy++ {
				for xx := max(0, x-1); xx <= min(g.NX-1, x+1); xx++ {
					sum += v[yy*g.NX+xx]
				}
			}
			if sum > n {
				n, cell = sum, i
			}
		}
	}
	return cell, float64(n) / 9
}

// crowding is the place where penetrations, ties apart, crowd most and how many
// there are to the mm2: in a square of three by three cells moved about in steps
// of half a cell, so that it matters little how the design lies on the grid.
func crowding(t *stitches.Track, g *report.Grid) (geom.Point, float64) {
	const across = 6 // half cells
	nx, ny := 2*g.NX, 2*g.NY
	half := g.CellMM / 2
	count := make([]uint16, nx*ny)
	for i, q := range t.Pts {
		if t.Kind[i] != report.KindTie {
			x, y := min(int((q.X-g.X)/half), nx-1), min(int((q.Y-g.Y)/half), ny-1)
			if k := y*nx + x; count[k] < math.MaxUint16 {
				count[k]++
			}
		}
	}
	// column[x] counts the half cells of a column in the rows of the square.
	column := make([]int32, nx)
	most, mx, my := int32(0), 0, 0
	for y := range ny {
		for x := range nx {
			column[x] += int32(count[y*nx+x])
			if y >= across {
				column[x] -= int32(count[(y-across)*nx+x])
			}
		}
		var sum int32
		for x := range nx {
			sum += column[x]
			if x >= across {
				sum -= column[x-across]
			}
			if sum > most {
				most, mx, my = sum, x, y
			}
		}
	}
	at := geom.Point{X: g.X + (float64(mx+1)-across/2)*half, Y: g.Y + (float64(my+1)-across/2)*half}
	return at, float64(most) / (across * across * half * half)
}

// stopsAround lists the stops that sew within reach of a place, along either axis.
func stopsAround(p *Pass, c geom.Point, reach float64) []int {
	b := geom.Box{Lo: c, Hi: c}.Grown(reach)
	out := []int{}
	for _, s := range p.Sewn.Track.Segs {
		if slices.Contains(out, s.Stop+1) {
			continue
		}
		for i := s.First; i < s.Last; i++ {
			q := p.Sewn.Track.Pts[i]
			if q.X >= b.Lo.X && q.X <= b.Hi.X && q.Y >= b.Lo.Y && q.Y <= b.Hi.Y {
				out = append(out, s.Stop+1)
				break
			}
		}
	}
	slices.Sort(out)
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
