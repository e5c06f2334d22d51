package stitches

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// turn is what a main stroke of a chain and the next ones tell of the chain.
type turn struct {
	row   float64 // mm between the line of this stroke and that of the next
	cycle float64 // mm between the middles of this stroke and the next but one
	marks marks
}

// marks count how many of up to 255 main strokes are made so: eight bits for each.
type marks uint32

const (
	markMulti  marks = 1       // made of several stitches
	markHalved marks = 1 << 8  // made of two equal ones
	markStep   marks = 1 << 16 // a step leads to the next
	markAlong  marks = 1 << 24 // the next lies further along its own line
)

func (m marks) count(of marks) int { return int(m / of & 0xff) }

// alongLeast is by how much of its length a stroke lies further along its own line than the
// one before, where a line is sewn there and back. Of forward two and back one the longer
// strokes lie a quarter further on, less what rounding takes.
const alongLeast = 0.2

// middle is half way from one end of a main stroke to the other.
func (c *classifier) middle(main int) geom.Point {
	s := &c.strokes[c.main[main]]
	return geom.Middle(c.t.Pts[s.from], c.t.Pts[s.to])
}

// turnAt fills in the turn of main stroke j of those up to hi, and gives how many mm its
// middle lies from the next. It is given, and so are those of the next two where there are
// so many.
func (c *classifier) turnAt(t *turn, j, hi int, mid, next, after geom.Point) (spacing float64) {
	s := &c.strokes[c.main[j]]
	from, to := c.t.Pts[s.from], c.t.Pts[s.to]
	var is marks
	if s.stitches() > 1 {
		is = markMulti
		if s.stitches() == 2 && geom.Distance(c.t.Pts[s.from+1], mid) <= max(2*tieHole, barHalf*float64(s.length)) {
			is |= markHalved
		}
	}
	row, cycle := 0.0, 0.0
	if j+1 < hi {
		v, way := next.Sub(mid), to.Sub(from)
		if spacing = v.Norm(); s.chord > 0 {
			row = math.Abs(way.Cross(v)) / s.chord
		}
		if c.main[j]+1 < c.main[j+1] {
			is |= markStep
		}
		if spacing > alongLeast*float64(s.length) && s.goesAlong(v, way) {
			is |= markAlong
		}
	}
	if j+2 < hi {
		cycle = geom.Distance(mid, after)
	}
	t.row, t.cycle, t.marks = row, cycle, is
	return spacing
}

// goesAlong reports whether the way from the middle of a stroke to that of the next goes
// along its own.
func (s *stroke) goesAlong(to, way geom.Point) bool {
	return math.Abs(to.Dot(way)) > 0.9*to.Norm()*s.chord
}

// chain labels the main strokes lo to hi, each of which turns back on the one
// before it.
func (c *classifier) chain(lo, hi int) {
	n := hi - lo
	c.watch.Step(n)
	c.labels, c.spacing = slices.Grow(c.labels[:0], n)[:n], slices.Grow(c.spacing[:0], n)[:n]
	labels := c.labels
	if c.single(lo, hi) {
		c.labelSingle(labels, lo)
		marks := c.t.Marks[c.strokes[c.main[lo]].from+1:][:n]
		for i := range marks {
			marks[i] |= alone
		}
	} else if c.label(labels, lo) {
		c.settleOpen(labels, lo)
	}
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

// label labels main strokes by those about each. It tells whether some are to be settled
// by settleOpen.
func (c *classifier) label(labels []report.Kind, lo int) (unsettled bool) {
	n := len(labels)
	hi := lo + n
	mid, next := c.middle(lo), c.middle(min(lo+1, hi-1))

	// Running sums over the window [a, b).
	var sum turn
	var spacing float64
	var turns [4 * window]turn // those in it, by their number
	a, b := 0, 0
	for j := range n {
		for ; b < min(n, j+window+1); b++ {
			after := c.middle(min(lo+b+2, hi-1))
			t := &turns[b%len(turns)]
			c.spacing[b] = c.turnAt(t, lo+b, hi, mid, next, after)
			mid, next = next, after
			spacing += c.spacing[b]
			sum.row, sum.cycle, sum.marks = sum.row+t.row, sum.cycle+t.cycle, sum.marks+t.marks
		}
		for ; a < j-window; a++ {
			t := &turns[a%len(turns)]
			spacing -= c.spacing[a]
			sum.row, sum.cycle, sum.marks = sum.row-t.row, sum.cycle-t.cycle, sum.marks-t.marks
		}
		size, gaps, cycles := b-a, max(1, min(b, n-1)-a), max(1, min(b, n-2)-a)
		multi, steps := sum.marks.count(markMulti), sum.marks.count(markStep)
		s := &c.strokes[c.main[lo+j]]
		advance := sum.cycle / float64(cycles)
		if 3*steps > 2*gaps {
			advance /= 2 // every crossing is a rung of its own
		}
		switch {
		case s.length > splitLongest && 4*multi <= size:
			labels[j] = report.KindRun // a line that leads into satin
		case 2*sum.marks.count(markAlong) > gaps:
			labels[j] = report.KindTripleRun // forward two, back one
		case 4*multi > size:
			bars := 3*steps > 2*gaps && 3*sum.marks.count(markHalved) > 2*size
			labels[j] = s.splitKind(bars, 3*steps < gaps, spacing/float64(gaps), sum.row/float64(gaps), advance)
			unsettled = unsettled || open(labels[j])
		default:
			labels[j] = kindOpen(advance)
		}
	}
	return unsettled
}

// kindOpen is the kind of crossings that advance by so many mm from one to the next but one.
func kindOpen(advance float64) report.Kind {
	switch {
	case advance < SatinAdvance:
		return report.KindSatin
	case advance < zigzagAdvance:
		return report.KindOpenZigzag
	}
	return report.KindRun
}

// splitKind is the kind of a crossing or a row where many are made of several stitches:
// whether they are bars of two equal ones, or few steps lead from one to the next, and how
// far apart they are on average: their middles, their lines, and every other middle.
func (s *stroke) splitKind(bars, fewSteps bool, gap, row, advance float64) report.Kind {
	column := fewSteps && s.stitches() <= 4 && s.length <= splitLongest
	switch {
	case bars && gap <= barSpacing && s.length <= barLongest:
		return report.KindSatin // bars side by side
	case column && gap <= splitSpacing:
		return report.KindSatin
	case column && advance < SatinAdvance:
		return splitSatin
	case column && advance < zigzagAdvance:
		return splitZigzag
	case row <= fillSpacing && row > retracing:
		return report.KindFill
	}
	return report.KindRun
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

func open(k report.Kind) bool { return k == splitSatin || k == splitZigzag }

// openSlender is how many times as long as wide split crossings are together that are
// too open for satin: less is a fill whose rows turn without a step.
const openSlender = 6.0

// settleOpen tells split satin and zigzags whose crossings lie far apart from fills: a
// column is slender, along all that is split in a row.
func (c *classifier) settleOpen(labels []report.Kind, lo int) {
	for i := 0; i < len(labels); {
		from, found := i, false
		var across, along float64
		for ; i < len(labels) && (open(labels[i]) || labels[i] == report.KindSatin); i++ {
			found = found || open(labels[i])
			if i > from {
				along += c.spacing[i-1]
			}
			across += c.strokes[c.main[lo+i]].chord
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
		if labels[i] != report.KindSatin {
			i++
			continue
		}
		from := i
		var across, along float64
		split := 0
		for ; i < len(labels) && labels[i] == report.KindSatin; i++ {
			if i > from {
				along += c.spacing[i-1]
			}
			s := &c.strokes[c.main[lo+i]]
			across += s.chord
			if s.stitches() > 1 {
				split++
			}
		}
		n, into := i-from, report.KindSatin
		switch {
		case across < leastAcross*float64(n):
			into = report.KindRun
		case 2*split > n && c.hasSteps(lo+from, lo+i) && along*float64(n) < barSlender*across:
			into = report.KindFill
		default:
			continue
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
