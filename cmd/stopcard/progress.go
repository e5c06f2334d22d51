package main

import (
	"fmt"
	"io"
	"strings"
	"time"
)

const (
	barDelay = time.Second            // how long work may take before progress is shown
	barPause = 100 * time.Millisecond // the least time between two changes of it
)

// progress is a line with a bar, count, rate and time left, written over itself.
type progress struct {
	w           io.Writer
	done, total int
	start, next time.Time // of the work; when the line may change
	shown       int       // columns on the screen now
}

// newProgress starts a line over the given number of designs, held back while
// the work may yet be short.
func newProgress(w io.Writer, total int, delay time.Duration) *progress {
	now := time.Now()
	return &progress{w: w, total: total, start: now, next: now.Add(delay)}
}

// add counts one more design.
func (p *progress) add() {
	p.done++
	now := time.Now()
	if now.Before(p.next) {
		return
	}
	const bars = 20
	full := bars * p.done / p.total
	took := now.Sub(p.start)
	left := time.Duration(float64(took) / float64(p.done) * float64(p.total-p.done))
	line := fmt.Sprintf("reading [%s%s] %d/%d, %.1f designs/s, %s left", strings.Repeat("=", full), strings.Repeat(" ", bars-full),
		p.done, p.total, float64(p.done)/max(took.Seconds(), 1e-3), left.Round(time.Second))
	p.clear()
	fmt.Fprint(p.w, line)
	p.shown, p.next = len(line), now.Add(barPause)
}

// clear takes the line off the screen.
func (p *progress) clear() {
	if p.shown > 0 {
		fmt.Fprintf(p.w, "\r%*s\r", p.shown, "")
	}
	p.shown = 0
}
