// Package engine is what the one-page app does with the files that it is given: the
// same reading, measuring and drawing as the command's. It keeps designs in memory, and
// reads files where they are.
package engine

import (
	"context"
	"fmt"
	"iter"
	"reflect"
	"slices"
	"strings"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/notes"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/cmd/internal/beside"
	"github.com/stopcard/stopcard/cmd/internal/settingsfile"
	"github.com/stopcard/stopcard/stitchfile"
)

// Engine holds the files of one sitting. The zero value is ready: usual settings and
// no files. It is not for several goroutines at once.
type Engine struct {
	own     *settingsfile.Values
	designs []*design // in the order of the files, with those that could not be read
	reading *reading  // nil: nothing is open
	folders *beside.Folders
	held    []*design      // those that stay recognised, the one used last at the end
	loose   []*notes.Notes // files of notes given by themselves, in the order they came
	stale   bool           // settings changed since the designs were measured
	changed bool           // files came since they were recognised
}

// reading is a file that is being read design by design.
type reading struct {
	name   string
	packs  *stitchfile.PackReader
	pack   *stitchfile.Pack
	next   func() (*stitchfile.Entry, bool)
	stop   func()
	found  bool // a stitch file
	passed beside.Passed
}

// design is one that was read.
type design struct {
	path   string
	given  string // the file or folder it came in
	read   *stitchfile.Design
	err    error // why it could be read only in part
	failed error // why it cannot be read at all; the rest is missing then

	packs *stitchfile.PackReader
	pack  *stitchfile.Pack
	near  func() *beside.Beside

	said   *notes.Notes         // what a person said of it here; nil: nothing
	noted  analyse.Options      // with the notes obeyed
	design *stitchfile.Design   // with the colours of a file beside it, if it has none
	known  *applique.Recognised // nil where it was let go; see recognised
	report *report.Report
}

// mostHeld is how many designs stay recognised. That is two thirds of what a design takes,
// and a pack may have a thousand; the others are recognised anew when they are asked about.
const mostHeld = 8

// Clear forgets every file.
func (e *Engine) Clear() {
	e.Stop()
	e.designs, e.held, e.loose, e.folders = nil, nil, nil, nil
}

// Add reads a stitch file, a ZIP pack, a folder or, by its name, a notes file, a settings
// file or a thread box. A design that cannot be read is kept as such and is no error;
// settings and threads that are wrong are.
func (e *Engine) Add(ctx context.Context, path string) error {
	e.Given()
	err := e.Open(path)
	for more := err == nil; more; {
		_, more, err = e.Next(ctx)
	}
	return err
}

// Given tells that files came, which may lie beside those that were read.
func (e *Engine) Given() {
	e.folders, e.changed = new(beside.Folders), true
	for _, it := range e.readable() {
		it.near = e.folders.Look(it.packs, it.pack, it.given)
	}
}

// Open begins to read what Add takes; each Next reads one design of it. What was open
// before is left where it is, and what was read of a file of this path before is
// forgotten.
func (e *Engine) Open(path string) error {
	e.Stop()
	e.designs = slices.DeleteFunc(e.designs, func(it *design) bool { return it.given == path })
	switch low := strings.ToLower(path); {
	case beside.IsNotes(path):
		e.addNotes(path)
		return nil
	case strings.HasSuffix(low, ".toml"), strings.HasSuffix(low, ".csv"):
		text, err := readSmall(path)
		switch {
		case err != nil:
			return err
		case strings.HasSuffix(low, ".csv"):
			return e.ReadThreads(path, text)
		}
		return e.ReadSettings(path, text)
	}
	packs := &stitchfile.PackReader{Decoder: stitchfile.Decoder{TrimJumps: e.values().ReadJumps()}}
	pack, err := packs.Open(path)
	if err != nil {
		e.lose(path, path, err)
		return nil
	}
	e.reading = &reading{name: path, packs: packs, pack: pack}
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
				e.lose(r.name, r.name, r.passed.Nothing())
			}
			return "", false, nil
		}
		if entry.Skipped != "" {
			r.passed.Add(entry)
			continue
		}
		r.found = true
		d, err := entry.Decode()
		if d == nil {
			e.lose(r.name, entry.Path, err)
			return entry.Path, true, nil
		}
		if e.folders == nil {
			e.folders = new(beside.Folders)
		}
		it := &design{path: entry.Path, given: r.name, read: d, err: err, packs: r.packs, pack: r.pack,
			near: e.folders.Look(r.packs, r.pack, r.name)}
		if err := e.recognise(ctx, it); err != nil {
			return "", false, err
		}
		e.designs = append(e.designs, it)
		return entry.Path, true, nil
	}
}

func (e *Engine) lose(given, path string, err error) {
	e.designs = append(e.designs, &design{path: path, given: given, failed: err})
}

// readable are the designs that could be read.
func (e *Engine) readable() []*design {
	return slices.DeleteFunc(slices.Clone(e.designs), func(it *design) bool { return it.failed != nil })
}

// unreadable are the files that could not.
func (e *Engine) unreadable() []report.Unreadable {
	out := []report.Unreadable{}
	for _, it := range e.designs {
		if it.failed != nil {
			out = append(out, report.Unreadable{Path: it.path, Error: beside.Why(it.path, it.failed)})
		}
	}
	return out
}

func (e *Engine) options() analyse.Options {
	s := e.Settings()
	return analyse.Options{Settings: &s}
}

// recognise works out what a design is, under the notes that go for it and with the
// colours that it may borrow, and measures it. Notes that cannot be obeyed are its fault
// as they are in the command.
func (e *Engine) recognise(ctx context.Context, it *design) (err error) {
	o, d, err := e.knownOf(it)
	if err != nil {
		it.failed = err
		return nil
	}
	return e.recogniseAs(ctx, it, d, o)
}

func (e *Engine) recogniseAs(ctx context.Context, it *design, d *stitchfile.Design, o analyse.Options) (err error) {
	it.design, it.noted, it.known = d, o, nil
	return e.measure(ctx, it)
}

// recognised is what was recognised of a design.
func (e *Engine) recognised(ctx context.Context, it *design) (*applique.Recognised, error) {
	if it.known == nil {
		var err error
		if it.known, err = analyse.Recognise(ctx, it.design, it.noted); err != nil {
			return nil, err
		}
	}
	if i := slices.Index(e.held, it); i >= 0 {
		e.held = slices.Delete(e.held, i, i+1)
	}
	e.held = append(e.held, it)
	if len(e.held) > mostHeld {
		e.held[0].known = nil
		e.held = slices.Delete(e.held, 0, 1)
	}
	return it.known, nil
}

func (e *Engine) measure(ctx context.Context, it *design) error {
	it.noted.Settings = e.options().Settings
	known, err := e.recognised(ctx, it)
	if err != nil {
		return err
	}
	r, err := analyse.Measure(ctx, known, it.noted, 1)
	if err != nil {
		return err
	}
	r.Path = it.path
	it.report = r
	return nil
}

// fresh reads anew what other files now go with, and measures anew what was measured
// under other settings.
func (e *Engine) fresh(ctx context.Context) error {
	if !e.stale && !e.changed {
		return nil
	}
	for _, it := range e.readable() {
		if e.changed {
			o, d, err := e.knownOf(it)
			if err != nil {
				it.failed = err
				continue
			}
			if o.ColoursFrom != it.noted.ColoursFrom || !reflect.DeepEqual(o.Notes, it.noted.Notes) {
				if err := e.recogniseAs(ctx, it, d, o); err != nil {
					return err
				}
				continue
			}
		}
		if e.stale {
			if err := e.measure(ctx, it); err != nil {
				return err
			}
		}
	}
	e.stale, e.changed = false, false
	return nil
}

// at is the design of a path.
func (e *Engine) at(path string) (*design, error) {
	for _, it := range e.designs {
		if it.path == path && it.failed == nil {
			return it, nil
		}
	}
	return nil, fmt.Errorf("no design %q was read", path)
}
