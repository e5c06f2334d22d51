package stitches

// Turns are the strokes of a passage that turn back on one another: its crossings or rows,
// in room that others use once it is Done.
type Turns struct{ c *classifier }

// Turns finds those of the points first to last of a passage, last excluded.
func (t *Track) Turns(first, last int) Turns {
	c := classifiers.Get().(*classifier)
	c.t = t
	c.makeStrokes(first, last)
	c.markSteps()
	return Turns{c}
}

// Len is the number of crossings or rows.
func (w Turns) Len() int { return len(w.c.main) }

// At gives the first and the last point of a crossing or row, and whether a step along
// the edge led to it.
func (w Turns) At(i int) (from, to int32, rung bool) {
	m := w.c.main[i]
	s := &w.c.strokes[m]
	return s.from, s.to, i > 0 && w.c.main[i-1]+1 < m
}

// Done gives the room back.
func (w Turns) Done() { w.c.done() }
