package main

import (
	"errors"
	"fmt"
	"iter"
	"sync/atomic"

	"github.com/stopcard/stopcard/stitchfile"
)

// source is one design to be read.
type source struct {
	path string
	load func() (*stitchfile.Design, error)
	size int64 // bytes of it

	named  string         // the argument that it comes from
	beside func() *beside // what lies beside it; nil: nothing
}

// sources lists the designs that paths name: files, folders, ZIP packs, and "-"
// for standard input. What cannot be opened, and a pack without a design, is a
// source that fails.
func (in *inputFlags) sources(s *session, paths []string, passed *atomic.Int64) iter.Seq[source] {
	packs := stitchfile.PackReader{Decoder: stitchfile.Decoder{TrimJumps: in.ReadJumps()}}
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
			var left skipped
			for e := range pack.Entries() {
				if e.Skipped != "" {
					left.add(e)
					if !isNotes(e.Path) {
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
			if !found && !yield(failing(path, left.nothing())) {
				return
			}
		}
	}
}

// skipped is what was passed over in a pack: for each reason how many files, and the
// first of them.
type skipped struct {
	reasons []string
	first   map[string]string
	count   map[string]int
}

func (k *skipped) add(e *stitchfile.Entry) {
	if k.count == nil {
		k.first, k.count = map[string]string{}, map[string]int{}
	}
	if k.count[e.Skipped]++; k.count[e.Skipped] == 1 {
		k.reasons = append(k.reasons, e.Skipped)
		k.first[e.Skipped] = e.Name
	}
}

// nothing says that there is no design, and what there is instead, such as links that
// may lead to some.
func (k *skipped) nothing() error {
	text := "there is no stitch file in it"
	for _, why := range k.reasons {
		text += fmt.Sprintf("; %s is %s", k.first[why], why)
		if n := k.count[why]; n > 1 {
			text += fmt.Sprintf("; and %d more like it", n-1)
		}
	}
	return errors.New(text)
}

// failing is a source that cannot be read.
func failing(path string, err error) source {
	return source{path: path, named: path, load: func() (*stitchfile.Design, error) { return nil, err }}
}
