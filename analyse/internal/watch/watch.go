// Package watch lets long work end soon after its context does, without an error
// to be handed up through every loop.
package watch

import (
	"context"
	"sync/atomic"
)

// often is the steps between two looks at the context: of some tens of nanoseconds
// each, so that work ends within a few milliseconds.
const often = 1 << 14

// Watch counts steps of work. A nil Watch never ends any.
type Watch struct {
	ctx  context.Context
	left int
	done *atomic.Int64 // nil: nobody asks
}

// ended is what Step panics with; Catch takes it up.
type ended struct{ err error }

// counter is the key of what Counting leaves in a context.
type counter struct{}

// Counting is ctx under which all steps of work are counted, so that a test can tell
// how work grows without a clock. A few thousand of each Watch may be missing.
func Counting(ctx context.Context) (context.Context, *atomic.Int64) {
	n := new(atomic.Int64)
	return context.WithValue(ctx, counter{}, n), n
}

// New watches ctx.
func New(ctx context.Context) *Watch {
	n, _ := ctx.Value(counter{}).(*atomic.Int64)
	return &Watch{ctx: ctx, left: often, done: n}
}

// Step counts n steps. When the context has ended it does not return: Catch, which
// the caller must have deferred, makes an error of it.
func (w *Watch) Step(n int) {
	if w == nil {
		return
	}
	if w.left -= n; w.left <= 0 {
		w.look()
	}
}

func (w *Watch) look() {
	if w.done != nil {
		w.done.Add(int64(often - w.left))
	}
	w.left = often
	if err := w.ctx.Err(); err != nil {
		panic(ended{err})
	}
}

// Raise ends the work with an error of its own, for Catch to take up; nil goes on.
func Raise(err error) {
	if err != nil {
		panic(ended{err})
	}
}

// Catch sets err to the error with which Step or Raise ended the work. It is to be
// deferred; other panics go on.
func Catch(err *error) {
	switch p := recover().(type) {
	case nil:
	case ended:
		*err = p.err
	default:
		panic(p)
	}
}
