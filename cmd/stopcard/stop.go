package main

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"syscall"
	"time"
)

// grace is how long a verb has to end by itself once it is told to: enough to say what
// was done. A read from a pipe that nobody writes to, say, ends only with the program.
const grace = 600 * time.Millisecond

// untilStopped gives a context that ends when a person stops the command, or the system
// does. From then on no file is written; soon after, the program ends in any case, and
// at once when it is told a second time.
func untilStopped() context.Context {
	ctx, stop := context.WithCancel(context.Background())
	told := make(chan os.Signal, 2)
	signal.Notify(told, os.Interrupt, syscall.SIGTERM)
	go func() {
		<-told
		temporaries.stop()
		stop()
		select {
		case <-told:
		case <-time.After(grace):
		}
		fmt.Fprintln(os.Stderr, "stopcard: stopped; what was being written is not there")
		os.Exit(exitStopped)
	}()
	return ctx
}
