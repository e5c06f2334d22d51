package notes

import (
	"slices"

	"github.com/stopcard/stopcard/stitchfile"
)

// WithColours gives d the thread colours of another design, stop by stop, where d has
// none and both have the same stitches: what a format cannot hold, a file of the same
// design in another can. d itself is not changed. It is false where that is not so.
func WithColours(d, from *stitchfile.Design) (*stitchfile.Design, bool) {
	if HasColours(d) || !HasColours(from) {
		return d, false
	}
	if fit, _ := SignOf(from).Against(SignOf(d), false); fit != SameStitches {
		return d, false
	}
	threads := sewnBlocks(from)
	out := *d
	out.Threads = nil
	for i, block := range sewnBlocks(d) {
		for len(out.Threads) <= block {
			out.Threads = append(out.Threads, stitchfile.Thread{})
		}
		out.Threads[block] = from.Thread(threads[i])
	}
	return &out, true
}

// HasColours reports whether a design has a thread of known colour.
func HasColours(d *stitchfile.Design) bool {
	return slices.ContainsFunc(d.Threads, stitchfile.Thread.HasColour)
}

// sewnBlocks lists the colour blocks that sew something, by their index, as many as a
// sign has stops.
func sewnBlocks(d *stitchfile.Design) []int {
	var out []int
	block := 0
	for _, m := range d.Moves {
		switch m.Kind {
		case stitchfile.ColourStop:
			block++
		case stitchfile.Stitch:
			if n := len(out); n < mostSignStops && (n == 0 || out[n-1] != block) {
				out = append(out, block)
			}
		}
	}
	return out
}
