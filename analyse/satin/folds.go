package satin

import (
	"math"
	"math/bits"
	"math/rand/v2"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
)

// foldCell is the side of the squares in mm, on the design as it is, in which a column
// that comes back over itself meets its own crossings again.
const foldCell = 1.0

// visit is a square that the centre line of a column comes through, and the crossing with
// which it enters it.
type visit struct{ x, y, first int32 }

// findFolds finds out whether a column lies over itself anywhere, and if so where its
// crossings are.
func (w *columnWork) findFolds(x []crossing) {
	w.visits = w.visits[:0]
	// The same cells at every scale, whatever arithmetic leaves: what lies over itself does
	// so however large it is sewn.
	per := 1 / (foldCell * w.scale)
	cell := func(v float64) int32 { return int32(math.Floor(v*per + 1e-9)) }
	for j := range x {
		m := x[j].mid()
		cx, cy := cell(m.X), cell(m.Y)
		if n := len(w.visits); n > 0 && w.visits[n-1].x == cx && w.visits[n-1].y == cy {
			continue
		}
		w.visits = append(w.visits, visit{cx, cy, int32(j)})
	}
	w.folds = w.comesBack()
	if w.folds {
		w.met = append(w.met[:0], make([]int32, len(x))...)
		w.near = geom.NewCells(foldCell, len(x), func(j int) geom.Box { return geom.BoxOf([]geom.Point{x[j].a, x[j].b}) })
	}
}

// comesBack reports whether one of the visits is to a square that was left so many
// crossings before that they are no neighbours. The last visit to each square is kept in
// a table by a product that nobody who makes a file knows.
func (w *columnWork) comesBack() bool {
	if w.odd[0] == 0 {
		w.odd = [2]uint64{rand.Uint64() | 1, rand.Uint64() | 1}
	}
	size := 4 << bits.Len(uint(len(w.visits)))
	w.last = slices.Grow(w.last[:0], size)[:size]
	clear(w.last)
	shift := 64 - bits.TrailingZeros(uint(size))
	for i := range w.visits {
		v := &w.visits[i]
		at := (uint64(uint32(v.x))*w.odd[0] + uint64(uint32(v.y))*w.odd[1]) >> shift
		for {
			k := w.last[at] // one more than a visit; 0 for none
			if k == 0 {
				break
			}
			if u := &w.visits[k-1]; u.x == v.x && u.y == v.y {
				if left := w.visits[k].first - 1; int(v.first-left) > 2*laneReach {
					return true
				}
				break
			}
			at = (at + 1) & uint64(size-1)
		}
		w.last[at] = int32(i) + 1
	}
	return false
}
