package render_test

import (
	"bytes"
	"context"
	"errors"
	"image"
	"sync/atomic"
	"testing"

	"github.com/stopcard/stopcard/render"
)

// endsAfter is a context that ends when it has been looked at so many times, and counts
// the looks.
type endsAfter struct {
	context.Context
	looks, most *atomic.Int64
}

func newEndsAfter(n int64) endsAfter {
	c := endsAfter{context.Background(), new(atomic.Int64), new(atomic.Int64)}
	c.most.Store(n)
	return c
}

func (c endsAfter) Err() error {
	if c.looks.Add(1) > c.most.Load() {
		return context.Canceled
	}
	return nil
}

// drawn counts a picture that there is.
func drawn(img *image.RGBA) int {
	if img == nil {
		return 0
	}
	return 1
}

// Whatever is drawn ends when its context does, wherever that is, with its error or
// without a picture, and never with half of one.
func TestDrawingEnds(t *testing.T) {
	item := demoItem(t, "kettle-150.dst")
	d, r := item.Design, item.Report
	var b bytes.Buffer
	works := map[string]func(context.Context) (pictures int, err error){
		"page": func(ctx context.Context) (int, error) {
			return 0, render.Page(&b, []render.PageItem{item}, render.PageOptions{Context: ctx})
		},
		"card as PDF": func(ctx context.Context) (int, error) {
			return 0, render.CardPDF(&b, d, r, render.CardOptions{Context: ctx})
		},
		"template as PDF": func(ctx context.Context) (int, error) {
			return 0, render.TemplatePDF(&b, d, r, render.Options{Context: ctx})
		},
		"card": func(ctx context.Context) (n int, err error) {
			for range render.Card(d, r, render.CardOptions{Context: ctx}) {
				n++
			}
			return n, nil
		},
	}
	proof, items := proofSet(t)
	works["proof"] = func(ctx context.Context) (int, error) {
		return 0, render.ProofPage(&b, proof, items, render.ProofOptions{Context: ctx})
	}
	works["thread"] = func(ctx context.Context) (int, error) {
		return drawn(render.Thread(d, r, render.ThreadOptions{Width: 300, Context: ctx})), nil
	}
	works["strip"] = func(ctx context.Context) (int, error) {
		return drawn(render.Strip(d, r, render.StripOptions{Stop: 17, Panels: []render.StripPanel{{Scale: 1}, {Scale: 1.2}}, Context: ctx})), nil
	}
	for _, v := range render.Views() {
		works["view "+v.Name] = func(ctx context.Context) (n int, err error) {
			for range v.Draw(d, r, render.Options{Width: 300, Context: ctx}) {
				n++
			}
			return n, nil
		}
	}
	for name, work := range works {
		b.Reset()
		whole := newEndsAfter(1 << 40)
		all, err := work(whole)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		looks := whole.looks.Load()
		if looks == 0 {
			t.Errorf("%s never looks at its context", name)
			continue
		}
		for _, most := range []int64{0, looks / 2, looks - 1} {
			b.Reset()
			ctx := newEndsAfter(most)
			got, err := work(ctx)
			switch {
			case all == 0 && (!errors.Is(err, context.Canceled) || b.Len() > 0):
				t.Errorf("%s, ended at look %d of %d: %v after %d bytes", name, most, looks, err, b.Len())
			case all > 0 && got >= all:
				t.Errorf("%s, ended at look %d of %d: all %d pictures", name, most, looks, got)
			}
		}
	}
}
