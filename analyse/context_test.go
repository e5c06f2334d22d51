package analyse_test

import (
	"context"
	"errors"
	"testing"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/internal/truth"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/resize"
)

// looked is a context that ends when it has been asked so often whether it has.
type looked struct {
	context.Context
	left int
}

func (c *looked) Err() error {
	if c.left--; c.left < 0 {
		return context.Canceled
	}
	return nil
}

// Work ends at whichever of its looks finds the context ended, gives that error and
// no half result, and looks often: once in every few thousand steps.
func TestWorkEndsWithItsContext(t *testing.T) {
	d := truth.Mixed(60_000)
	whole, err := analyse.Recognise(context.Background(), d, analyse.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for name, work := range map[string]struct {
		least int // looks there must be
		do    func(context.Context) (done bool, err error)
	}{
		"recognise": {20, func(ctx context.Context) (bool, error) {
			rec, err := analyse.Recognise(ctx, d, analyse.Options{})
			return rec != nil, err
		}},
		"measure": {20, func(ctx context.Context) (bool, error) {
			r, err := analyse.Measure(ctx, whole, analyse.Options{}, 1.01)
			return r != nil, err
		}},
		"resize": {100, func(ctx context.Context) (bool, error) {
			base, err := measure.NewPass(ctx, whole, report.DefaultSettings(), 1)
			if err != nil {
				return false, err
			}
			r, err := resize.Limits(ctx, base)
			return r != nil, err
		}},
	} {
		all := &looked{context.Background(), 1 << 30}
		if _, err := work.do(all); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		looks := 1<<30 - all.left
		if looks < work.least {
			t.Errorf("%s looks %d times at its context, want at least %d", name, looks, work.least)
		}
		for _, after := range []int{0, 1, looks / 3, looks / 2, looks - 1} {
			done, err := work.do(&looked{context.Background(), after})
			if done || !errors.Is(err, context.Canceled) {
				t.Errorf("%s, ended at look %d of %d: %v, done %v", name, after, looks, err, done)
			}
		}
	}
}
