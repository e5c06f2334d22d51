package analyse

// Passages cuts every thread path into passages and gives each stitch its Kind.
//
// Stitches are first joined to strokes: chains that go straight on. Where
// strokes turn back on one another again and again they form a surface, and
// their spacing and the number of stitches in each tell satin, open zigzag and
// fill apart. What does not turn back is a line; it is a double run where it
// goes over itself again, and travel where it only leads from one surface to
// another. Short stitches that go nowhere at a thread's start or end are ties.
// The limits used are usual proportions of digitised work (common practice, no
// single source).
var Passages = &Analyser{
	Name:     "passages",
	Doc:      "the kind of each stitch, and the passages of one kind",
	Requires: []*Analyser{Stops},
	Run:      findPassages,
}

func findPassages(p *Pass) {
	p.track = makeTrack(p)
	t := &p.track
	c := classifier{t: t}
	for _, s := range t.segs {
		c.segment(s)
	}
	r := p.Report
	r.Kinds = make([]Kind, len(p.Design.Moves))
	for i, k := range t.kind {
		r.Kinds[t.move[i]] = k
	}
	if p.Scale != 1 {
		for i, q := range t.pts {
			t.pts[i] = q.times(p.Scale)
		}
	}
	for _, s := range t.segs {
		for i := s.first; i < s.last; {
			k, from := t.kind[i], i
			for i++; i < s.last && t.kind[i] == k; i++ {
			}
			lead := from
			if from > s.first {
				lead = from - 1
			}
			r.Passages = append(r.Passages, Passage{
				Stop: s.stop + 1, Kind: k, First: int(t.move[from]), Last: int(t.move[i-1]) + 1,
				LengthMM: pathLength(t.pts[lead:i]), Column: -1,
				first: from, last: i, band: -1,
			})
		}
	}
}

// classifier labels the stitches of one segment after another. A stitch goes by
// the index of the point where it ends.
type classifier struct {
	t       *track
	strokes []stroke
	main    []int32 // strokes that are crossings or rows, not the steps between
	labels  []Kind
}

// segment labels one segment.
func (c *classifier) segment(s segment) {
	kind, pts := c.t.kind, c.t.pts
	for i := s.first; i < s.last; i++ {
		kind[i] = KindRun
	}
	lo, hi := markTies(pts, kind, s)
	markTriples(pts, kind, lo, hi)
	for i := lo + 1; i < hi; {
		if kind[i] != KindRun {
			i++
			continue
		}
		from := i - 1
		for i < hi && kind[i] == KindRun {
			i++
		}
		c.surfaces(from, i)
	}
	c.absorb(s)
	c.lines(s)
	// The first needle-down has no stitch before it: it belongs to what follows.
	if s.last-s.first > 1 && kind[s.first] != KindTie {
		kind[s.first] = kind[s.first+1]
	}
}

// markTriples finds stitches made forward, back and forward again: two needle
// points in a row that each come back two stitches later.
func markTriples(pts []Point, kind []Kind, lo, hi int) {
	const same, shortest = 0.15, 0.7 // mm
	for i := lo; i+3 < hi; i++ {
		if distance(pts[i], pts[i+2]) < same && distance(pts[i+1], pts[i+3]) < same && distance(pts[i], pts[i+1]) >= shortest {
			kind[i+1], kind[i+2], kind[i+3] = KindTripleRun, KindTripleRun, KindTripleRun
		}
	}
}

// absorb gives stray stitches between two passages of one kind to that kind: a
// stitch or two at a turn of a fill, at the corner of a triple run, at the
// step of a satin column.
func (c *classifier) absorb(s segment) {
	kind, pts := c.t.kind, c.t.pts
	i := s.first + 1
	for i < s.last {
		k, from := kind[i], i
		var l float64
		for ; i < s.last && kind[i] == k; i++ {
			l += distance(pts[i-1], pts[i])
		}
		if k != KindRun {
			continue
		}
		if i < s.last && kind[i] == KindFill || from > s.first+1 && kind[from-1] == KindFill {
			// The first and last rows of a fill are too few to show what they are.
			if l < 8 && distance(pts[from-1], pts[i-1]) < 0.6*l {
				for j := from; j < i; j++ {
					kind[j] = KindFill
				}
				continue
			}
		}
		if from <= s.first+1 || i >= s.last || kind[from-1] != kind[i] {
			continue
		}
		around, n := kind[i], i-from
		stray := false
		switch around {
		case KindTripleRun:
			stray = n <= 2
		case KindFill:
			stray = n <= 4 && l < 6
		case KindSatin, KindOpenZigzag:
			stray = n <= 2 && l < 4
		}
		if stray {
			for j := from; j < i; j++ {
				kind[j] = around
			}
		}
	}
}
