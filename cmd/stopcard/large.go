package main

import (
	"runtime/debug"
	"sync"

	"github.com/stopcard/stopcard/stitchfile"
)

const (
	// mostAtOnce is how many bytes of designs are read and waited for at a time: one of
	// the largest, or many of the usual size. What is made of a design takes many times
	// its bytes.
	mostAtOnce = stitchfile.DefaultMaxBytes
	// largeDesign is from how many bytes on a design is handled with care for memory.
	// Those sold are smaller.
	largeDesign = 4 << 20
	// largeGarbage is how much garbage may lie beside what is in use while a large
	// design is at work, in per cent. What is made of stitches has hardly a pointer, so
	// that collecting often costs little.
	largeGarbage = 10
)

// weight is what a design takes of mostAtOnce.
func weight(src source) int64 { return min(max(src.size, 0), mostAtOnce) }

// thrift has garbage collected more often while large designs are at work.
type thrift struct {
	mu     sync.Mutex
	large  int
	before int
}

var sparing thrift

// begin is told the weight of each design before it is read, end when it is done with.
func (t *thrift) begin(weight int64) {
	if weight < largeDesign {
		return
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.large++; t.large == 1 {
		t.before = debug.SetGCPercent(largeGarbage)
	}
}

func (t *thrift) end(weight int64) {
	if weight < largeDesign {
		return
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.large--; t.large == 0 {
		debug.SetGCPercent(t.before)
	}
}
