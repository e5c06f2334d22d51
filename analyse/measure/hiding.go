package measure

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

const (
	cellMM    = 0.5     // mm of cut edge in one cell at most
	cellBits  = 16      // places in a cell that thread may hide, on each lane
	lanes     = 5       // lines along the edge, from it inwards, on which hiding is looked at
	fringe    = lanes   // the lane outside the edge
	fringeMM  = 0.1     // mm that it lies outside: a raw edge has threads of its own
	holeSlack = 0.05    // mm past its holes that a thread still hides: files round to 0.1 mm
	leastBand = 0.5     // mm: the cloth looked at reaches so far in where there is no trim allowance
	mostCells = 100_000 // cells of all edges of a design; 50 m of them
	longestMM = 50.0    // mm: a stitch is 12 mm at most; longer, on the design as it is, is a damaged file, and covers nothing
)

// edgeCell is a short stretch of cut edge with what thread hides there. Lane 0 is
// the cut edge; the others lie further in, up to the tack-down, because scissors
// leave the raw edge anywhere between.
type edgeCell struct {
	ring   int32
	noEdge bool // where an open tack-down is closed: nothing is cut
	state  report.EdgeState
	from   geom.Point
	along  geom.Point // unit vector
	away   geom.Point // unit vector away from the cloth
	length float64
	hidden [lanes + 1]uint16
	spare  float64 // how far past the edge satin reaches; -Inf for none
	inner  float64 // how far in past the tack-down
}

// cutCells cuts rings into cells, which it puts into out.
func cutCells(out []edgeCell, rings []cutRing) []edgeCell {
	var total float64
	for i := range rings {
		total += geom.PathLength(rings[i].line)
	}
	step := max(cellMM, total/mostCells)
	most := 0
	for i := range rings {
		for k := 1; k < len(rings[i].line); k++ {
			most += int(math.Ceil(geom.Distance(rings[i].line[k-1], rings[i].line[k]) / step))
		}
	}
	out = slices.Grow(out, most)
	for i := range rings {
		r := &rings[i]
		open := r.part.Tack.Line
		var near *geom.LineGrid
		gap := [2]geom.Point{open[len(open)-1], open[0]}
		if !r.part.Tack.Closed {
			near = r.part.Tack.Near()
		}
		for k := 1; k < len(r.line); k++ {
			a, v := r.line[k-1], r.line[k].Sub(r.line[k-1])
			l := v.Norm()
			if l == 0 {
				continue
			}
			u := v.Times(1 / l)
			n := math.Ceil(l / step)
			for j := 0.0; j < n; j++ {
				c := edgeCell{ring: int32(i), from: a.Add(v.Times(j / n)), along: u, away: u.Left().Times(r.away), length: l / n}
				if near != nil {
					q := c.middle()
					d := geom.DistanceToSegment(q, gap[0], gap[1])
					c.noEdge = d < near.Nearest(q, d+1)
				}
				out = append(out, c)
			}
		}
	}
	return out
}

func (c *edgeCell) middle() geom.Point { return c.from.Add(c.along.Times(c.length / 2)) }

// lane is how far in from the edge a lane lies, in mm.
func lane(k int, allow float64) float64 {
	if k == fringe {
		return -fringeMM
	}
	return float64(k) / lanes * max(allow, leastBand)
}

// hide marks what the threads sewn after each ring's tack-down hide. A thread lies
// laid mm wide from hole to hole; the round ends that reach past its holes hide no
// more than the fringe of the cloth.
func (p *Pass) hide(rings []cutRing, cells []edgeCell) {
	laid := p.Settings.LaidWidth() / 2
	first := len(p.Sewn.Stops)
	for i := range rings {
		w := rings[i].part
		first = min(first, w.Tack.Stop)
		if w.CoverFirst && len(w.Covers) > 0 {
			first = min(first, w.Covers[0])
		}
	}
	// Each cell is found by the middle of what thread may hide of it, no further from which
	// than reach lies the middle of a thread that does.
	p.room.middles = slices.Grow(p.room.middles[:0], len(cells))
	middles, reach := p.room.middles[:len(cells)], 0.0
	for i := range cells {
		var far float64
		middles[i], far = cells[i].hideable(rings[cells[i].ring].allow)
		reach = max(reach, far+laid+2*holeSlack)
	}
	grid := geom.NewPointCells(hideCell, middles)
	longest := longestMM * p.Scale
	over := make([]overRing, len(rings))
	t := &p.Sewn.Track
	for _, s := range t.Segs {
		if s.Stop < first {
			continue
		}
		next := s.First + 1
		for i := next; i < s.Last; i++ {
			if i == next {
				next = min(i+hideAtOnce, s.Last)
				if _, _, _, _, ok := grid.Range(geom.BoxOf(t.Pts[i-1 : next]).Grown(reach)); !ok {
					i = next - 1 // none of these lies near any cell
					continue
				}
			}
			a, b := t.Pts[i-1], t.Pts[i]
			v := b.Sub(a)
			if max(math.Abs(v.X), math.Abs(v.Y)) > longest {
				continue
			}
			box := geom.Box{Lo: a, Hi: b}
			if v.X < 0 {
				box.Lo.X, box.Hi.X = b.X, a.X
			}
			if v.Y < 0 {
				box.Lo.Y, box.Hi.Y = b.Y, a.Y
			}
			x0, y0, x1, y1, ok := grid.Range(box.Grown(reach))
			if !ok {
				continue
			}
			l := v.Norm()
			far := reach * l
			for y := y0; y <= y1; y++ {
				items := grid.Row(y, x0, x1)
				p.watch.Step(len(items))
				for _, k := range items {
					w := middles[k].Sub(a)
					if math.Abs(v.Cross(w)) > far {
						continue
					} else if along := v.Dot(w); along < -far || along > l*l+far {
						continue
					}
					c := &cells[k]
					if !c.full() && over[c.ring].by(p, &rings[c.ring], s.Stop, t.Kind[i]) {
						c.under(a, b, laid, rings[c.ring].allow)
					}
				}
			}
		}
	}
}

const (
	hideCell   = 1.0 // mm: the side of the squares in which cells of cut edge are looked for
	hideAtOnce = 24  // stitches that are passed over at once where they lie far from all cells
)

// hideable is the middle of what thread may hide of a cell whose cloth is left allow mm from
// the tack-down, and how far from there it lies at most.
func (c *edgeCell) hideable(allow float64) (middle geom.Point, far float64) {
	in, out := lane(lanes-1, allow), -lane(fringe, allow)
	return c.middle().Add(c.away.Times((out - in) / 2)), math.Hypot(c.length, in+out) / 2
}

// overRing remembers whether what one stop sews lies over the cut edge of a ring.
type overRing struct {
	stop           int // one more than its index
	surface, lines bool
}

// by reports whether stitching of a kind in a stop does.
func (o *overRing) by(p *Pass, r *cutRing, stop int, kind report.Kind) bool {
	if o.stop != stop+1 {
		*o = overRing{stop + 1, p.coversAfter(r, stop, report.KindSatin), p.coversAfter(r, stop, report.KindRun)}
	}
	if kind.Surface() {
		return o.surface
	}
	return o.lines
}

// full reports whether thread hides all of the cell already.
func (c *edgeCell) full() bool {
	all := uint16(math.MaxUint16)
	for _, h := range c.hidden {
		all &= h
	}
	return all == math.MaxUint16
}

// coversAfter reports whether stitching of a kind in a stop lies over the cut edge
// of a ring. Where tack-down and cover share a stop, surfaces are the cover; a cover
// that is sewn too early is a cover all the same.
func (p *Pass) coversAfter(r *cutRing, stop int, kind report.Kind) bool {
	w := r.part
	return w.OverBy(stop) && (stop != w.Tack.Stop || kind.Surface())
}

// under marks what a thread from a to b hides of the cell.
func (c *edgeCell) under(a, b geom.Point, half, allow float64) {
	// In the cell's own directions: x along it, y away from the cloth.
	a, b = a.Sub(c.from), b.Sub(c.from)
	ax, ay, bx, by := a.Dot(c.along), a.Dot(c.away), b.Dot(c.along), b.Dot(c.away)
	if max(ax, bx) < -half || min(ax, bx) > c.length+half {
		return
	}
	vx, vy := bx-ax, by-ay
	l := math.Sqrt(vx*vx + vy*vy)
	if l == 0 {
		return
	}
	vx, vy = vx/l, vy/l
	// What it may hide lies no further than so to either side along y.
	const more = holeSlack + 0.01
	lowest, highest := min(ay, by)-half-more, max(ay, by)+half+more
	if lowest > fringeMM || highest < -lane(lanes-1, allow) {
		return
	}
	ends, beside := bandOf(vx, vy, -holeSlack, l+holeSlack), bandOf(vy, -vx, -half, half)
	each := cellBits / c.length
	for k := range c.hidden {
		at := -lane(k, allow)
		if c.hidden[k] == math.MaxUint16 || at < lowest || at > highest {
			continue
		}
		lo, hi := ends.at(at - ay)
		if l, h := beside.at(at - ay); l > lo || h < hi {
			lo, hi = max(lo, l), min(hi, h)
		}
		if hi > lo {
			c.hidden[k] |= placesBetween((lo+ax)*each-0.5, (hi+ax)*each-0.5)
		}
	}
}

// laneBand is the places x on lanes at which lo <= x m + y n <= hi.
type laneBand struct {
	lo, hi, slope float64 // on the lane y = 0, and what x is less for each y more
	n, from, to   float64 // of lines along lanes, that y n lies between: all of one then, or nothing
}

func bandOf(m, n, lo, hi float64) laneBand {
	if math.Abs(m) < 1e-9 {
		return laneBand{math.Inf(-1), math.Inf(1), 0, n, lo, hi}
	}
	per := 1 / m
	if m < 0 {
		lo, hi = hi, lo
	}
	return laneBand{lo * per, hi * per, n * per, 0, 0, 0}
}

// at is the places on a lane; none where the first is greater.
func (b *laneBand) at(y float64) (lo, hi float64) {
	if along := y * b.n; along < b.from || along > b.to {
		return 1, 0
	}
	return b.lo - y*b.slope, b.hi - y*b.slope
}

// placesBetween are the bits of the places of a cell from one to another, both included.
func placesBetween(from, to float64) uint16 {
	i, j := 0, cellBits-1
	switch {
	case to < 0 || from > cellBits-1:
		return 0
	case to < cellBits-1:
		j = int(to)
	}
	if from > 0 {
		if i = int(from); float64(i) < from {
			i++
		}
	}
	if i > j {
		return 0
	}
	return (1<<(j-i+1) - 1) << i
}
