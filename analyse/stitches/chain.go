package stitches

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// turn is what a main stroke of a chain and the next ones tell of the chain.
type turn struct {
	mid     geom.Point
	spacing float64 // mm between the middles of this stroke and the next
	row     float64 // mm between their lines
	cycle   float64 // mm between the middles of this stroke and the next but one

	// 1 or 0, to be summed up.
	multi  int8 // made of several stitches
	halved int8 // made of two equal ones
	step   int8 // a step leads to the next
	along  int8 // the next lies further along its own line
}

// layTurns fills in turns for the main strokes lo to hi.
func (c *classifier) layTurns(lo, hi int) {
	pts, main := c.t.Pts, c.main
	n := hi - lo
	c.turns = slices.Grow(c.turns[:0], n)[:n]
	for j, m := range main[lo:hi] {
		s := &c.strokes[m]
		c.turns[j] = turn{mid: geom.Middle(pts[s.from], pts[s.to])}
	}
	for j := range c.turns {
		s, t := &c.strokes[main[lo+j]], &c.turns[j]
		if s.stitches() > 1 {
			t.multi = 1
		}
		if s.stitches() == 2 && geom.Distance(pts[s.from+1], t.mid) <= max(2*tieHole, barHalf*float64(s.length)) {
			t.halved = 1
		}
		if j+1 < n {
			v := c.turns[j+1].mid.Sub(t.mid)
			t.spacing, t.row = v.Norm(), math.Abs(s.dir.Cross(v))
			if main[lo+j]+1 < main[lo+j+1] {
				t.step = 1
			}
			if t.spacing > 0.25*float64(s.length) && math.Abs(v.Dot(s.dir)) > 0.9*t.spacing {
				t.along = 1
			}
		}
		if j+2 < n {
			t.cycle = geom.Distance(t.mid, c.turns[j+2].mid)
		}
	}
}

// chain labels the main strokes lo to hi, each of which turns back on the one
// before it.
func (c *classifier) chain(lo, hi int) {
	n := hi - lo
	c.watch.Step(n)
	c.labels = slices.Grow(c.labels[:0], n)[:n]
	labels := c.labels
	c.layTurns(lo, hi)
	turns := c.turns

	// Running sums over the window [a, b).
	var multi, steps, along, halved int
	var spacing, rows, cycle float64
	a, b := 0, 0
	for j := range n {
		for ; b < min(n, j+window+1); b++ {
			t := &turns[b]
			multi, steps, along, halved = multi+int(t.multi), steps+int(t.step), along+int(t.along), halved+int(t.halved)
			spacing, rows, cycle = spacing+t.spacing, rows+t.row, cycle+t.cycle
		}
		for ; a < j-window; a++ {
			t := &turns[a]
			multi, steps, along, halved = multi-int(t.multi), steps-int(t.step), along-int(t.along), halved-int(t.halved)
			spacing, rows, cycle = spacing-t.spacing, rows-t.row, cycle-t.cycle
		}
		size := b - a
		gaps := max(1, min(b, n-1)-a)
		cycles := max(1, min(b, n-2)-a)
		s := &c.strokes[c.main[lo+j]]
		gap, row, advance := spacing/float64(gaps), rows/float64(gaps), cycle/float64(cycles)
		if 3*steps > 2*gaps {
			advance /= 2 // every crossing is a rung of its own
		}
		switch {
		case s.length > splitLongest && 4*multi <= size:
			labels[j] = report.KindRun // a line that leads into satin
		case 2*along > gaps:
			labels[j] = report.KindTripleRun // forward two, back one
		case 4*multi > size:
			switch {
			case gap <= barSpacing && 3*steps > 2*gaps && 3*halved > 2*size && s.length <= barLongest:
				labels[j] = report.KindSatin // bars side by side, each of two equal stitches
			case gap <= splitSpacing && 3*steps < gaps && s.stitches() <= 4 && s.length <= splitLongest:
				labels[j] = report.KindSatin
			case 3*steps < gaps && s.stitches() <= 4 && s.length <= splitLongest && advance < SatinAdvance:
				labels[j] = splitSatin
			case 3*steps < gaps && s.stitches() <= 4 && s.length <= splitLongest && advance >= SatinAdvance && advance < zigzagAdvance:
				labels[j] = splitZigzag
			case row <= fillSpacing && row > retracing:
				labels[j] = report.KindFill
			default:
				labels[j] = report.KindRun
			}
		case advance < SatinAdvance:
			labels[j] = report.KindSatin
		case advance < zigzagAdvance:
			labels[j] = report.KindOpenZigzag
		default:
			labels[j] = report.KindRun
		}
	}
	c.settleOpen(labels, lo)
	c.settle(labels, lo)
	c.smooth(labels, lo)
	kind := c.t.Kind
	for j, k := range labels {
		if k == report.KindRun {
			continue
		}
		s := &c.strokes[c.main[lo+j]]
		end := s.to
		if j+1 < n {
			end = c.strokes[c.main[lo+j+1]].from // the step belongs to the row before it
		}
		for i := s.from + 1; i <= end; i++ {
			kind[i] = k
		}
	}
}

// smooth takes back labels that only a few strokes in a row have: rows of one
// stitch at the tip of a fill look like satin, and a stretch of fewer than
// fewest strokes is no surface of its own.
func (c *classifier) smooth(labels []report.Kind, lo int) {
	for i := 0; i < len(labels); {
		k, from := labels[i], i
		for i < len(labels) && labels[i] == k {
			i++
		}
		before, after := report.KindNone, report.KindNone
		if from > 0 {
			before = labels[from-1]
		}
		if i < len(labels) {
			after = labels[i]
		}
		into := report.KindNone
		switch {
		case k == report.KindSatin && (before == report.KindFill || after == report.KindFill) && (i-from < 12 || c.hasSteps(lo+from, lo+i)):
			into = report.KindFill
		case i-from < 2*fewest && before == after && before != report.KindNone:
			into = before
		case i-from < fewest && before != report.KindNone:
			into = before
		case i-from < fewest && after != report.KindNone:
			into = after
		}
		if into != report.KindNone {
			for j := from; j < i; j++ {
				labels[j] = into
			}
		}
	}
}

// What is split and open may be satin, a zigzag or the rows of a fill: settleOpen tells.
const (
	splitSatin  = report.Kind(100)
	splitZigzag = report.Kind(101)
)

// openSlender is how many times as long as wide split crossings are together that are
// too open for satin: less is a fill whose rows turn without a step.
const openSlender = 6.0

// settleOpen tells split satin and zigzags whose crossings lie far apart from fills: a
// column is slender, along all that is split in a row.
func (c *classifier) settleOpen(labels []report.Kind, lo int) {
	open := func(k report.Kind) bool { return k == splitSatin || k == splitZigzag }
	for i := 0; i < len(labels); {
		from, found := i, false
		var across, along float64
		for ; i < len(labels) && (open(labels[i]) || labels[i] == report.KindSatin); i++ {
			found = found || open(labels[i])
			if i > from {
				along += c.turns[i-1].spacing
			}
			across += float64(c.strokes[c.main[lo+i]].chord)
		}
		n := float64(i - from)
		for j := from; found && j < i; j++ {
			switch slender := along*n >= openSlender*across; {
			case !open(labels[j]):
			case slender && labels[j] == splitSatin:
				labels[j] = report.KindSatin
			case slender:
				labels[j] = report.KindOpenZigzag
			case along <= fillSpacing*n && along > retracing*n:
				labels[j] = report.KindFill
			default:
				labels[j] = report.KindRun
			}
		}
		i = max(i, from+1)
	}
}

// settle takes back satin that is none when looked at as a whole: crossings shorter
// than a needle is thick, and split bars that together are no longer than a bar or
// two, the rows of a small fill.
func (c *classifier) settle(labels []report.Kind, lo int) {
	for i := 0; i < len(labels); {
		k, from := labels[i], i
		var across, along float64
		split := 0
		for ; i < len(labels) && labels[i] == k; i++ {
			if i > from {
				along += c.turns[i-1].spacing
			}
			across += float64(c.strokes[c.main[lo+i]].chord)
			split += int(c.turns[i].multi)
		}
		n := i - from
		into := k
		switch {
		case k != report.KindSatin:
		case across < leastAcross*float64(n):
			into = report.KindRun
		case 2*split > n && c.hasSteps(lo+from, lo+i) && along*float64(n) < barSlender*across:
			into = report.KindFill
		}
		for j := from; j < i; j++ {
			labels[j] = into
		}
	}
}

// hasSteps reports whether most of the main strokes are joined by steps.
func (c *classifier) hasSteps(lo, hi int) bool {
	n := 0
	for j := lo; j+1 < hi; j++ {
		if c.main[j]+1 < c.main[j+1] {
			n++
		}
	}
	return 2*n > hi-lo
}
