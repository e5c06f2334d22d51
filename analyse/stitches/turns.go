package stitches

// Turns are the strokes of a passage that turn back on one another: its crossings or rows,
// in room that others use once it is Done.
type Turns struct {
	c *classifier // nil where each stitch is a crossing

	first, n int
}

// Turns finds those of the points first to last of a passage, last excluded.
func (t *Track) Turns(first, last int) Turns {
	if t.allAlone(first, last) {
		return Turns{first: first, n: last - first - 1}
	}
	c := classifiers.Get().(*classifier)
	c.t = t
	c.makeStrokes(first, last)
	c.markSteps()
	return Turns{c: c, n: len(c.main)}
}

// allAlone reports whether each stitch between points is known for a crossing of its own.
func (t *Track) allAlone(first, last int) bool {
	if last-first < 2 {
		return false
	}
	all := alone
	for _, m := range t.Marks[first+1 : last] {
		all &= m
	}
	return all != 0
}

// Len is the number of crossings or rows.
func (w Turns) Len() int { return w.n }

// At gives the first and the last point of a crossing or row, and whether a step along
// the edge led to it.
func (w Turns) At(i int) (from, to int32, rung bool) {
	if w.c == nil {
		from = int32(w.first + i)
		return from, from + 1, false
	}
	m := w.c.main[i]
	s := &w.c.strokes[m]
	return s.from, s.to, i > 0 && w.c.main[i-1]+1 < m
}

// Done gives the room back.
func (w Turns) Done() {
	if w.c != nil {
		w.c.done()
	}
}
