package stitchfile

import "image/color"

// maxThreads bounds the threads of which the file says no more than a number, or
// nothing at all, since a thread is far larger than the record that calls for it.
const maxThreads = 128

// paletteThread is the thread of a palette index counted from 1; an index
// outside gives black and a warning.
func paletteThread(a *assembler, palette []color.RGBA, index, at int) Thread {
	if index < 1 || index > len(palette) {
		a.warn(at, "colour %d is not among the %d of the format, shown as black", index, len(palette))
		return Thread{Index: index, Colour: color.RGBA{A: 0xFF}}
	}
	return Thread{Index: index, Colour: palette[index-1]}
}

// repeatLast repeats the last thread for the blocks that have none.
func (a *assembler) repeatLast(blocks int) {
	for n := len(a.d.Threads); n > 0 && n < min(blocks, maxThreads); n++ {
		a.d.Threads = append(a.d.Threads, a.d.Threads[n-1])
	}
}

// markHalts marks those colour stops as halts that change to the thread there is,
// which is how formats without a halt of their own write one.
func (a *assembler) markHalts() {
	block := 0
	for i := range a.d.Moves {
		if m := &a.d.Moves[i]; m.Kind == ColourStop {
			if block++; block >= len(a.d.Threads) {
				return
			}
			if a.d.Threads[block] == a.d.Threads[block-1] {
				m.Mark |= MarkHalt
			}
		}
	}
}
