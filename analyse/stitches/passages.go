package stitches

import (
	"slices"
	"sync"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/internal/watch"
	"github.com/stopcard/stopcard/analyse/report"
)

// findPassages cuts every thread path into passages and gives each stitch its Kind.
//
// Stitches are first joined to strokes: chains that go straight on. Where
// strokes turn back on one another again and again they form a surface, and
// their spacing and the number of stitches in each tell satin, open zigzag and
// fill apart. What does not turn back is a line; it is a double run where it
// goes over itself again, and travel where it only leads from one surface to
// another. Spokes that go all round one hole are a knot, and a stitch far longer than its
// neighbours hops from one surface to the next: neither is of any. Short stitches that go
// nowhere at a thread's start or end are ties.
// The limits used are usual proportions of digitised work (common practice, no
// single source).
func (w *Sewn) findPassages(watched *watch.Watch) {
	t := &w.Track
	c := classifiers.Get().(*classifier)
	defer c.done()
	c.t, c.watch = t, watched
	longest := 0
	for i := range t.Segs {
		longest = max(longest, t.Segs[i].Last-t.Segs[i].First)
	}
	longest = min(longest, strokesAtOnce)
	c.strokes, c.main = slices.Grow(c.strokes[:0], longest), slices.Grow(c.main[:0], longest)
	for _, s := range t.Segs {
		c.segment(s)
	}
	w.Kinds = make([]report.Kind, len(w.Design.Moves))
	n := len(t.Segs)
	for _, s := range t.Segs {
		copy(w.Kinds[s.Move:], t.Kind[s.First:s.Last])
		for i := s.First + 1; i < s.Last; i++ {
			if t.Kind[i] != t.Kind[i-1] {
				n++
			}
		}
	}
	w.Passages = make([]report.Passage, 0, n)
	for _, s := range t.Segs {
		for i := s.First; i < s.Last; {
			k, from := t.Kind[i], i
			for i++; i < s.Last && t.Kind[i] == k; i++ {
			}
			lead := from
			if from > s.First {
				lead = from - 1
			}
			w.Passages = append(w.Passages, report.Passage{
				Stop: s.Stop + 1, Kind: k, First: s.Move + from - s.First, Last: s.Move + i - s.First,
				LengthMM: geom.PathLength(t.Pts[lead:i]), Column: -1,
				From: from, To: i,
			})
		}
	}
}

// classifier labels the stitches of one segment after another. A stitch goes by
// the index of the point where it ends.
type classifier struct {
	watch   *watch.Watch
	t       *Track
	strokes []stroke
	main    []int32 // strokes that are crossings or rows, not the steps between
	labels  []report.Kind
	spacing []float64 // mm from each to the next, of the chain that is labelled
	points  []int     // scratch
}

// classifiers are used again from design to design.
var classifiers = sync.Pool{New: func() any { return new(classifier) }}

func (c *classifier) done() {
	c.t, c.watch = nil, nil
	classifiers.Put(c)
}

// segment labels one segment.
func (c *classifier) segment(s Segment) {
	kind, pts := c.t.Kind, c.t.Pts
	for i := s.First; i < s.Last; i++ {
		kind[i] = report.KindRun
	}
	lo, hi := markTies(pts, kind, s)
	back := comesBack(pts, lo, hi)
	if back {
		c.t.markKnots(lo, hi)
		markTriples(pts, kind, lo, hi)
		markTeeth(pts, kind, lo, hi)
	}
	for i := lo + 1; i < hi; {
		if kind[i] != report.KindRun {
			i++
			continue
		}
		from := i - 1
		for i < hi && kind[i] == report.KindRun {
			i++
		}
		c.surfaces(from, i)
	}
	if back {
		untie(kind[s.First:s.Last])
	}
	c.absorb(s)
	c.lines(s)
	// The first needle-down has no stitch before it: it belongs to what follows.
	if s.Last-s.First > 1 && kind[s.First] != report.KindTie {
		kind[s.First] = kind[s.First+1]
	}
}

// comesBack reports whether the needle anywhere comes back to a hole two stitches later, as
// it does in triple runs and blanket stitches.
func comesBack(pts []geom.Point, lo, hi int) bool {
	for i := lo; i+2 < hi; i++ {
		if within(pts[i], pts[i+2], max(tripleHole, toothHole)) {
			return true
		}
	}
	return false
}

const tripleHole = 0.15 // mm: the needle comes back to the same hole

// markTriples finds stitches made forward, back and forward again: two needle
// points in a row that each come back two stitches later.
func markTriples(pts []geom.Point, kind []report.Kind, lo, hi int) {
	const shortest = 0.7 // mm
	for i := lo; i+3 < hi; i++ {
		if within(pts[i], pts[i+2], tripleHole) && within(pts[i+1], pts[i+3], tripleHole) && geom.Distance(pts[i], pts[i+1]) >= shortest {
			kind[i+1], kind[i+2], kind[i+3] = report.KindTripleRun, report.KindTripleRun, report.KindTripleRun
		}
	}
}

// within reports whether two points lie less than d mm apart.
func within(a, b geom.Point, d float64) bool {
	v := b.Sub(a)
	return v.Dot(v) < d*d
}

// absorb gives stray stitches between two passages of one kind to that kind: a
// stitch or two at a turn of a fill, at the corner of a triple run, at the
// step of a satin column.
func (c *classifier) absorb(s Segment) {
	kind, pts := c.t.Kind, c.t.Pts
	i := s.First + 1
	for i < s.Last {
		k, from := kind[i], i
		for i < s.Last && kind[i] == k {
			i++
		}
		if k != report.KindRun || from == s.First+1 && i == s.Last {
			continue
		}
		l := geom.PathLength(pts[from-1 : i])
		if i < s.Last && kind[i] == report.KindFill || from > s.First+1 && kind[from-1] == report.KindFill {
			// The first and last rows of a fill are too few to show what they are.
			if l < 8 && geom.Distance(pts[from-1], pts[i-1]) < 0.6*l {
				for j := from; j < i; j++ {
					kind[j] = report.KindFill
				}
				continue
			}
		}
		if from <= s.First+1 || i >= s.Last || kind[from-1] != kind[i] {
			continue
		}
		around, n := kind[i], i-from
		stray := false
		switch around {
		case report.KindTripleRun:
			stray = n <= 2
		case report.KindFill:
			stray = n <= 4 && l < 6
		case report.KindSatin, report.KindOpenZigzag:
			stray = n <= 2 && l < 4 && !(n == 1 && l > hopLonger*geom.Distance(pts[from-2], pts[from-1]) && l > hopLonger*geom.Distance(pts[i-1], pts[i]))
		}
		if stray {
			for j := from; j < i; j++ {
				kind[j] = around
			}
		}
	}
}
