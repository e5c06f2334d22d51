package measure

import (
	"math"
	"math/bits"
)

// cellPlaces are the places along one cell, cellBits of them, by bits and by bytes.
type cellPlaces struct {
	length float64   // mm of each
	each   float64   // mm by which one lane counts that hides it
	over   [2]uint64 // lanes that hide it, of those that tell
	hidden uint16    // the edge itself is
	open   uint16    // it may be bare: see candidate
	bare   uint16
	counts uint16 // what is hidden there tells how close the cover is
	out    bool   // no edge, or under other cloth
	none   bool   // no lane lies well within the satin
}

// The numbers of places along a ring run from cell to cell: their cells and their bits.
func (w *ringWork) cellOf(i int) *cellPlaces { return &w.places[i/cellBits] }

// edge is how much of the edge itself is hidden at one place, in mm.
func (q *cellPlaces) edge(i int) float64 {
	if q.hidden>>(i%cellBits)&1 == 1 {
		return q.length
	}
	return 0
}

// band is the mean of what is hidden over the lanes at one place, in mm.
func (q *cellPlaces) band(i int) float64 {
	return float64(uint8(q.over[i%cellBits/8]>>(i%8*8))) * q.each
}

// mark finds the places that count, when it is known which are bare.
func (q *cellPlaces) mark() {
	if !q.out && !q.none {
		q.counts = ^q.bare
	}
}

// beside is the share of the edge that is hidden on either side of the places from
// to last, over besideMM.
func (w *ringWork) beside(from, last int) float64 {
	n := w.count()
	hidden, all := w.along((last+1)%n, 1)
	before, most := w.along((from-1+n)%n, -1)
	if all += most; all == 0 {
		return 1
	}
	return (hidden + before) / all
}

// along is how much of the edge is hidden from a place on for besideMM, one way or the
// other, and how much of it is edge, both in mm.
func (w *ringWork) along(i, step int) (hidden, all float64) {
	n := w.count()
	l := 0.0
	for k := 0; l < besideMM && k < n; {
		q := w.cellOf(i)
		// The places of the cell from here on, or as many as there is to go.
		left := cellBits - i%cellBits
		if step < 0 {
			left = i%cellBits + 1
		}
		left = min(left, n-k)
		if more := (besideMM - l) / q.length; more < float64(left) {
			left = int(math.Ceil(more))
		}
		some := uint16(1<<left-1) << (i % cellBits)
		if step < 0 {
			some = uint16(1<<left-1) << (i%cellBits + 1 - left)
		}
		mm := float64(left) * q.length
		if !q.out {
			hidden, all = hidden+float64(bits.OnesCount16(q.hidden&some))*q.length, all+mm
		}
		l, k = l+mm, k+left
		if i += step * left; i < 0 {
			i += n
		} else if i >= n {
			i -= n
		}
	}
	return hidden, all
}

// inBytes are the bits of a byte in eight bytes.
func inBytes(bits uint8) uint64 {
	const each = 0x0101010101010101
	one := uint64(bits) * each & 0x8040201008040201
	return (one + 0x7f*each) >> 7 & each
}
