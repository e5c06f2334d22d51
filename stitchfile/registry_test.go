package stitchfile

import (
	"fmt"
	"slices"
	"sync"
	"testing"
)

// Formats may be added while others are listed and asked; every list that is seen
// is in order, and in the end none is lost. The race detector judges the rest.
func TestRegistryConcurrent(t *testing.T) {
	var r registry
	const adders, each = 4, 25
	var wg sync.WaitGroup
	for i := range adders {
		wg.Go(func() {
			for j := range each {
				r.add(Format{Name: fmt.Sprintf("F%02d", each*i+j), Recognise: func([]byte, bool) Certainty { return No }})
			}
		})
		wg.Go(func() {
			seen := 0
			for seen < adders*each {
				list := r.all()
				if len(list) < seen {
					t.Errorf("%d formats, %d before", len(list), seen)
					return
				}
				seen = len(list)
				for k, f := range list {
					if f.Recognise(nil, false) != No || k > 0 && list[k-1].Name >= f.Name {
						t.Errorf("format %s stands at %d", f.Name, k)
						return
					}
				}
			}
		})
	}
	wg.Wait()
}

func TestRegisterTwice(t *testing.T) {
	before := Names()
	func() {
		defer func() {
			if recover() == nil {
				t.Error("a second DST did not panic")
			}
		}()
		RegisterFormat(Format{Name: "DST"})
	}()
	if after := Names(); !slices.Equal(before, after) {
		t.Errorf("formats are %v, were %v", after, before)
	}
	// What is handed out is the caller's own.
	clear(Formats())
	if after := Names(); !slices.Equal(before, after) {
		t.Errorf("formats are %v, were %v", after, before)
	}
}
