package watch

import (
	"context"
	"errors"
	"testing"
)

func count(ctx context.Context, n int) (done int, err error) {
	defer Catch(&err)
	w := New(ctx)
	for range n {
		w.Step(1)
		done++
	}
	return done, nil
}

func TestStepEndsWithTheContext(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	if n, err := count(ctx, 3*often); n != 3*often || err != nil {
		t.Errorf("%d steps and %v of a context that goes on", n, err)
	}
	cancel()
	if n, err := count(ctx, 3*often); n >= often || !errors.Is(err, context.Canceled) {
		t.Errorf("%d steps and %v after the end of the context", n, err)
	}
	(*Watch)(nil).Step(often)
}

func TestCatchLeavesOtherPanics(t *testing.T) {
	defer func() {
		if recover() != "else" {
			t.Error("another panic was caught")
		}
	}()
	func() (err error) {
		defer Catch(&err)
		panic("else")
	}()
}
