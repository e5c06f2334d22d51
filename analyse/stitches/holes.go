package stitches

import (
	"slices"
	"sync"

	"github.com/stopcard/stopcard/stitchfile"
)

const (
	// mostBitsAPoint is how many places of the file's grid there may be for each needle
	// point, for all to be kept as bits; 16 bytes a point.
	mostBitsAPoint = 128
	// fewBits are always kept so: the grid of 250 by 250 mm, 780 kB.
	fewBits = 2500 * 2500
	// mostHolesAtOnce bounds the holes that are remembered elsewise.
	mostHolesAtOnce = 1 << 20
)

type hole struct{ x, y int32 }

// findAgain fills in Again; box is that around all points, on the file's grid. Which
// holes are one is a matter of the file, so it does not change with the scale.
func (t *Track) findAgain(moves []stitchfile.Move, box stitchfile.Box) {
	t.Again = make([]bool, len(t.Pts))
	if len(t.Pts) == 0 {
		return
	}
	wide, tall := int64(box.MaxX)-int64(box.MinX)+1, int64(box.MaxY)-int64(box.MinY)+1
	// No grid is wider than the range of its coordinates, so the product is no overflow
	// as long as each side is small enough.
	most := max(fewBits, mostBitsAPoint*int64(len(t.Pts)))
	if wide <= most && tall <= most/wide {
		t.againByGrid(moves, hole{box.MinX, box.MinY}, wide, tall)
		return
	}
	t.againByParts(moves)
}

// grids are used again from design to design.
var grids = sync.Pool{New: func() any { return new([]uint64) }}

// againByGrid has a bit for each place of the grid from low on.
func (t *Track) againByGrid(moves []stitchfile.Move, low hole, wide, tall int64) {
	grid := grids.Get().(*[]uint64)
	defer grids.Put(grid)
	n := int((wide*tall + 63) / 64)
	*grid = slices.Grow((*grid)[:0], n)[:n]
	taken := *grid
	clear(taken)
	again := t.Again
	for i, at := range t.Move[:len(again)] {
		m := &moves[at]
		place := uint64((int64(m.Y)-int64(low.y))*wide + int64(m.X) - int64(low.x))
		word, bit := taken[place/64], uint64(1)<<(place%64)
		again[i] = word&bit != 0
		taken[place/64] = word | bit
	}
}

// againByParts goes over the points once for each part of all places, so that no more
// than a part is remembered at a time.
func (t *Track) againByParts(moves []stitchfile.Move) {
	parts := uint32(len(t.Pts)/mostHolesAtOnce + 1)
	holes := make(map[hole]struct{}, min(len(t.Pts), mostHolesAtOnce))
	for part := range parts {
		clear(holes)
		for i, at := range t.Move {
			m := &moves[at]
			h := hole{m.X, m.Y}
			if h.part(parts) != part {
				continue
			}
			before := len(holes)
			holes[h] = struct{}{}
			t.Again[i] = len(holes) == before
		}
	}
}

// part spreads holes over the given number of parts. The factors are odd and their bits
// mixed (Knuth's multiplicative hashing: the golden ratio of 2^32, and one of its like).
func (h hole) part(parts uint32) uint32 {
	v := uint32(h.x)*2654435761 ^ uint32(h.y)*2246822519
	return uint32(uint64(v) * uint64(parts) >> 32)
}
