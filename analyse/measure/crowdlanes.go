package measure

import (
	"encoding/binary"
	"slices"
)

// crowdLanes sums up counts of holes row by row, four half cells at a time: each in its
// laneBits of a word. No sum is larger than a lane, and what is taken off and added in
// between may borrow from the next lane and give back.
type crowdLanes struct {
	words, rows int      // of a row, and their number
	along       []uint64 // for the last crowdRows rows: the holes about each half cell in its row, weighed
	none        []uint64 // a row of zeros
	sums        []uint64 // what is about each half cell of the last row
	step        []uint64 // by how much that is more than in the row before
}

const (
	laneBits  = 16
	laneCount = 64 / laneBits
	laneMost  = 1<<laneBits - 1 // more than crowdSpan^4 times the holes that a byte counts
	holePad   = laneCount       // as far as sums reach
	crowdRows = 16              // rows of which sums are kept: more than 2*crowdSpan, a power of two
)

// zeros are n zeros, in the memory of v if there is room.
func zeros[N uint8 | uint64](v []N, n int) []N {
	v = slices.Grow(v[:0], n)[:n]
	clear(v)
	return v
}

// begin readies w for rows of half cells.
func (w *crowdLanes) begin(nx, ny int) {
	w.words, w.rows = (nx+laneCount-1)/laneCount, ny
	w.none, w.sums, w.step = zeros(w.none, w.words), zeros(w.sums, w.words), zeros(w.step, w.words)
	w.along = slices.Grow(w.along[:0], crowdRows*w.words)[:crowdRows*w.words]
}

// spread puts four bytes into lanes.
func spread(four []byte) uint64 {
	v := uint64(binary.LittleEndian.Uint32(four))
	v = (v | v<<16) & 0x0000ffff_0000ffff
	return (v | v<<8) & 0x00ff00ff_00ff00ff
}

// sumAlong sums up what is about each half cell of a row, in it: holes begins with the
// empty ones before it. A moving mean is made of sums of two to the right, and of two of
// those; the second one goes to the left.
func sumAlong(out []uint64, holes []uint8) {
	next := spread(holes[holePad:])
	two := next << 48 // of what lies before the row
	before := two + (two>>32 | (next+next>>16)<<32)
	twice := before + before<<16
	for i := range out {
		here := next
		next = spread(holes[holePad+laneCount*(i+1):])
		if here|next|twice == 0 { // bare ground
			out[i], before = 0, 0
			continue
		}
		two := here + (here>>16 | next<<48)
		four := two + (two>>32 | (next+next>>16)<<32)
		pair := four + (four<<16 | before>>48)
		out[i] = pair + (pair<<32 | twice>>32)
		before, twice = four, pair
	}
}

// take lets a row come in, as sumAlong does with the holes of one, and puts into sums those
// of the row crowdSpan-1 before it: all holes about each half cell, twice summed up over
// crowdSpan half cells along either axis.
//
// The sum is one of sums: it grows from row to row by a step, and that by the row that
// comes in, less twice the one in the middle, and the one that goes out.
func (w *crowdLanes) take(y int) {
	sums := w.sums
	come, mid, gone, step := w.rowOf(y)[:len(sums)], w.rowOf(y - crowdSpan)[:len(sums)], w.rowOf(y - 2*crowdSpan)[:len(sums)], w.step[:len(sums)]
	for x := range sums {
		s := step[x] + come[x] - 2*mid[x] + gone[x]
		step[x] = s
		sums[x] += s
	}
}

// rowOf is what is summed up along a row.
func (w *crowdLanes) rowOf(y int) []uint64 {
	if y < 0 || y >= w.rows {
		return w.none
	}
	return w.along[y%crowdRows*w.words:][:w.words]
}

// eachRow calls f for each row once its sums are there.
func (w *counts) eachRow(f func(y int)) {
	row := laneCount*w.words + holePad
	for y := range w.rows + crowdSpan - 1 {
		if y < w.rows {
			sumAlong(w.rowOf(y), w.holes[y*row:])
		}
		w.take(y)
		if y >= crowdSpan-1 {
			f(y - crowdSpan + 1)
		}
	}
}

// peak is the half cell that is crowded most, and its sum.
func (w *counts) peak() (at cellPlace, most uint32) {
	const ones, low = 0x00000001_00000001, 0x0000ffff_0000ffff
	w.eachRow(func(y int) {
		less := (laneMost - uint64(most)) * ones // what makes a larger sum overflow
		for i, s := range w.sums {
			if ((s&low+less)|(s>>16&low+less))&^low == 0 {
				continue
			}
			for lane := range laneCount {
				if sum := uint32(s>>(lane*laneBits)) & laneMost; sum > most {
					most, at = sum, cellPlace{laneCount*i + lane, y}
				}
			}
			less = (laneMost - uint64(most)) * ones
		}
	})
	return at, most
}
