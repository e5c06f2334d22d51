package stitchtest

import (
	"fmt"
	"slices"

	"github.com/stopcard/stopcard/stitchfile"
)

// encoders holds one encoder for each format name.
var encoders = map[string]func(*stitchfile.Design) ([]byte, error){}

// Encode gives the bytes of d in the named format, such as "DST". What the
// format cannot hold is left out; an error says what it cannot hold at all.
func Encode(format string, d *stitchfile.Design) ([]byte, error) {
	f, ok := encoders[format]
	if !ok {
		return nil, fmt.Errorf("stitchtest: no encoder for %q", format)
	}
	return f(d)
}

// Formats lists the formats that Encode writes, by name.
func Formats() []string {
	var names []string
	for name := range encoders {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// steps cuts a move of dx, dy into the fewest equal steps of at most limit along
// each axis; there is always one, so that a move of 0, 0 stays a record.
func steps(dx, dy, limit int32) [][2]int32 {
	n := max((max(dx, -dx)+limit-1)/limit, (max(dy, -dy)+limit-1)/limit, 1)
	out := make([][2]int32, n)
	var x, y int32
	for i := range n {
		nx, ny := dx*(i+1)/n, dy*(i+1)/n
		out[i] = [2]int32{nx - x, ny - y}
		x, y = nx, ny
	}
	return out
}
