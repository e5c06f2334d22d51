package measure

import "testing"

// A stretch of edge is no gap where it runs between two stitches that lie along it.
func TestSlitsBetweenStitchesAlongAnEdge(t *testing.T) {
	const all = 1<<cellBits - 1
	for _, c := range []struct {
		name            string
		spare           float64
		outside, inside uint16 // places under thread a little outside the edge, and inside
		slit            bool
	}{
		{"thread a little outside", 1, all, 0, true},
		{"thread a little inside", 1, 0, all, true},
		{"half of it outside, half inside", 1, 0xff, 0xff00, true},
		{"a gap that stitches cross aslant, a third of it outside", 1, 0x1f, 0, false},
		{"just under half", 1, 0x7f, 0, false},
		{"just half", 1, 0xff, 0, true},
		{"a gap that stitches cross", 1, 0, 0, false},
		{"satin that stops short, other thread outside it", -0.5, all, 0, false},
		{"satin that ends at the edge", ReachSlackMM, 0, all, false},
		{"satin that just goes on past it", ReachSlackMM + 0.01, 0, all, true},
	} {
		cell := edgeCell{spare: c.spare, length: 0.5}
		cell.hidden[fringe], cell.hidden[1] = c.outside, c.inside
		w := ringWork{cells: []edgeCell{cell, {length: 0.5}}, places: make([]cellPlaces, 2)}
		if got := w.slit(0, cellBits); got != c.slit {
			t.Errorf("%s: a slit: %v", c.name, got)
		}
	}
}
