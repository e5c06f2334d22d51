// Package engine is what the one-page app does with the files that it is given: the
// same reading, measuring and drawing as the command's, kept in memory.
package engine

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"iter"
	"slices"
	"strings"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/notes"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/cmd/internal/settingsfile"
	"github.com/stopcard/stopcard/stitchfile"
)

// Engine holds the files of one sitting. The zero value is ready: usual settings and
// no files. It is not for several goroutines at once.
type Engine struct {
	own     *settingsfile.Values
	designs []*design
	lost    []report.Unreadable
	reading *reading       // nil: nothing is open
	loose   []*notes.Notes // files of notes, in the order they came
	stale   bool           // settings changed since the designs were measured
	renoted bool           // notes came since they were recognised
}

// reading is a file that is being read design by design.
type reading struct {
	name  string
	next  func() (*stitchfile.Entry, bool)
	stop  func()
	found bool // a stitch file
}

// design is one that was read.
type design struct {
	path   string
	design *stitchfile.Design
	known  *applique.Recognised
	report *report.Report
	err    error        // why it could be read only in part
	said   *notes.Notes // what a person said of it here; nil: nothing
}

// Clear forgets every file.
func (e *Engine) Clear() {
	e.Stop()
	e.designs, e.lost, e.loose = nil, nil, nil
}

// Add reads a stitch file, a ZIP pack or, by its name, a notes file, a settings file or
// a thread box. A design that cannot be read is kept as such and is no error; settings
// and threads that are wrong are.
func (e *Engine) Add(ctx context.Context, name string, data []byte) error {
	err := e.Open(name, data)
	for more := err == nil; more; {
		_, more, err = e.Next(ctx)
	}
	return err
}

// Open begins to read what Add takes; each Next reads one design of it. What was open
// before is left where it is.
func (e *Engine) Open(name string, data []byte) error {
	e.Stop()
	switch low := strings.ToLower(name); {
	case isNotes(name):
		return e.addNotes(name, data)
	case strings.HasSuffix(low, ".toml"):
		return e.ReadSettings(name, data)
	case strings.HasSuffix(low, ".csv"):
		return e.ReadThreads(name, data)
	}
	var packs stitchfile.PackReader
	packs.Decoder.TrimJumps = e.values().ReadJumps()
	packs.MaxArchive = int64(len(data)) + 1 // it is in memory already
	pack, err := packs.Read(bytes.NewReader(data), name)
	if err != nil {
		e.lose(name, err)
		return nil
	}
	e.reading = &reading{name: name}
	e.reading.next, e.reading.stop = iter.Pull(pack.Entries())
	return nil
}

// Stop leaves what is being read where it is; the designs read so far stay.
func (e *Engine) Stop() {
	if e.reading != nil {
		e.reading.stop()
		e.reading = nil
	}
}

// Next reads the next design of what was opened last, and tells its path and whether
// there may be more.
func (e *Engine) Next(ctx context.Context) (path string, more bool, err error) {
	r := e.reading
	if r == nil {
		return "", false, nil
	}
	for {
		if err := ctx.Err(); err != nil {
			return "", false, err
		}
		entry, ok := r.next()
		if !ok {
			e.Stop()
			if !r.found {
				e.lose(r.name, errors.New("there is no stitch file in it"))
			}
			return "", false, nil
		}
		if entry.Skipped != "" {
			continue
		}
		r.found = true
		d, err := entry.Decode()
		if d == nil {
			e.lose(entry.Path, err)
			return entry.Path, true, nil
		}
		it := &design{path: entry.Path, design: d, err: err}
		if err := e.recognise(ctx, it); err != nil {
			return "", false, err
		}
		e.designs = append(e.designs, it)
		return entry.Path, true, nil
	}
}

func (e *Engine) lose(path string, err error) {
	e.lost = append(e.lost, report.Unreadable{Path: path, Error: err.Error()})
}

func (e *Engine) options(n *notes.Notes, named bool) analyse.Options {
	s := e.Settings()
	return analyse.Options{Settings: &s, Notes: n, NotesNamed: named}
}

// recognise works out what a design is, under the notes that go for it, and measures
// it.
func (e *Engine) recognise(ctx context.Context, it *design) (err error) {
	o := e.options(e.notesFor(it))
	if it.known, err = analyse.Recognise(ctx, it.design, o); err != nil {
		return err
	}
	return e.measure(ctx, it)
}

func (e *Engine) measure(ctx context.Context, it *design) error {
	r, err := analyse.Measure(ctx, it.known, e.options(e.notesFor(it)), 1)
	if err != nil {
		return err
	}
	r.Path = it.path
	it.report = r
	return nil
}

// fresh measures anew what was measured under other settings.
func (e *Engine) fresh(ctx context.Context) error {
	if !e.stale && !e.renoted {
		return nil
	}
	for _, it := range e.designs {
		again := e.measure
		if e.renoted {
			again = e.recognise
		}
		if err := again(ctx, it); err != nil {
			return err
		}
	}
	e.stale, e.renoted = false, false
	return nil
}

// at is the design of a path.
func (e *Engine) at(path string) (*design, error) {
	i := slices.IndexFunc(e.designs, func(it *design) bool { return it.path == path })
	if i < 0 {
		return nil, fmt.Errorf("no design %q was read", path)
	}
	return e.designs[i], nil
}
