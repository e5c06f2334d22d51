package main

import (
	"errors"
	"iter"
	"sync/atomic"

	"github.com/stopcard/stopcard/stitchfile"
)

// source is one design to be read.
type source struct {
	path string
	load func() (*stitchfile.Design, error)

	named  string         // the argument that it comes from
	beside func() *beside // what lies beside it; nil: nothing
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
	beside := new(folders)
	return func(yield func(source) bool) {
		for _, path := range paths {
			pack, err := open(path)
			if err != nil {
				if !yield(failing(path, err)) {
					return
				}
				continue
			}
			near := beside.lookBeside(&packs, pack, path)
			found := false
			for e := range pack.Entries() {
				if e.Skipped != "" {
					if !isNotes(e.Path) {
						passed.Add(1)
					}
					continue
				}
				found = true
				if in.choice.only != nil && !in.choice.only[e.Path] {
					continue
				}
				if !yield(source{path: e.Path, named: path, load: e.Decode, beside: near}) {
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
	return source{path: path, named: path, load: func() (*stitchfile.Design, error) { return nil, err }}
}
