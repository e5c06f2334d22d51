package stitches

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// stroke is stitches that go on in one direction, from pts[from] to pts[to].
type stroke struct {
	from, to int32
	length   float32    // mm along its stitches
	dir      geom.Point // unit vector from its first point to its last
	chord    float32    // mm from its first point to its last
	step     bool       // only leads from one crossing or row to the next
}

func (s *stroke) stitches() int32 { return s.to - s.from }

const (
	strokeBend = 0.866 // cosine of 30 degrees: a stitch that bends less goes on
	turnBack   = -0.5  // cosine: strokes that turn by more than 120 degrees turn back
	zigzagTurn = 0.5   // cosine: a zigzag turns by more than 60 degrees, left and right in turn

	longestStep   = 1.3 // mm along the edge between two rows or rungs
	slantStep     = 2.2 // mm along a slanting edge, between rows at least twice as long
	toothStep     = 4.5 // mm between the teeth of a blanket stitch
	SatinAdvance  = 1.1 // mm: crossings further apart show the cloth and are an open zigzag
	zigzagAdvance = 8.0 // mm: and further than this they are no surface at all
	splitSpacing  = 0.33
	splitLongest  = 16.0 // mm from rail to rail of a split satin column
	fillSpacing   = 1.5  // mm between rows; wider rows are lines
	window        = 4    // crossings looked at to either side
	straightRow   = 0.93 // chord over length of a crossing or row
	fewest        = 4    // crossings that make a surface
	retracing     = 0.12 // mm between rows; closer ones are a line sewn over itself

	barSpacing  = 0.6  // mm between bars that are satin split in the middle; rows of a wider fill are open ground
	barLongest  = 5.0  // mm; longer bars are rows of a fill, whose stitches are 2.5 mm and more
	barHalf     = 0.15 // share of a bar by which the hole between its two stitches may miss the middle
	barSlender  = 3.0  // times as long together as one is across; less is a small fill
	leastAcross = 0.5  // mm: crossings shorter than a needle is thick are a line that wavers, not satin
)

// surfaces labels the stitches after point from and before point to, wherever
// they form satin, open zigzag or fill.
func (c *classifier) surfaces(from, to int) {
	c.makeStrokes(from, to)
	c.markSteps()
	for i := 0; i < len(c.main); {
		j := i + 1
		for j < len(c.main) && c.joined(j) {
			j++
		}
		if j-i >= fewest {
			c.chain(i, j)
		}
		i = j
	}
}

func (c *classifier) makeStrokes(from, to int) {
	pts := c.t.Pts
	c.strokes = c.strokes[:0]
	var last geom.Point
	lastLength := 0.0
	for i := from + 1; i < to; i++ {
		c.watch.Step(1)
		v := pts[i].Sub(pts[i-1])
		l := v.Norm()
		n := len(c.strokes)
		if n > 0 && (l < 0.05 || last.Dot(v) > strokeBend*lastLength*l) {
			c.strokes[n-1].to = int32(i)
			c.strokes[n-1].length += float32(l)
		} else {
			s := stroke{from: int32(i - 1), to: int32(i), length: float32(l), chord: float32(l), dir: v}
			if l > 0 {
				s.dir = v.Times(1 / l)
			}
			c.strokes = append(c.strokes, s)
		}
		if l >= 0.05 {
			last, lastLength = v, l
		}
	}
	for i := range c.strokes {
		s := &c.strokes[i]
		if s.stitches() == 1 {
			continue
		}
		v := pts[s.to].Sub(pts[s.from])
		chord := v.Norm()
		if s.chord, s.dir = float32(chord), v; chord > 0 {
			s.dir = v.Times(1 / chord)
		}
	}
}

// markSteps tells the crossings and rows from the short strokes that lead along
// the edge from one to the next, as in ladders, rows and blanket stitches.
func (c *classifier) markSteps() {
	s := c.strokes
	c.main = c.main[:0]
	for i := range s {
		if i > 0 && i+1 < len(s) && !s[i-1].step {
			a, b, l := &s[i-1], &s[i+1], s[i].length
			short := l <= longestStep && a.length >= 1.5*l && b.length >= 1.5*l ||
				l <= slantStep && a.length >= 2*l && b.length >= 2*l
			if !short && i > 1 && c.tooth(i-2, i-1) {
				short = l <= min(toothStep, 3*a.length) && math.Abs(s[i].dir.Dot(a.dir)) < 0.85
			}
			if short && a.dir.Dot(b.dir) < turnBack {
				s[i].step = true
			}
		}
		if !s[i].step {
			c.main = append(c.main, int32(i))
		}
	}
}

// tooth reports whether stroke j goes back over stroke i to the very hole it
// came from.
func (c *classifier) tooth(i, j int) bool {
	a, b := &c.strokes[i], &c.strokes[j]
	return !a.step && a.dir.Dot(b.dir) < -0.95 && geom.Distance(c.t.Pts[a.from], c.t.Pts[b.to]) < 0.2
}

// joined reports whether main stroke j turns back on the one before.
func (c *classifier) joined(j int) bool {
	a, b := &c.strokes[c.main[j-1]], &c.strokes[c.main[j]]
	if a.chord < straightRow*a.length || b.chord < straightRow*b.length {
		return false // a crossing or a row is nearly straight
	}
	cos := a.dir.Dot(b.dir)
	if cos < turnBack {
		// A line that leads away from satin may happen to leave it backwards.
		leads := (a.stitches() > 1) != (b.stitches() > 1) &&
			geom.Distance(c.t.Pts[a.from], c.t.Pts[b.to]) > 1+1.5*float64(min(a.length, b.length))
		return !leads
	}
	if cos > zigzagTurn || a.stitches() > 1 || b.stitches() > 1 {
		return false
	}
	turn := a.dir.Cross(b.dir)
	if j >= 2 {
		z := &c.strokes[c.main[j-2]]
		if z.stitches() == 1 && z.dir.Cross(a.dir)*turn < 0 && z.dir.Dot(a.dir) < zigzagTurn {
			return true
		}
	}
	if j+1 < len(c.main) {
		d := &c.strokes[c.main[j+1]]
		if d.stitches() == 1 && b.dir.Cross(d.dir)*turn < 0 && b.dir.Dot(d.dir) < zigzagTurn {
			return true
		}
	}
	return false
}

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
	c.turns = c.turns[:0]
	for _, m := range main[lo:hi] {
		s := &c.strokes[m]
		c.turns = append(c.turns, turn{mid: geom.Middle(pts[s.from], pts[s.to])})
	}
	n := hi - lo
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
	if cap(c.labels) < n {
		c.labels = make([]report.Kind, n)
	}
	labels := c.labels[:n]
	c.layTurns(lo, hi)
	turns := c.turns

	// Running sums over the window [a, b).
	var multi, steps, along, halved int
	var spacing, rows, cycle float64
	a, b := 0, 0
	for j := range n {
		c.watch.Step(1)
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
