package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"iter"
	"os"
	"os/signal"
	"runtime"
	"strings"
	"sync/atomic"
	"syscall"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/stitchfile"
)

// input is one design read, with its report.
type input struct {
	path   string // as shown: the file, or the pack and the place in it
	stem   string // its name without folder and extension, its own in this run
	design *stitchfile.Design
	report *analyse.Report
	err    error // design was read only in part
}

// source is one design to be read.
type source struct {
	path string
	load func() (*stitchfile.Design, error)
}

// read reads and analyses one design. The input is nil when nothing could be
// read. A fault of the program itself, too, is the error of this one design.
func (in *inputFlags) read(src source) (got *input, err error) {
	defer func() {
		if p := recover(); p != nil {
			got, err = nil, fmt.Errorf("this file meets a fault in Stopcard itself: %v", p)
		}
	}()
	d, err := src.load()
	if d == nil {
		return nil, err
	}
	r := analyse.Run(d, in.settings)
	r.Path = src.path
	r.Damage(err, d.Claims.Records)
	return &input{path: src.path, design: d, report: r, err: err}, nil
}

// tally counts what a run over many designs came to.
type tally struct {
	designs    int
	findings   map[analyse.Severity]int
	touched    int // designs with a finding
	unreadable []analyse.Unreadable
	partly     int
	passed     int // other files, in folders and packs
	stopped    bool
	total      int // designs there would have been; 0: not known
}

// each reads the designs on all processors and calls f, in the order of the
// paths and never two at a time, for those that could be read at least in part.
// Its status is the gravest met.
func (in *inputFlags) each(s *session, paths []string, f func(*input) int) int {
	status, _ := batch(in, s, paths, func(*input) struct{} { return struct{}{} },
		func(got *input, _ struct{}) int { return f(got) }, nil)
	return status
}

// task is one design on its way through a batch.
type task[T any] struct {
	src  source
	done chan struct{} // closed when the rest is set
	got  *input
	err  error
	out  T
}

// batch reads the designs on all processors. There too it calls work; then, in
// the order of the paths and never two at a time, take with what work returned.
// For designs that cannot be read it calls miss, if there is one, after saying
// so. No more designs are held at a time than a small multiple of the
// processors, so memory does not grow with their number.
func batch[T any](in *inputFlags, s *session, paths []string, work func(*input) T, take func(*input, T) int, miss func(analyse.Unreadable)) (int, *tally) {
	t := &tally{findings: map[analyse.Severity]int{}}
	if err := in.resolve(); err != nil {
		s.complain("%v", err)
		return exitUsage, t
	}
	if len(paths) == 0 {
		s.complain("no file given; name a stitch file, a ZIP pack, a folder, or - for standard input")
		return exitUsage, t
	}
	if note := fieldNote(in.hoop); note != "" {
		s.complain("%s", note)
	}
	ctx, stop := signal.NotifyContext(s.context(), os.Interrupt, syscall.SIGTERM)
	defer stop()

	var passed atomic.Int64
	sources := in.sources(s, paths, &passed)
	if s.bars != nil {
		// Time left needs the number of designs, so they are listed first.
		var all []source
		for src := range sources {
			all = append(all, src)
			if ctx.Err() != nil {
				break
			}
		}
		sources, t.total = func(yield func(source) bool) {
			for _, src := range all {
				if !yield(src) {
					return
				}
			}
		}, len(all)
		if t.total > 1 {
			s.bar = newProgress(s.bars, t.total, barDelay)
			defer func() { s.bar.clear(); s.bar = nil }()
		}
	}

	jobs := in.jobs
	if jobs <= 0 {
		jobs = runtime.GOMAXPROCS(0)
	}
	order := schedule(ctx, sources, jobs, func(k *task[T]) {
		if k.got, k.err = in.read(k.src); k.got != nil {
			k.out = work(k.got)
		}
	})

	defer func() { t.passed = int(passed.Load()) }()
	status := exitOK
	stems := map[string]bool{}
	for k := range order {
		select {
		case <-k.done:
		case <-ctx.Done():
		}
		if ctx.Err() != nil {
			break
		}
		if s.bar != nil {
			s.bar.bar.Add(1)
		}
		if k.err != nil {
			u := analyse.Unreadable{Path: k.src.path, Error: k.err.Error()}
			s.complain("%s", about(u.Path, k.err))
			t.unreadable = append(t.unreadable, u)
			status = max(status, exitUnreadable)
			if miss != nil {
				miss(u)
			}
			continue
		}
		if k.got.err != nil {
			s.complain("%s: read only in part: %s", k.src.path, strings.TrimPrefix(about(k.src.path, k.got.err), k.src.path+": "))
			t.partly++
			status = max(status, exitUnreadable)
		}
		t.count(k.got.report)
		k.got.stem = ownStem(stems, k.src.path)
		status = max(status, take(k.got, k.out))
	}
	if ctx.Err() != nil {
		t.stopped = true
		of := ""
		if t.total > 0 {
			of = fmt.Sprintf(" of %d", t.total)
		}
		s.complain("stopped after %d%s designs; files already written are whole", t.designs+len(t.unreadable), of)
		status = exitStopped
	}
	return status, t
}

// schedule lists the sources, hands them to workers, and gives the tasks in
// order, each at once and not when done. It looks ahead by a few tasks only.
func schedule[T any](ctx context.Context, sources iter.Seq[source], jobs int, do func(*task[T])) <-chan *task[T] {
	todo := make(chan *task[T])
	order := make(chan *task[T], 2*jobs)
	for range jobs {
		go func() {
			for k := range todo {
				do(k)
				close(k.done)
			}
		}()
	}
	go func() {
		defer close(order)
		defer close(todo)
		for src := range sources {
			k := &task[T]{src: src, done: make(chan struct{})}
			for _, c := range []chan<- *task[T]{order, todo} {
				select {
				case c <- k:
				case <-ctx.Done():
					return
				}
			}
		}
	}()
	return order
}

func (t *tally) count(r *analyse.Report) {
	t.designs++
	for _, f := range r.Findings {
		t.findings[f.Severity]++
	}
	if len(r.Findings) > 0 {
		t.touched++
	}
}

// print sums up.
func (t *tally) print(w io.Writer) {
	fmt.Fprintf(w, "%s: %s, %s and %s, in %s\n", plural(t.designs, "design"), plural(t.findings[analyse.Fault], "fault"),
		plural(t.findings[analyse.Caution], "warning"), plural(t.findings[analyse.Note], "note"), plural(t.touched, "design"))
	if t.partly > 0 {
		fmt.Fprintf(w, "%s could be read only in part\n", plural(t.partly, "design"))
	}
	if t.passed > 0 {
		fmt.Fprintf(w, "%s passed over: no stitch files\n", plural(t.passed, "other file"))
	}
	if n := len(t.unreadable); n > 0 {
		fmt.Fprintf(w, "%s could not be read:\n", plural(n, "file"))
		for _, u := range t.unreadable {
			fmt.Fprintf(w, "  %s\n", printable(u.Path))
		}
	}
}

// about puts the path before an error that does not name it already.
func about(path string, err error) string {
	var pe *os.PathError
	text := err.Error()
	if errors.As(err, &pe) && pe.Path == path {
		text = pe.Err.Error()
	}
	return path + ": " + strings.TrimPrefix(text, path+": ")
}

// sources lists the designs that paths name: files, folders, ZIP packs, and "-"
// for standard input. What cannot be opened, and a pack without a design, is a
// source that fails.
func (in *inputFlags) sources(s *session, paths []string, passed *atomic.Int64) iter.Seq[source] {
	packs := stitchfile.PackReader{Decoder: stitchfile.Decoder{TrimJumps: in.trims}}
	if in.trims == 0 {
		packs.Decoder.TrimJumps = -1
	}
	open := func(path string) (*stitchfile.Pack, error) {
		if path == "-" {
			return packs.Read(s.stdin, path)
		}
		return packs.Open(path)
	}
	return func(yield func(source) bool) {
		for _, path := range paths {
			pack, err := open(path)
			if err != nil {
				if !yield(failing(path, err)) {
					return
				}
				continue
			}
			found := false
			for e := range pack.Entries() {
				if e.Skipped != "" {
					passed.Add(1)
					continue
				}
				found = true
				if !yield(source{e.Path, e.Decode}) {
					return
				}
			}
			if !found && !yield(failing(path, errors.New("there is no stitch file in it"))) {
				return
			}
		}
	}
}

// failing is a source that cannot be read.
func failing(path string, err error) source {
	return source{path, func() (*stitchfile.Design, error) { return nil, err }}
}
