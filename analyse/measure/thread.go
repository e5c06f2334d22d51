package measure

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/stitches"
)

// Thread finds the thread that lies over a place.
type Thread struct {
	track  *stitches.Track
	cells  geom.Cells
	stitch []int32      // the point where each stitch ends
	lines  []threadLine // the same as nearest wants them; nil until it is asked
	half   float64      // mm of a laid thread to either side
	scale  float64      // of the pass; the track is as in the design
}

// threadCell is the size in mm of the cells in which thread is looked for.
const threadCell = 1.0

// Thread is the thread of the design as it lies at the pass's scale. It is laid out
// when it is first asked for.
func (p *Pass) Thread() *Thread {
	if p.thread != nil {
		return p.thread
	}
	if p.from != nil {
		x := *p.from.Thread()
		x.scale = p.Scale / p.from.Scale
		p.thread = &x
		return p.thread
	}
	t := &p.Sewn.Track
	x := &Thread{track: t, half: p.Settings.LaidWidth() / 2, scale: 1}
	for i := 1; i < len(t.Pts); i++ {
		if t.Joined(i) {
			x.stitch = append(x.stitch, int32(i))
		}
	}
	x.cells = geom.NewSegmentCells(threadCell, t.Pts, x.stitch, x.half)
	p.thread = x
	return x
}

// Over reports whether thread lies over q, from stitches that end at the points from
// to to, to excluded, and as wide as it is laid plus twice slack mm.
func (x *Thread) Over(q geom.Point, from, to int, slack float64) bool {
	pts := x.track.Pts
	q, reach := q.Times(1/x.scale), (x.half+slack)/x.scale
	return x.cells.Until(x.about(q, reach), func(i int32) bool {
		k := int(x.stitch[i])
		return k >= from && k < to && geom.DistanceToSegment(q, pts[k-1], pts[k]) <= reach
	})
}

// otherThread finds the thread that lies over a place, apart from some stitches.
type otherThread struct {
	*Thread
	first, last int32   // those, in stitch; last excluded
	lately      []int32 // of those, the one that was met last: mostly it lies over the next place too
}

// besides is the thread apart from the stitches that end at the points from from to to,
// to excluded.
func (x *Thread) besides(from, to int) otherThread {
	first, _ := slices.BinarySearch(x.stitch, int32(from))
	last, _ := slices.BinarySearch(x.stitch, int32(to))
	return otherThread{Thread: x, first: int32(first), last: int32(last)}
}

// alone reports whether other thread lies over q, but none of those stitches.
func (x *otherThread) alone(q geom.Point) bool {
	q, half := q.Times(1/x.scale), x.half/x.scale
	if x.liesOver(q, half, x.lately) >= 0 {
		return false
	}
	about := x.about(q, half)
	x0, y0, x1, y1, ok := x.cells.Range(about)
	if !ok {
		return false
	}
	// Mostly those stitches lie there, and they are looked at first, unless there is no
	// other. Lists are in order: what comes before them, they, what comes after.
	other := false
	for y := y0; y <= y1; y++ {
		for cell := y*x.cells.Nx + x0; cell <= y*x.cells.Nx+x1; cell++ {
			items := x.cells.At(cell)
			other = other || len(items) > 0 && (items[0] < x.first || items[len(items)-1] >= x.last)
		}
	}
	if !other {
		return false
	}
	for y := y0; y <= y1; y++ {
		for cell := y*x.cells.Nx + x0; cell <= y*x.cells.Nx+x1; cell++ {
			items := x.cells.At(cell)
			from, to := x.own(items)
			if k := x.liesOver(q, half, items[from:to]); k >= 0 {
				x.lately = append(x.lately[:0], items[from+k])
				return false
			}
		}
	}
	for y := y0; y <= y1; y++ {
		for cell := y*x.cells.Nx + x0; cell <= y*x.cells.Nx+x1; cell++ {
			items := x.cells.At(cell)
			from, to := x.own(items)
			if x.liesOver(q, half, items[:from]) >= 0 || x.liesOver(q, half, items[to:]) >= 0 {
				return true
			}
		}
	}
	return false
}

// own is where in a list those stitches stand.
func (x *otherThread) own(items []int32) (from, to int) {
	to = len(items)
	for from < to && items[from] < x.first {
		from++
	}
	for to > from && items[to-1] >= x.last {
		to--
	}
	return from, to
}

// liesOver tells which of some stitches passes q within reach, -1 for none.
func (x *Thread) liesOver(q geom.Point, reach float64, items []int32) int {
	pts, reach2 := x.track.Pts, reach*reach
	for at, i := range items {
		k := x.stitch[i]
		a, b := pts[k-1], pts[k]
		v, w := b.Sub(a), q.Sub(a)
		n, t, beside := v.Dot(v), v.Dot(w), v.Cross(w)
		if beside*beside > reach2*n {
			continue
		}
		if t > 0 && t < n {
			return at
		}
		if t >= n {
			w = q.Sub(b)
		}
		if w.Dot(w) <= reach2 {
			return at
		}
	}
	return -1
}

// about is where the stitches lie that pass q within reach, as boxes of threads are
// laid out.
func (x *Thread) about(q geom.Point, reach float64) geom.Box {
	return geom.Box{Lo: q, Hi: q}.Grown(max(0, reach-x.half))
}

// Lines is a grid of all that a stop sews, with which places near it are found. It is
// laid out when it is first asked for.
func (p *Pass) Lines(stop int) *geom.LineGrid {
	if g, ok := p.lines[stop]; ok {
		return g
	}
	if p.lines == nil {
		p.lines = map[int]*geom.LineGrid{}
	}
	t := &p.Sewn.Track
	first, last := 0, 0
	if s := t.Of(stop); len(s) > 0 {
		first, last = s[0].First, s[len(s)-1].Last
	}
	g := geom.NewBrokenLineGrid(t.Pts[first:last], func(i int) bool { return t.Joined(first + i) })
	p.lines[stop] = g
	return g
}

// All is more than any point: the end of all stitches.
func (x *Thread) All() int { return len(x.track.Pts) }
