// Package watch lets long work end soon after its context does, without an error
// to be handed up through every loop.
package watch

import "context"

// often is the steps between two looks at the context: of some tens of nanoseconds
// each, so that work ends within a few milliseconds.
const often = 1 << 14

// Watch counts steps of work. A nil Watch never ends any.
type Watch struct {
	ctx  context.Context
	left int
}

// ended is what Step panics with; Catch takes it up.
type ended struct{ err error }

// New watches ctx.
func New(ctx context.Context) *Watch { return &Watch{ctx: ctx, left: often} }

// Step counts n steps. When the context has ended it does not return: Catch, which
// the caller must have deferred, makes an error of it.
func (w *Watch) Step(n int) {
	if w == nil {
		return
	}
	if w.left -= n; w.left > 0 {
		return
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
