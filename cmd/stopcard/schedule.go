package main

import (
	"context"
	"iter"

	"golang.org/x/sync/semaphore"
)

// task is one design on its way through a batch.
type task[T any] struct {
	src  source
	done chan struct{} // closed when the rest is set
	got  *input
	err  error
	out  T

	inRoom, ahead int64 // what it takes of the two bounds of schedule
}

const (
	// aheadShare is how many bytes of finished text may wait, for each of the jobs, for
	// the output of a design that takes long. A usual design makes 30 KB, in 12 ms; so
	// the others go on for two seconds and more.
	aheadShare = 8 << 20

	// mostWaiting is how many texts may wait, however short they are.
	mostWaiting = 1 << 13
)

// schedule lists the sources, hands them in order to so many workers, and gives the tasks in
// order, each at once and not when done. do tells how many bytes it leaves to wait for
// their turn; zero is for a whole design. Two of these for each of the jobs may wait or be under
// way, but many of those that are text alone: a task takes aheadShare from a room for twice
// the jobs, and gives back what it does not need when it is done. Designs that are whole or
// under way take of mostAtOnce as well. What a task
// still has when it is done, free gives back.
func schedule[T any](ctx context.Context, sources iter.Seq[source], jobs int, do func(*task[T]) (kept int64)) (<-chan *task[T], func(*task[T])) {
	room, ahead := semaphore.NewWeighted(mostAtOnce), semaphore.NewWeighted(2*int64(jobs)*aheadShare)
	todo := make(chan *task[T])
	order := make(chan *task[T], mostWaiting)
	leave := func(weight int64) {
		sparing.end(weight)
		room.Release(weight)
	}
	for range jobs {
		go func() {
			for k := range todo {
				if kept := min(do(k), k.ahead); kept > 0 {
					leave(k.inRoom)
					ahead.Release(k.ahead - kept)
					k.inRoom, k.ahead = 0, kept
				}
				close(k.done)
			}
		}()
	}
	go func() {
		defer close(order)
		defer close(todo)
		for src := range sources {
			k := &task[T]{src: src, done: make(chan struct{}), inRoom: weight(src), ahead: aheadShare}
			// Taken in order, so that the first is never kept waiting by a later one.
			if ahead.Acquire(ctx, k.ahead) != nil || room.Acquire(ctx, k.inRoom) != nil {
				return
			}
			sparing.begin(k.inRoom)
			for _, c := range []chan<- *task[T]{order, todo} {
				select {
				case c <- k:
				case <-ctx.Done():
					return
				}
			}
		}
	}()
	return order, func(k *task[T]) {
		leave(k.inRoom)
		ahead.Release(k.ahead)
	}
}
