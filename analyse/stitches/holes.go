package stitches

import "github.com/stopcard/stopcard/stitchfile"

// findAgain fills in Again. Which holes are one is a matter of the file, so it does
// not change with the scale.
func (t *Track) findAgain(moves []stitchfile.Move) {
	t.Again = make([]bool, len(t.Pts))
	type hole struct{ x, y int32 }
	holes := make(map[hole]struct{}, len(t.Pts))
	for i := range t.Pts {
		m := &moves[t.Move[i]]
		before := len(holes)
		holes[hole{m.X, m.Y}] = struct{}{}
		t.Again[i] = len(holes) == before
	}
}
