// Package engine is what the one-page app does with the files that it is given: the
// same reading, measuring and drawing as the command's, kept in memory.
package engine

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"slices"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/notes"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// Engine holds the files of one sitting. The zero value is ready: usual settings and
// no files. It is not for several goroutines at once.
type Engine struct {
	settings *report.Settings
	designs  []*design
	lost     []report.Unreadable
	loose    []*notes.Notes // files of notes, in the order they came
	stale    bool           // settings changed since the designs were measured
	renoted  bool           // notes came since they were recognised
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

// Settings are those in force.
func (e *Engine) Settings() report.Settings {
	if e.settings == nil {
		return report.DefaultSettings()
	}
	return *e.settings
}

// SetSettings changes the settings; what has been read is measured anew when it is
// next asked for.
func (e *Engine) SetSettings(s report.Settings) {
	e.settings, e.stale = &s, true
}

// Clear forgets every file.
func (e *Engine) Clear() { e.designs, e.lost, e.loose = nil, nil, nil }

// Progress is told of every design that was looked at, by its path.
type Progress func(path string)

// Add reads a stitch file, a ZIP pack or, by its name, a notes file. What cannot be
// read is kept as such and is no error; the only error is that of a context
// that ended.
func (e *Engine) Add(ctx context.Context, name string, data []byte, seen Progress) error {
	if isNotes(name) {
		return e.addNotes(name, data)
	}
	return e.read(ctx, name, data, seen)
}

func (e *Engine) read(ctx context.Context, name string, data []byte, seen Progress) error {
	var packs stitchfile.PackReader
	packs.MaxArchive = int64(len(data)) + 1 // it is in memory already
	pack, err := packs.Read(bytes.NewReader(data), name)
	if err != nil {
		e.lose(name, err)
		return nil
	}
	found := false
	for entry := range pack.Entries() {
		if err := ctx.Err(); err != nil {
			return err
		}
		if entry.Skipped != "" {
			continue
		}
		found = true
		d, err := entry.Decode()
		if seen != nil {
			seen(entry.Path)
		}
		if d == nil {
			e.lose(entry.Path, err)
			continue
		}
		it := &design{path: entry.Path, design: d, err: err}
		if failed := e.recognise(ctx, it); failed != nil {
			return failed
		}
		e.designs = append(e.designs, it)
	}
	if !found {
		e.lose(name, errors.New("there is no stitch file in it"))
	}
	return nil
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
