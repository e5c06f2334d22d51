package stitches

import (
	"math"
	"math/bits"
	"sync"

	"github.com/stopcard/stopcard/stitchfile"
)

// mostHolesAtOnce bounds the holes that are remembered where they lie far and wide.
const mostHolesAtOnce = 1 << 20

type hole struct{ x, y int32 }

// findAgain marks the points where the needle goes into a hole again; box is that around
// all points, on the file's grid. Which holes are one is a matter of the file, so it does
// not change with the scale.
func (t *Track) findAgain(moves []stitchfile.Move, box stitchfile.Box) {
	if len(t.Pts) == 0 {
		return
	}
	wide, tall := int64(box.MaxX)-int64(box.MinX)+1, int64(box.MaxY)-int64(box.MinY)+1
	g := holeGrid{low: hole{box.MinX, box.MinY}, wide: uint32(wide)}
	slots := bits.Len(uint(2 * len(t.Pts))) // at most half of them are taken
	switch {
	case wide > math.MaxUint32/tall || slots > 31:
		t.againByParts(moves)
	case wide*tall/8 <= 4<<slots:
		t.againByGrid(moves, g, int(wide*tall))
	case !t.againByTable(moves, g, slots):
		t.againByParts(moves)
	}
}

// holeGrid numbers the places of a grid, row after row.
type holeGrid struct {
	low  hole
	wide uint32
}

func (g *holeGrid) place(m *stitchfile.Move) uint32 {
	return uint32(m.Y-g.low.y)*g.wide + uint32(m.X-g.low.x)
}

// holeBuffers are used again from design to design.
type holeBuffers struct {
	taken  []uint64 // a bit for each place
	places []uint32
}

var holePool = sync.Pool{New: func() any { return new(holeBuffers) }}

// zeros are n numbers, in the place of v where there is room.
func zeros[T uint32 | uint64](v []T, n int) []T {
	if cap(v) < n {
		return make([]T, n)
	}
	v = v[:n]
	clear(v)
	return v
}

// againByGrid has a bit for each place of a grid.
func (t *Track) againByGrid(moves []stitchfile.Move, g holeGrid, places int) {
	w := holePool.Get().(*holeBuffers)
	defer holePool.Put(w)
	taken := zeros(w.taken, places/64+1)
	w.taken = taken
	for i := range t.Segs {
		s := &t.Segs[i]
		marks := t.Marks[s.First:s.Last]
		moves := moves[s.Move : s.Move+len(marks)]
		for k := range moves {
			place := g.place(&moves[k])
			word, at := &taken[place/64], place%64
			marks[k] |= Mark(*word>>at&1) * again
			*word |= 1 << at
		}
	}
}

const mostProbes = 8 // slots looked at for each hole on average, before they are said to be made to collide

// againByTable remembers each place that has a hole, in a table of so many slots, a power
// of two. It gives false where places are made to share slots.
func (t *Track) againByTable(moves []stitchfile.Move, g holeGrid, slots int) bool {
	w := holePool.Get().(*holeBuffers)
	defer holePool.Put(w)
	places := zeros(w.places, 1<<slots)
	w.places = places
	last, shift := uint32(len(places)-1), 32-slots
	probes := mostProbes * len(t.Pts)
	for i := range t.Segs {
		s := &t.Segs[i]
		marks := t.Marks[s.First:s.Last]
		moves := moves[s.Move : s.Move+len(marks)]
		for k := range moves {
			place := g.place(&moves[k]) + 1 // 0 is none
			at := scatter(place) >> shift
			for places[at&last] != 0 && places[at&last] != place {
				at++
				if probes--; probes < 0 {
					return false
				}
			}
			if places[at&last] == place {
				marks[k] |= again
			}
			places[at&last] = place
		}
	}
	return true
}

// scatter spreads places over numbers (Knuth's multiplicative hashing: the golden ratio of
// 2^32); its upper bits serve.
func scatter(place uint32) uint32 { return place * 2654435761 }

// againByParts goes over the points once for each part of all places, so that no more
// than a part is remembered at a time.
func (t *Track) againByParts(moves []stitchfile.Move) {
	parts := uint32(len(t.Pts)/mostHolesAtOnce + 1)
	holes := make(map[hole]struct{}, min(len(t.Pts), mostHolesAtOnce))
	for part := range parts {
		clear(holes)
		for _, s := range t.Segs {
			for i := s.First; i < s.Last; i++ {
				m := &moves[s.Move+i-s.First]
				h := hole{m.X, m.Y}
				if h.part(parts) != part {
					continue
				}
				before := len(holes)
				holes[h] = struct{}{}
				if len(holes) == before {
					t.Marks[i] |= again
				}
			}
		}
	}
}

// part spreads holes over the given number of parts. The factors are odd and their bits
// mixed (Knuth's multiplicative hashing: the golden ratio of 2^32, and one of its like).
func (h hole) part(parts uint32) uint32 {
	v := uint32(h.x)*2654435761 ^ uint32(h.y)*2246822519
	return uint32(uint64(v) * uint64(parts) >> 32)
}
