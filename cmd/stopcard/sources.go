package main

import (
	"iter"
	"sync/atomic"

	"github.com/stopcard/stopcard/cmd/internal/beside"
	"github.com/stopcard/stopcard/stitchfile"
)

// source is one design to be read.
type source struct {
	path string
	load func() (*stitchfile.Design, error)
	size int64 // bytes of it

	named  string                // the argument that it comes from
	beside func() *beside.Beside // what lies beside it; nil: nothing
}

// sources lists the designs that paths name: files, folders, ZIP packs, and "-"
// for standard input. What cannot be opened, and a pack without a design, is a
// source that fails.
func (in *inputFlags) sources(s *session, paths []string, passed *atomic.Int64) iter.Seq[source] {
	packs := stitchfile.PackReader{Decoder: stitchfile.Decoder{TrimJumps: in.ReadJumps()}}
	open := func(path string) (*stitchfile.Pack, error) {
		if path == "-" {
			return packs.Read(s.input(), path)
		}
		return packs.Open(path)
	}
	folders := new(beside.Folders)
	return func(yield func(source) bool) {
		for _, path := range paths {
			pack, err := open(path)
			if err != nil {
				if !yield(failing(path, err)) {
					return
				}
				continue
			}
			near := folders.Look(&packs, pack, path)
			found := false
			var left beside.Passed
			for e := range pack.Entries() {
				if e.Skipped != "" {
					left.Add(e)
					if !beside.IsNotes(e.Path) {
						passed.Add(1)
					}
					continue
				}
				found = true
				if in.choice.only != nil && !in.choice.only[e.Path] {
					continue
				}
				if !yield(source{path: e.Path, named: path, load: e.Decode, size: e.Size, beside: near}) {
					return
				}
			}
			if !found && !yield(failing(path, left.Nothing())) {
				return
			}
		}
	}
}

// failing is a source that cannot be read.
func failing(path string, err error) source {
	return source{path: path, named: path, load: func() (*stitchfile.Design, error) { return nil, err }}
}
