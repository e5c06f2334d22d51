package measure

import (
	"math"
	"math/bits"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

const (
	leastGap   = 0.5  // mm of bare edge; shorter gaps are the grain of the stitches
	leastSlot  = 0.15 // mm of bare edge; no enlarging makes a gap of less
	slotShare  = 0.5  // of the edge beside a slot that is hidden: where less is, it lies in an open cover, which growing never closes
	leastWide  = 3.0  // mm of bare edge of which enlarging may make a gap in any cover
	openWindow = 10.0 // mm along the edge over which the share of hidden cloth is taken: as along columns
	besideMM   = 5.0  // mm to either side of a gap that tell whether the cover is closed there
	openMost   = 8.0  // mm between two stitches of one cover; further apart it is missing between them
	evenOver   = 3    // cells to either side over which the reach of satin is averaged
	rimMM      = 0.1  // mm from the ends of its stitches that satin is ragged
	rimCells   = 4    // cells in a row along which satin ends at the edge: less is where its end crosses it
	nearEdge   = 0.3  // mm: reaches that end so near the edge are averaged over more of it
	nearOver   = 10   // cells to either side of it
	nearEven   = 0.15 // mm that these may differ by: what rounding to 0.1 mm does
	leastValid = 0.6  // share of a window that must be edge to be judged
)

// SoundShare is the share of the edge beside a gap that is hidden where the gap is one in
// a closed cover: where less is, it lies between the stitches of an open one.
const SoundShare = 0.6

// ReachSlackMM is how much a cover may reach less than to the cut edge: what rounding
// takes of a reach that is just enough.
const ReachSlackMM = 0.04

// BareStretch is a stretch of a cut edge that no thread hides. It is a gap where the
// cover beside it is closed, and else lies between the stitches of an open one.
type BareStretch struct {
	LengthMM float64 // leastSlot at least
	Beside   float64 // share of the edge on either side that is hidden, 1 where the stretch is so long that it is a gap in any cover
}

// edgeReach is how far satin reaches past the cut edge and in past the tack-down, in mm.
type edgeReach struct{ spare, inner float64 }

// measureReach measures how far the satin sewn after the tack-down reaches past the
// cut edge and in past the tack-down, on a line square to the edge at each cell.
func (p *Pass) measureReach(rings []cutRing, cells []edgeCell, hidden func(ring *cutRing, q geom.Point) bool) {
	p.room.raw = slices.Grow(p.room.raw[:0], len(cells))
	raw := p.room.raw[:len(cells)]
	for i := range cells {
		c := &cells[i]
		r := &rings[c.ring]
		q := c.middle()
		raw[i].spare, raw[i].inner = math.Inf(-1), math.Inf(-1)
		if c.noEdge {
			continue
		}
		if hidden(r, q.Sub(c.away.Times(r.allow/2))) {
			c.state = report.EdgeHidden
			continue
		}
		if hit, ok := p.cover.Along(q, c.away, func(b int32) bool { return r.part.OverBy(p.bands[b].Stop) }); ok {
			raw[i].spare, raw[i].inner = hit.Hi, -hit.Lo-r.allow
		}
	}
	// Files round to 0.1 mm: each place is taken with its neighbours on one side.
	for i := range cells {
		c := &cells[i]
		var spare, inner, n float64
		for j := max(0, i-evenOver); j <= min(len(cells)-1, i+evenOver); j++ {
			if e := &cells[j]; e.ring == c.ring && e.along.Dot(c.along) > 0.94 && geom.Distance(e.from, c.from) < (evenOver+1)*cellMM &&
				math.Abs(raw[j].spare-raw[i].spare) < 0.4 && math.Abs(raw[j].inner-raw[i].inner) < 0.4 {
				spare, inner, n = spare+raw[j].spare, inner+raw[j].inner, n+1
			}
		}
		c.spare, c.inner = raw[i].spare, raw[i].inner
		if n > 0 {
			c.spare, c.inner = spare/n, inner/n
		}
	}
	for i := range cells {
		raw[i].spare = cells[i].spare
	}
	for i := range cells {
		c := &cells[i]
		if !(math.Abs(c.spare) < nearEdge) {
			continue
		}
		var spare, n float64
		for j := max(0, i-nearOver); j <= min(len(cells)-1, i+nearOver); j++ {
			if e := &cells[j]; e.ring == c.ring && math.Abs(raw[j].spare-raw[i].spare) < nearEven && e.along.Dot(c.along) > 0.8 {
				spare, n = spare+raw[j].spare, n+1
			}
		}
		c.spare = spare / n
	}
}

// ringWork judges the cells of one ring.
type ringWork struct {
	allow   float64 // mm from the tack-down to the edge
	half    float64 // half a laid thread, mm
	cells   []edgeCell
	places  []cellPlaces
	gaps    []report.Gap
	least   float64 // share hidden over the barest window, 1 for none
	leastAt geom.Point
	open    float64 // mm of edge under open cover
	shares  []float64
	slots   []float64     // see Pass.Slots
	bare    []BareStretch // see Pass.Bare
}

// judge finds where the edge of one ring is bare and where its cover is open.
//
// A stretch that no thread hides is a gap where the cover is closed beside it, or
// where it is longer than any cover is open, or where the satin stops short of the
// edge. Elsewhere it lies between the stitches of an open cover, which is judged
// by the share of cloth hidden over openWindow.
func (w *ringWork) judge(limit float64) {
	w.lay()
	n := w.count()
	if n == 0 {
		return
	}
	start := 0
	for start < n && w.candidate(start) {
		start++
	}
	if start == n {
		start = 0
	}
	for k := 0; k < n; {
		i := round(start+k, n)
		if open := w.cellOf(i).open >> (i % cellBits); open == 0 {
			k += cellBits - i%cellBits
			continue
		} else if open&1 == 0 {
			k += bits.TrailingZeros16(open)
			continue
		}
		from := k
		var l float64
		for ; k < n && w.candidate(round(start+k, n)); k++ {
			l += w.cellOf(round(start+k, n)).length
		}
		if l < leastSlot || w.slit(start+from, start+k) {
			continue
		}
		beside := 1.0
		if l < openMost {
			beside = w.beside((start+from)%n, (start+k-1)%n)
		}
		w.bare = append(w.bare, BareStretch{l, beside})
		if beside >= slotShare || l >= leastWide {
			w.slots = append(w.slots, l)
		}
		if l < leastGap || beside < SoundShare {
			continue
		}
		for j := from; j < k; j++ {
			i := (start + j) % n
			w.cellOf(i).bare |= 1 << (i % cellBits)
		}
		w.gap(start+from, start+k, l)
	}
	w.openings(limit)
}

// count is the number of places.
func (w *ringWork) count() int { return len(w.places) * cellBits }

// lay puts the places of the cells in a row.
func (w *ringWork) lay() {
	rim := w.rim()
	w.places = slices.Grow(w.places, len(w.cells))
	for i := range w.cells {
		c := &w.cells[i]
		q := cellPlaces{length: c.length / cellBits, hidden: c.hidden[0], out: c.noEdge || c.state == report.EdgeHidden}
		if rim[i] {
			q.hidden = c.hidden[1]
		}
		q.open = c.candidates(q.hidden, q.out)
		n := 0
		for k := range lanes {
			if c.within(lane(k, w.allow), w.allow, w.half) {
				n++
				q.over[0] += inBytes(uint8(c.hidden[k]))
				q.over[1] += inBytes(uint8(c.hidden[k] >> 8))
			}
		}
		q.none, q.each = n == 0, q.length/float64(max(1, n))
		w.places = append(w.places, q)
	}
}

// rim tells the cells along which satin ends at the edge: on its very rim it is as
// ragged as rounding makes it, and a gap shows on the next lane in. Where the end of
// satin but crosses the edge a gap shows on the edge itself.
func (w *ringWork) rim() []bool {
	n := len(w.cells)
	out := make([]bool, n)
	near := func(i int) bool { return math.Abs(w.cells[i%n].spare) < rimMM }
	start := 0
	for start < n && near(start) {
		start++
	}
	for k := 0; k < n; {
		to := k
		for to < n && near(start+to) {
			to++
		}
		for i := k; i < to && to-k >= rimCells; i++ {
			out[(start+i)%n] = true
		}
		k = to + 1
	}
	return out
}

// within reports whether a lane so far in from the edge lies well within the satin, if
// there is any: what lies beside it tells nothing of how close its stitches are, and
// on its very rim any two stitches meet.
func (c *edgeCell) within(in, allow, half float64) bool {
	if math.IsInf(c.spare, -1) {
		return true
	}
	return in+c.spare >= 2*half && allow-in+c.inner >= 2*half
}

// candidates are the places of the cell that may be bare: no thread hides them, or satin
// stops short of the edge there and no other thread hides their fringe.
func (c *edgeCell) candidates(hidden uint16, out bool) uint16 {
	switch {
	case out:
		return 0
	case c.spare < -ReachSlackMM && c.spare > -report.ReachMM:
		hidden &= c.hidden[fringe]
	}
	return ^hidden
}

func (w *ringWork) candidate(i int) bool { return w.cellOf(i).open>>(i%cellBits)&1 == 1 }

// gap files the places from up to to, counted round the ring, as a gap of l mm.
func (w *ringWork) gap(from, to int, l float64) {
	n := w.count()
	least, short := 0.0, 0
	for j := from; j < to; j++ {
		// Satin that reaches past the edge here lies on both sides of the gap.
		if v := w.cells[j%n/cellBits].spare; v < -ReachSlackMM && v > -report.ReachMM {
			least, short = min(least, v), short+1
		}
	}
	if 2*short < to-from {
		least = math.Inf(-1)
	}
	least = max(w.allow+least, -report.ReachMM)
	w.gaps = append(w.gaps, report.Gap{LengthMM: l, AtMM: w.spot((from + to) / 2 % n).Place(), LeastMM: least})
}

func (w *ringWork) spot(i int) geom.Point {
	c := &w.cells[i/cellBits]
	return c.from.Add(c.along.Times((float64(i%cellBits) + 0.5) / cellBits * c.length))
}

// openings looks at the cover between the gaps: the share of cloth hidden over
// each window.
func (w *ringWork) openings(limit float64) {
	n := w.count()
	w.least = 1
	var all, valid, hidden float64
	var open []bool
	for i := range w.places {
		w.places[i].mark()
	}
	to, last := 0, 0
	next := 0 // to, counted on round the ring
	for from := range n {
		for ; to < from+n && all < openWindow; to++ {
			q := w.cellOf(next)
			all += q.length
			if q.counts>>(next%cellBits)&1 == 1 {
				valid, hidden = valid+q.length, hidden+q.band(next)
			}
			if next++; next == n {
				next = 0
			}
		}
		if valid >= leastValid*all {
			share := hidden / valid
			if from%cellBits == 0 {
				w.shares = append(w.shares, share)
			}
			if share < w.least {
				w.least, w.leastAt = share, w.spot((from+to)/2%n)
			}
			if share < limit {
				if open == nil {
					open = make([]bool, n)
				}
				for k := max(last, from); k <= (from+to)/2; k++ {
					open[round(k, n)] = true
				}
			}
		}
		last = (from+to)/2 + 1
		q := w.cellOf(from)
		all -= q.length
		if q.counts>>(from%cellBits)&1 == 1 {
			valid, hidden = valid-q.length, hidden-q.band(from)
		}
	}
	if open == nil {
		return
	}
	// Each run of places with an open window round them is one stretch.
	start := slices.Index(open, false)
	start = max(0, start)
	for k := 0; k < n; {
		if !open[round(start+k, n)] {
			k++
			continue
		}
		from := k
		var l, bare float64
		for ; k < n && open[round(start+k, n)]; k++ {
			i := round(start+k, n)
			q := w.cellOf(i)
			l += q.length
			if !q.out && q.bare>>(i%cellBits)&1 == 0 {
				bare += q.length - q.edge(i)
			}
			if c := &w.cells[i/cellBits]; c.state == report.EdgeCovered {
				c.state = report.EdgeThin
			}
		}
		w.open += l
		if bare > 0 {
			w.gaps = append(w.gaps, report.Gap{LengthMM: bare, AtMM: w.spot((start + (from+k)/2) % n).Place(), LeastMM: 0, Open: true, OverMM: l})
		}
	}
}

// samples adds the edge to out as the report tells it.
func (w *ringWork) samples(out []report.EdgeSample, ring int) []report.EdgeSample {
	for i := range w.cells {
		c := &w.cells[i]
		if c.noEdge {
			continue
		}
		var bare float64
		for range bits.OnesCount16(w.places[i].bare) {
			bare += w.places[i].length
		}
		if 2*bare >= c.length {
			c.state = report.EdgeBare
		}
		s := report.EdgeSample{At: c.middle(), From: c.from, To: c.from.Add(c.along.Times(c.length)), Outward: c.away, Ring: ring, State: c.state,
			Outer: max(w.allow+c.spare, -report.ReachMM), Inner: max(c.inner, -report.ReachMM)}
		for k := range lanes {
			s.Hidden += float64(bits.OnesCount16(c.hidden[k])) / (lanes * cellBits)
		}
		if math.IsInf(c.spare, -1) && c.state == report.EdgeCovered {
			s.Outer = w.allow // hidden, but by no satin whose reach could be told
		}
		out = append(out, s)
	}
	return out
}
