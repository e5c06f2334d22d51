package stitches

// EachTurn calls f for every crossing or row of the points first to last of a passage, last
// excluded, with its first and last point; rung tells whether a step along the edge led to
// it. They are strokes that turn back on one another.
func (t *Track) EachTurn(first, last int, f func(from, to int32, rung bool)) {
	c := classifiers.Get().(*classifier)
	defer c.done()
	c.t = t
	c.makeStrokes(first, last)
	c.markSteps()
	for j, m := range c.main {
		s := &c.strokes[m]
		f(s.from, s.to, j > 0 && c.main[j-1]+1 < m)
	}
}
