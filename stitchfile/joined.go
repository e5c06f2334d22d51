package stitchfile

import (
	"bytes"
	"encoding/binary"
)

// Two files that were joined into one are sewn as the first alone, or not at all. Where a
// format says nothing of what may follow its stitches, a second file of its own kind is
// known by how it begins.

// anotherBehind doubts a design behind which a second one begins at the given byte; none
// does where that is negative.
func (a *assembler) anotherBehind(format string, at int) {
	if at >= 0 {
		a.doubts(at, "another %s file begins behind this one; it is passed over", format)
	}
}

// joinedAt is the first place in data from the byte from on where begins reports that a
// file begins, and where the mark stands that such files have; or -1.
func joinedAt(data []byte, from int, mark []byte, begins func([]byte) bool) int {
	for p := min(from, len(data)); ; p++ {
		i := bytes.Index(data[p:], mark)
		if i < 0 {
			return -1
		}
		if p += i; begins(data[p:]) {
			return p
		}
	}
}

// joinedU01 looks for a second header of a row of zeros, which no records are.
func joinedU01(data []byte) int {
	return joinedAt(data, u01Header, bytes.Repeat([]byte("0"), u01Mark), func(b []byte) bool { return len(b) > u01Header })
}

// joinedHUS looks in what follows the beginning of the last stream, for HUS and VIP.
func joinedHUS(data []byte, from int) int {
	return joinedAt(data, from, data[:4], func(b []byte) bool {
		if len(b) < husHeader {
			return false
		}
		first, second, third := binary.LittleEndian.Uint32(b[20:]), binary.LittleEndian.Uint32(b[24:]), binary.LittleEndian.Uint32(b[28:])
		return husHeader <= first && first < second && second < third && int64(third) < int64(len(b))
	})
}

// joinedPCS looks behind the records, where a name and a description stand.
func joinedPCS(data []byte, from int) int {
	return joinedAt(data, from, []byte{0x32}, func(b []byte) bool { return recognisePCS(b, false) != No })
}

// joinedXXX looks behind the colours, which zeros follow. A header begins with zeros too,
// up to its count of records.
func joinedXXX(data []byte, from int) int {
	rest := data[min(from, len(data)):]
	first := len(rest) - len(bytes.TrimLeft(rest, "\x00"))
	for low := range 4 { // bytes of the count that may be zero
		if p := first - xxxRecords - low; p >= 0 && recogniseXXX(rest[p:], false) == Likely {
			return from + p
		}
	}
	return -1
}
