package main

import (
	"errors"
	"fmt"
	"image/png"
	"io/fs"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/stopcard/stopcard/render"
)

// temporaryMark begins the name of every temporary file, and of nothing else.
const temporaryMark = ".stopcard-"

// leftBehind is how old a temporary file must be to be that of a run which was killed:
// none is written for so long.
const leftBehind = time.Hour

// errStopped is why nothing is written any more.
var errStopped = errors.New("stopped; nothing was written")

// temporaries are the files being written. When the command is stopped they are
// removed, and none takes its name any more.
var temporaries = &register{names: map[string]bool{}}

type register struct {
	mu      sync.Mutex
	names   map[string]bool
	stopped bool
}

// during runs what gives a file its name, unless the command was stopped.
func (r *register) during(f func() error) error {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.stopped {
		return errStopped
	}
	return f()
}

func (r *register) forget(name string) {
	r.mu.Lock()
	defer r.mu.Unlock()
	delete(r.names, name)
}

// stop removes what is being written, for good.
func (r *register) stop() {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.stopped = true
	for name := range r.names {
		os.Remove(name)
	}
}

// temporary makes a file in a folder, open to whom new files are open to there.
func temporary(dir string) (*os.File, error) {
	name := filepath.Join(dir, temporaryMark+temporaryText())
	var f *os.File
	err := temporaries.during(func() (err error) {
		if f, err = os.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_RDWR, 0o666); err == nil {
			temporaries.names[name] = true
		}
		return err
	})
	return f, err
}

const (
	base32        = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567"
	temporaryLong = 26 // 130 bits
)

// temporaryText tells one temporary file from another. It is no secret: a file is made only
// where none has the name.
func temporaryText() string {
	var text [temporaryLong]byte
	for i := range text {
		text[i] = base32[rand.N(len(base32))]
	}
	return string(text[:])
}

// isTemporary reports whether a name is one that temporary gives.
func isTemporary(name string) bool {
	text, ok := strings.CutPrefix(name, temporaryMark)
	return ok && len(text) >= temporaryLong && strings.Trim(text, base32) == ""
}

// tidy removes the temporary files that runs which were killed left in a folder. One
// that cannot be removed stays.
func tidy(dir string) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	for _, e := range entries {
		if !isTemporary(e.Name()) || !e.Type().IsRegular() {
			continue
		}
		if info, err := e.Info(); err == nil && time.Since(info.ModTime()) > leftBehind {
			os.Remove(filepath.Join(dir, e.Name()))
		}
	}
}

// staleSheets removes the sheets NAME-N.png of an older, longer set behind the last. What
// is no sheet of a card ends the set: a picture of somebody's own may be named so too.
func staleSheets(first string, from int) error {
	for n := from; ; n++ {
		name := sheetName(first, n)
		info, err := os.Lstat(name)
		if errors.Is(err, fs.ErrNotExist) || err == nil && (!info.Mode().IsRegular() || !isSheet(name)) {
			return nil
		}
		if err == nil {
			err = os.Remove(name)
		}
		if err != nil {
			return fmt.Errorf("%s is a sheet of an older card and cannot be removed: %w", name, err)
		}
	}
}

// isSheet reports whether a file is a PNG of a card's size.
func isSheet(name string) bool {
	f, err := os.Open(name)
	if err != nil {
		return false
	}
	defer f.Close()
	got, err := png.DecodeConfig(f)
	if err != nil {
		return false
	}
	is := func(pixels int, mm float64) bool { return math.Abs(float64(pixels)-mm/25.4*render.CardDPI) <= 1 }
	return slices.ContainsFunc(render.Papers(), func(p render.Paper) bool {
		return is(got.Width, p.WidthMM) && is(got.Height, p.HeightMM) || is(got.Width, p.HeightMM) && is(got.Height, p.WidthMM)
	})
}

// sheetName names the sheets of a card: those after the first, counted from 1, have a
// number before the extension.
func sheetName(first string, n int) string {
	if n == 1 {
		return first
	}
	ext := filepath.Ext(first)
	return fmt.Sprintf("%s-%d%s", strings.TrimSuffix(first, ext), n, ext)
}
