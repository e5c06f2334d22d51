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
	g := holeGrid{low: hole{box.MinX, box.MinY}, wide: uint32(int64(box.MaxX) - int64(box.MinX) + 1)}
	wide, tall := int64(box.MaxX)-int64(box.MinX)+1, int64(box.MaxY)-int64(box.MinY)+1
	if wide > math.MaxUint32/tall || len(t.Pts) > math.MaxInt32/bitsAPoint || !t.againByPlace(moves, g) {
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

// scatter spreads places over numbers (Knuth's multiplicative hashing: the golden ratio of
// 2^32); its upper bits serve.
func scatter(place uint32) uint32 { return place * 2654435761 }

const (
	bitsAPoint = 8 // that tell holes apart: one in eight or so shares its bit
	mostProbes = 8 // places looked at for each hole on average, before they are said to be made to collide
)

// holeBuffers are used again from design to design.
type holeBuffers struct {
	seen, twice []uint64 // a bit each
	holes       []uint32 // places, 0 for none
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

// againByPlace first has a bit for the places that share one, and tells which bits come
// again; only of their places, mostly few, it remembers which they are. It gives false
// where they are made to collide.
func (t *Track) againByPlace(moves []stitchfile.Move, g holeGrid) bool {
	w := holePool.Get().(*holeBuffers)
	defer holePool.Put(w)
	log := max(6, bits.Len(uint(bitsAPoint*len(t.Pts)-1)))
	shift, n := 32-log, 1<<log/64
	seen, twice := zeros(w.seen, n), zeros(w.twice, n)
	w.seen, w.twice = seen, twice
	asked := 0 // points whose bits come again
	for i := range t.Segs {
		s := &t.Segs[i]
		for k := range moves[s.Move : s.Move+s.Last-s.First] {
			h := scatter(g.place(&moves[s.Move+k])) >> shift
			bit := uint64(1) << (h % 64)
			if word := &seen[h/64]; *word&bit == 0 {
				*word |= bit
				continue
			}
			asked++
			if word := &twice[h/64]; *word&bit == 0 {
				*word |= bit
				asked++ // and the first that had it
			}
		}
	}
	if asked == 0 {
		return true
	}
	log = bits.Len(uint(asked + asked/2))
	holes := zeros(w.holes, 1<<log)
	w.holes = holes
	last, probes := uint32(len(holes)-1), 0
	for i := range t.Segs {
		s := &t.Segs[i]
		for k := range moves[s.Move : s.Move+s.Last-s.First] {
			place := g.place(&moves[s.Move+k])
			h := scatter(place) >> shift
			if twice[h/64]&(1<<(h%64)) == 0 {
				continue
			}
			place++ // 0 is none
			at := scatter(place) >> (32 - log)
			for ; holes[at] != 0 && holes[at] != place; at = (at + 1) & last {
				probes++
			}
			if holes[at] == place {
				t.Marks[s.First+k] |= again
			}
			if holes[at] = place; probes > mostProbes*asked {
				return false
			}
		}
	}
	return true
}

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
