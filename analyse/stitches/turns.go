package stitches

// Turns finds the strokes of a passage that turn back on one another. It may be
// used again, which saves memory; the zero value is ready.
type Turns struct{ c classifier }

// Each calls f for every crossing or row of the points first to last, last
// excluded, with its first and last point; rung tells whether a step along the edge
// led to it.
func (w *Turns) Each(t *Track, first, last int, f func(from, to int32, rung bool)) {
	w.c.t = t
	w.c.makeStrokes(first, last)
	w.c.markSteps()
	for j, m := range w.c.main {
		s := &w.c.strokes[m]
		f(s.from, s.to, j > 0 && w.c.main[j-1]+1 < m)
	}
	w.c.t = nil
}
