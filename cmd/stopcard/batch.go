package main

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"runtime"
	"strings"
	"sync/atomic"
	"syscall"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/cmd/internal/beside"
	"github.com/stopcard/stopcard/stitchfile"
)

// input is one design read, with its report.
type input struct {
	path    string          // as shown: the file, or the pack and the place in it
	named   string          // the argument that it comes from
	stem    string          // its name without folder and extension, its own in this run
	renamed string          // why that is not quite its name; empty where it is
	ctx     context.Context // of the run it is read in
	design  *stitchfile.Design
	noted   analyse.Options // with its notes
	known   *applique.Recognised
	pass    *measure.Pass                      // report with all that was measured for it; nil but where inputFlags.passes
	load    func() (*stitchfile.Design, error) // reads design again
	size    int64                              // bytes that it was read from
	report  *report.Report
	err     error // design was read only in part
	kept    int64 // bytes that are left of it after slim; 0: it is whole
}

// slim drops what only a whole design is asked for, when the text is made that is all
// there will be of it, so that many can wait for the output of one that takes long.
func (g *input) slim(text int) {
	notes := g.report.Notes
	g.design, g.known, g.noted, g.load = nil, nil, analyse.Options{}, nil
	g.report = slimRow(g.report)
	g.report.Notes = notes
	g.kept = int64(text)
}

// read reads and analyses one design. The input is nil when nothing could be
// read. A fault of the program itself, too, is the error of this one design.
func (in *inputFlags) read(ctx context.Context, src source) (got *input, err error) {
	defer ownFault(&got, &err)
	if got, err = in.recognise(ctx, src, nil); got == nil {
		return nil, err
	}
	p, failed := got.measure(ctx)
	if failed != nil {
		return nil, failed
	}
	got.report = p.Report
	if in.passes {
		got.pass = p
	}
	return got, err
}

// ownFault makes an error of a fault of the program itself. It is to be deferred.
func ownFault(got **input, err *error) {
	if p := recover(); p != nil {
		*got, *err = nil, fmt.Errorf("this file meets a fault in Stopcard itself: %v", p)
	}
}

// measure measures a design as it is, with its notes.
func (g *input) measure(ctx context.Context) (*measure.Pass, error) {
	p, err := analyse.MeasurePass(ctx, g.known, g.noted, 1)
	if err == nil {
		p.Report.Path = g.path
	}
	return p, err
}

// recognise reads a design and works out what it is, or finds it out among what is known
// of other files, without notes. It is not measured: it has no report.
func (in *inputFlags) recognise(ctx context.Context, src source, others []*applique.Recognised) (got *input, err error) {
	defer ownFault(&got, &err)
	d, err := src.load()
	if d == nil {
		return nil, err
	}
	o, d, failed := in.known(src, d)
	if failed != nil {
		return nil, failed
	}
	var known *applique.Recognised
	for i := 0; o.Notes == nil && i < len(others) && known == nil; i++ {
		if known, failed = others[i].Of(ctx, d); failed != nil {
			return nil, failed
		}
	}
	if known == nil {
		if known, failed = analyse.Recognise(ctx, d, o); failed != nil {
			return nil, failed
		}
	}
	got = &input{path: src.path, named: src.named, ctx: ctx, design: d, noted: o, known: known, size: src.size, err: err}
	got.load = func() (*stitchfile.Design, error) {
		d, err := src.load()
		if d == nil {
			return nil, err
		}
		_, d, err = in.known(src, d)
		return d, err
	}
	return got, nil
}

// each reads the designs on all processors and calls f, in the order of the
// paths and never two at a time, for those that could be read at least in part.
// Its status is the gravest met.
func (in *inputFlags) each(s *session, paths []string, f func(*input) int) int {
	status, _ := batch(in, s, paths, func(*input) struct{} { return struct{}{} },
		func(got *input, _ struct{}) int { return f(got) }, nil)
	return status
}

// batch reads the designs on all processors. There too it calls work; then, in
// the order of the paths and never two at a time, take with what work returned.
// For designs that cannot be read it calls miss, if there is one, after saying
// so. No more is held at a time than schedule lets, so memory does not grow with their
// number.
func batch[T any](in *inputFlags, s *session, paths []string, work func(*input) T, take func(*input, T) int, miss func(report.Unreadable)) (int, *tally) {
	t := &tally{findings: map[report.Severity]int{}}
	s.read.add(paths...)
	if err := in.resolve(); err != nil {
		s.complain("%v", err)
		return exitUsage, t
	}
	s.read.add(in.opened...)
	if len(paths) == 0 {
		s.complain("no file given; name a stitch file, a ZIP pack, a folder, or - for standard input")
		return exitUsage, t
	}
	if note := fieldNote(in.Hoop, words.UnitsOf(&in.Settings)); note != "" && !in.again {
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

	jobs := in.Jobs
	if jobs <= 0 {
		jobs = runtime.GOMAXPROCS(0)
	}
	order, free := schedule(ctx, sources, jobs, func(k *task[T]) int64 {
		if k.got, k.err = in.read(ctx, k.src); k.got != nil {
			k.out = work(k.got)
		}
		switch {
		case k.got == nil:
			s.read.add(k.src.path)
			return 1
		case k.got.kept == 0: // it may be drawn; text alone goes into no file that is named here
			s.read.add(k.src.path)
		}
		return k.got.kept
	})

	defer func() { t.passed = int(passed.Load()) }()
	status := exitOK
	stems := newStems()
	next := func(k *task[T]) bool {
		select {
		case <-k.done:
		case <-ctx.Done():
		}
		if ctx.Err() != nil {
			return false // k may still be under way
		}
		defer free(k)
		if s.bar != nil {
			s.bar.add()
		}
		if k.err != nil {
			u := report.Unreadable{Path: k.src.path, Error: beside.Why(k.src.path, k.err)}
			s.complain("%s", about(u.Path, k.err))
			t.unreadable = append(t.unreadable, u)
			status = max(status, exitUnreadable)
			if miss != nil {
				miss(u)
			}
			return true
		}
		if k.got.err != nil {
			s.complain("%s: read only in part: %s", k.src.path, strings.TrimPrefix(about(k.src.path, k.got.err), k.src.path+": "))
			t.partly++
			status = max(status, exitUnreadable)
		}
		if n := k.got.report.Notes; n != nil && n.Look {
			s.complain("%s: %s", k.src.path, n.Message)
		}
		t.count(k.got.report)
		if k.got.kept == 0 {
			k.got.stem, k.got.renamed = ownStem(stems, k.src.path)
		}
		status = max(status, take(k.got, k.out))
		return true
	}
	for more := true; more; {
		// What is listed next may be a pipe that nobody writes to.
		select {
		case k, listed := <-order:
			more = listed && next(k)
		case <-ctx.Done():
			more = false
		}
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

// about puts the path before an error that does not name it already.
func about(path string, err error) string {
	return path + ": " + beside.Why(path, err)
}
