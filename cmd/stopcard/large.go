package main

import (
	"context"
	"os"
	"runtime"
	"runtime/debug"
	"sync"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/measure"
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
	// checkGarbage is how much garbage may lie beside what is in use while designs are
	// checked, in per cent. Go's own 100 costs a batch a tenth more time; from 400 on only
	// memory grows. Drawing makes much and gains no time.
	checkGarbage = 200
	// firstGarbage is the same until garbage is collected for the first time, which it
	// then is at 16 MB: the check of one design mostly ends before, and is spared it.
	firstGarbage = 400
	// largeGarbage is how much garbage may lie beside what is in use while a large
	// design is at work, in per cent. What is made of stitches has hardly a pointer, so
	// that collecting often costs little.
	largeGarbage = 10
)

// collectSeldom sets firstGarbage and then checkGarbage, unless the environment variable
// GOGC tells.
func collectSeldom() {
	if os.Getenv("GOGC") != "" {
		return
	}
	debug.SetGCPercent(firstGarbage)
	// What nothing points to tells of the first collection.
	runtime.AddCleanup(new(thrift), func(percent int) { sparing.usually(percent) }, checkGarbage)
}

// holding keeps the stitches of designs that are needed once all are read, as long as
// they are few bytes in all; those of the rest are read again when they are needed.
type holding struct {
	bytes int64
	large []int64 // sizes of the large ones, held or not
}

// mostHeld is how many bytes of designs are held by the verbs that draw all on one page;
// a pack of a dozen sizes in ten formats is less.
const mostHeld = 8 << 20

// hold lets go of a design where enough are held already.
func (h *holding) hold(got *input) {
	if h.bytes += max(got.size, 0); h.bytes > mostHeld {
		got.design, got.known, got.pass = nil, nil, nil
	}
	if got.size >= largeDesign {
		h.large = append(h.large, got.size)
		sparing.begin(got.size) // until all are drawn
	}
}

// done is told that none of the designs is needed any more.
func (h *holding) done() {
	for _, size := range h.large {
		sparing.end(size)
	}
	h.large = nil
}

// measured is all that was measured for the report, from the stitches again if need be.
func (g *input) measured(ctx context.Context) (*measure.Pass, error) {
	if g.pass != nil {
		return g.pass, nil
	}
	if g.known == nil {
		d, err := g.load()
		if err == nil {
			g.known, err = analyse.Recognise(ctx, d, g.noted)
		}
		if err != nil {
			return nil, err
		}
		defer func() { g.known = nil }()
	}
	return g.measure(ctx)
}

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

// usually sets what holds while no large design is at work.
func (t *thrift) usually(percent int) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.large > 0 {
		t.before = percent
	} else {
		debug.SetGCPercent(percent)
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
