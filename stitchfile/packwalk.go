package stitchfile

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// walk is one listing of a pack.
type walk struct {
	pack    *Pack
	yield   func(*Entry) bool
	seen    names
	looked  int
	bytes   int64 // unpacked so far, as stated
	stopped bool
}

func (w *walk) entry(path, name string, size int64) *Entry {
	return &Entry{Path: w.seen.unique(path), Name: name, Size: size, pack: w.pack}
}

// put hands an entry over and reports whether to go on.
func (w *walk) put(e *Entry) bool {
	if !w.stopped && !w.yield(e) {
		w.stopped = true
	}
	return !w.stopped
}

// fault hands over what is wrong with a folder or an archive as a whole.
func (w *walk) fault(path, name string, err error) bool {
	return w.put(&Entry{Path: path, Name: name, pack: w.pack, err: err})
}

// look counts one more file or folder, and ends the listing at the limit.
func (w *walk) look() bool {
	if w.stopped {
		return false
	}
	if w.looked++; w.looked > w.pack.reader.MaxEntries {
		w.fault(w.pack.path, w.pack.path, &FormatError{Format: "pack", Cause: ErrTooLarge, Detail: fmt.Sprintf("more than %d entries; the rest is left out", w.pack.reader.MaxEntries)})
		w.stopped = true
	}
	return !w.stopped
}

// folder lists a folder. It asks the system for nothing but what the folder
// itself says is in it.
func (w *walk) folder(root string) {
	real, err := filepath.EvalSymlinks(root)
	if err != nil {
		w.fault(w.pack.path, root, err)
		return
	}
	// What goes wrong comes as entries, so that the walk itself has no error.
	filepath.WalkDir(real, func(file string, d fs.DirEntry, err error) error {
		name, path := "", w.pack.path
		if file != real {
			name, _ = filepath.Rel(real, file) // file starts with real
			name = filepath.ToSlash(name)
			path = strings.TrimRight(path, "/") + "/" + cleanPath(name)
		}
		switch {
		case err != nil:
			w.fault(path, name, err)
		case !w.look() || name == "":
		case !d.IsDir():
			w.inFolder(path, name, file, d)
		case strings.HasPrefix(d.Name(), "."):
			e := w.entry(path, name, 0)
			e.Skipped, err = "a hidden folder", fs.SkipDir
			w.put(e)
		}
		switch {
		case w.stopped:
			return fs.SkipAll
		case err != nil:
			return fs.SkipDir
		}
		return nil
	})
}

// inFolder lists one file of a folder.
func (w *walk) inFolder(path, name, file string, d fs.DirEntry) {
	clean := cleanPath(name)
	info, err := d.Info()
	if err != nil {
		w.fault(path, name, err)
		return
	}
	e := w.fileEntry(path, name, file, info.Size())
	ext, zip := extension(clean), false
	switch e.Skipped = passedOver(clean); {
	case d.Type()&fs.ModeSymlink != 0:
		e.Skipped = "a link to another place"
	case !d.Type().IsRegular():
		e.Skipped = "not a plain file"
	case e.Skipped != "" || claimed(ext):
	default:
		zip = ext == "zip" || w.sniff(e)
	}
	if zip {
		w.zip(e.Path, fileStore(file), 0)
		return
	}
	w.put(e)
}

// fileEntry is the entry of a file of its own.
func (w *walk) fileEntry(path, name, file string, size int64) *Entry {
	e := w.entry(path, name, size)
	limit := w.pack.reader.Decoder.MaxBytes
	e.fetch = func(buf *bytes.Buffer) ([]byte, error) {
		if size > limit {
			return nil, tooLarge(limit)
		}
		f, err := os.Open(file)
		if err != nil {
			return nil, err
		}
		defer f.Close()
		data, err := readUpTo(buf, f, size, limit)
		if int64(len(data)) > limit {
			return nil, tooLarge(limit)
		}
		return data, err
	}
	return e
}

// sniff looks into an entry whose name tells nothing. It reports whether it is a
// ZIP, and passes over the entry if it is no design either.
func (w *walk) sniff(e *Entry) (zip bool) {
	buf := buffers.Get().(*bytes.Buffer)
	defer buffers.Put(buf)
	data, err := e.fetch(buf)
	switch {
	case isZIP(data):
		return true
	case plainlyDesign(data):
	case errors.As(err, new(*fs.PathError)):
		e.err = err
	default:
		e.Skipped = "no design of a format that is read here"
	}
	return false
}

// shown is a name given by the user as the first part of paths.
func shown(name string) string { return filepath.ToSlash(name) }
