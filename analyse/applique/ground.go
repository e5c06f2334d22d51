package applique

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
)

// ground tells which traces run near a place: a grid of cells, each with the traces that
// have a point in it, in sewing order.
type ground struct {
	lo     geom.Point
	per    float64 // 1 over the side of a cell
	nx, ny int
	start  []int32 // by cell: where its list begins, and the end of the last
	trace  []int32

	turn      int32   // the last search
	seenCell  []int32 // by cell: the last search that looked there
	seenTrace []int32 // by trace: the last search that met it
	near      []int32 // what it found
}

// mostInCell bounds the traces that are looked at in one cell: so many run through a few
// mm of no cloth, and a file that claims so must not stall us.
const mostInCell = 256

// newGround lays the grid over traces that lie in a box. A line that goes on in its cell
// has one entry there.
func newGround(traces []Trace, all geom.Box) ground {
	points := 0
	for i := range traces {
		points += len(traces[i].Line)
	}
	g := ground{lo: all.Lo, seenTrace: make([]int32, len(traces))}
	// The cells are as many as a few for each point, whatever the extent.
	size, most := FollowWithin, float64(256+4*points)
	if want := (all.Width()/size + 1) * (all.Height()/size + 1); want > most {
		size = max(size*math.Sqrt(want/most), max(all.Width(), all.Height())/most)
	}
	g.per, g.nx, g.ny = 1/size, int(all.Width()/size)+1, int(all.Height()/size)+1
	cells := g.nx * g.ny
	marks := make([]int32, 2*cells+1)
	g.start, g.seenCell = marks[:cells+1:cells+1], marks[cells+1:]
	type entry struct{ cell, trace int32 }
	entries := make([]entry, 0, points/4+2*len(traces)) // mostly enough
	for i := range traces {
		last := int32(-1)
		for _, q := range traces[i].Line {
			if cell := int32(within((q.Y-g.lo.Y)*g.per, g.ny)*g.nx + within((q.X-g.lo.X)*g.per, g.nx)); cell != last {
				last = cell
				entries = append(entries, entry{cell, int32(i)})
				g.start[cell]++
			}
		}
	}
	// Lists are counted, and then filled from their ends.
	sum := int32(0)
	for i, n := range g.start {
		sum += n
		g.start[i] = sum
	}
	g.trace = make([]int32, sum)
	for _, e := range slices.Backward(entries) {
		g.start[e.cell]--
		g.trace[g.start[e.cell]] = e.trace
	}
	return g
}

// within is the column or the row of n that a place lies in, or the nearest to it.
func within(k float64, n int) int {
	switch {
	case !(k > 0):
		return 0
	case k >= float64(n):
		return n - 1
	}
	return int(k)
}

// tracesNear lists the traces from one to before another that may come within reach of a
// line, in sewing order. The list holds until it is asked again.
func (p *finder) tracesNear(line []geom.Point, reach float64, from, to int32) []int32 {
	g := &p.ground
	g.near = g.near[:0]
	if from >= to {
		return nil
	}
	g.turn++
	x0, y0, x1, y1, r := -1, -1, -1, -1, reach*g.per
	step := max(2, len(line)/maskBits) // points are 1 mm apart at most
	for i := 0; i < len(line); i += step {
		x, y := (line[i].X-g.lo.X)*g.per, (line[i].Y-g.lo.Y)*g.per
		a, b, c, d := within(x-r, g.nx), within(y-r, g.ny), within(x+r, g.nx), within(y+r, g.ny)
		if a == x0 && b == y0 && c == x1 && d == y1 {
			continue // as from the place before
		}
		x0, y0, x1, y1 = a, b, c, d
		for y := y0; y <= y1; y++ {
			for cell := y*g.nx + x0; cell <= y*g.nx+x1; cell++ {
				if g.seenCell[cell] != g.turn {
					g.seenCell[cell] = g.turn
					p.watch.Step(1 + g.collect(cell, from, to))
				}
			}
		}
	}
	slices.Sort(g.near)
	return g.near
}

// collect adds to what the search found those traces from one to before another that
// have a point in a cell. It tells how many it looked at.
func (g *ground) collect(cell int, from, to int32) int {
	items := g.trace[g.start[cell]:g.start[cell+1]]
	if len(items) > 0 && items[0] < from {
		first, _ := slices.BinarySearch(items, from)
		items = items[first:]
	}
	items = items[:min(len(items), mostInCell)]
	for k, t := range items {
		if t >= to {
			return k
		}
		if g.seenTrace[t] != g.turn {
			g.seenTrace[t] = g.turn
			g.near = append(g.near, t)
		}
	}
	return len(items)
}
