package measure

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

// inBytes are the bits of a byte in eight bytes.
func inBytes(bits uint8) uint64 {
	const each = 0x0101010101010101
	one := uint64(bits) * each & 0x8040201008040201
	return (one + 0x7f*each) >> 7 & each
}
