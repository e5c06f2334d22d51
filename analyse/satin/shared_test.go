package satin_test

import (
	"context"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/internal/truth"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/satin"
	"github.com/stopcard/stopcard/analyse/stitches"
	"github.com/stopcard/stopcard/testdata/demo"
)

// What was found may be asked at several scales at once, and gives the same as one asker
// gets after another.
func TestAskedAtOnce(t *testing.T) {
	ctx := context.Background()
	sewn, err := stitches.Sew(ctx, truth.Demo(t, demo.Shown))
	if err != nil {
		t.Fatal(err)
	}
	scales := []float64{0.8, 0.9, 1, 1.1, 1.2, 1}
	type answer struct {
		columns []report.SatinColumn
		near    int
	}
	ask := func(f *satin.Satin, scale float64) (a answer) {
		usual := report.DefaultSettings()
		columns, bands, err := f.Measure(ctx, sewn.At(scale), usual.LaidWidth(), nil)
		if err != nil {
			t.Error(err)
		}
		a.columns = columns
		index := f.Index(bands)
		for i := range bands {
			for k := 0; k < len(bands[i].Centre); k += 20 {
				q := bands[i].Centre[k]
				index.Near(q, 1, 1, nil, func(int32) { a.near++ })
				if _, ok := index.Along(q, geom.Point{X: 1}, func(int32) bool { return true }); ok {
					a.near++
				}
			}
		}
		return a
	}
	find := func() *satin.Satin {
		f, err := satin.Find(ctx, sewn)
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	var want, got [6]answer
	f := find()
	for i, scale := range scales {
		want[i] = ask(f, scale)
	}
	f = find()
	var all sync.WaitGroup
	for i, scale := range scales {
		all.Go(func() { got[i] = ask(f, scale) })
	}
	all.Wait()
	for i := range want {
		if want[i].near == 0 || got[i].near != want[i].near {
			t.Errorf("scale %v: %d bands near their own stations, want %d", scales[i], got[i].near, want[i].near)
		}
		if d := cmp.Diff(want[i].columns, got[i].columns); d != "" {
			t.Errorf("scale %v: columns differ:\n%s", scales[i], d)
		}
	}
}
