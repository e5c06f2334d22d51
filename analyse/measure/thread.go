package measure

import (
	"math/bits"

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
	p.thread = p.layThread(nil)
	return p.thread
}

// ThreadNear is the thread that may lie over places, at least: each gives the boxes that
// they lie in, and may be asked more than once. Mostly that is little, and soon laid out.
func (p *Pass) ThreadNear(each func(place func(geom.Box))) *Thread {
	if p.from != nil {
		return p.Thread()
	}
	return p.threadNear(each)
}

// threadNear is ThreadNear that is laid out at the scale of the pass.
func (p *Pass) threadNear(each func(place func(geom.Box))) *Thread {
	if p.thread != nil && p.from == nil {
		return p.thread
	}
	half := p.Settings.LaidWidth() / 2
	return p.layThread(newNearby(func(place func(geom.Box)) {
		each(func(b geom.Box) { place(b.Grown(half)) })
	}))
}

// layThread lays out the thread near some places; nil: all of it.
func (p *Pass) layThread(near *nearby) *Thread {
	t := &p.Sewn.Track
	x := &Thread{track: t, half: p.Settings.LaidWidth() / 2, scale: 1}
	if near == nil {
		x.stitch = make([]int32, 0, len(t.Pts))
		for k := 1; k < len(t.Pts); k++ {
			if t.Joined(k) {
				x.stitch = append(x.stitch, int32(k))
			}
		}
	} else {
		lies := make([]uint64, len(t.Pts)/64+1) // a bit for each, so that they are counted before they are listed
		n := 0
		for _, s := range t.Segs {
			from := near.cellOf(t.Pts[s.First])
			for k := s.First + 1; k < s.Last; k++ {
				to := near.cellOf(t.Pts[k])
				if near.between(from, to) {
					lies[k/64] |= 1 << (k % 64)
					n++
				}
				from = to
			}
		}
		x.stitch = make([]int32, 0, n)
		for i, some := range lies {
			for ; some != 0; some &= some - 1 {
				x.stitch = append(x.stitch, int32(i*64+bits.TrailingZeros64(some)))
			}
		}
	}
	x.cells = geom.NewSegmentCells(threadCell, t.Pts, x.stitch, x.half)
	return x
}

// Over reports whether thread lies over q, from stitches that end at the points from
// to to, to excluded, and as wide as it is laid plus twice slack mm.
func (x *Thread) Over(q geom.Point, from, to int, slack float64) bool {
	pts := x.track.Pts
	q, reach := q.Times(1/x.scale), (x.half+slack)/x.scale
	return x.cells.Until(geom.Box{Lo: q, Hi: q}.Grown(max(0, reach-x.half)), func(i int32) bool {
		k := int(x.stitch[i])
		return k >= from && k < to && geom.DistanceToSegment(q, pts[k-1], pts[k]) <= reach
	})
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
