package render

import (
	"iter"
	"runtime"
)

// mostAhead bounds how many sheets are drawn at a time: one of A4 takes 35 MB.
const mostAhead = 4

// eachAhead draws in parallel and gives what was drawn in order. The first half of each, which the
// sheets before it may bear on, runs in order.
func eachAhead[T, D any](sheets []func() D, draw func(D) T) iter.Seq[T] {
	return func(yield func(T) bool) {
		most := min(runtime.GOMAXPROCS(0), mostAhead)
		if most == 1 {
			for _, s := range sheets {
				if !yield(draw(s())) {
					return
				}
			}
			return
		}
		drawn, stop := make(chan chan T, most-1), make(chan struct{})
		defer close(stop)
		go func() {
			defer close(drawn)
			for _, s := range sheets {
				half, one := s(), make(chan T, 1)
				select {
				case drawn <- one:
					go func() { one <- draw(half) }()
				case <-stop:
					return
				}
			}
		}()
		for one := range drawn {
			if !yield(<-one) {
				return
			}
		}
	}
}
