package main

import (
	"bytes"
	"fmt"
	"io"
	"io/fs"
	"os"
	"sync"
)

// toStdout is what -o takes for standard output.
const toStdout = "-"

// inputs are the files that a run reads, whichever argument named them. None is replaced.
type inputs struct {
	mu    sync.Mutex
	files []fs.FileInfo
}

// add notes files; what is no plain file, such as a place inside a ZIP, is passed over.
func (in *inputs) add(paths ...string) {
	for _, path := range paths {
		if info, err := os.Stat(path); err == nil && info.Mode().IsRegular() {
			in.mu.Lock()
			in.files = append(in.files, info)
			in.mu.Unlock()
		}
	}
}

func (in *inputs) has(path string) bool {
	info, err := os.Stat(path)
	if err != nil {
		return false
	}
	in.mu.Lock()
	defer in.mu.Unlock()
	for _, other := range in.files {
		if os.SameFile(info, other) {
			return true
		}
	}
	return false
}

// spare fails where a path is one of the files that were read.
func (s *session) spare(paths ...string) error {
	for _, path := range paths {
		if s.read.has(path) {
			return fmt.Errorf("%s is an input of this run; choose another name with -o", path)
		}
	}
	return nil
}

// deliver writes one file, made from the input, and tells of it; or writes to standard
// output, whole or not at all, where the path is that.
func (s *session) deliver(path string, force bool, input string, write func(io.Writer) error) error {
	if path == toStdout {
		var text bytes.Buffer
		if err := write(&text); err != nil {
			return err
		}
		s.stdout.Write(text.Bytes()) // run tells of errors
		return nil
	}
	if err := s.spare(path); err != nil {
		return err
	}
	if err := writeFile(path, force, input, write); err != nil {
		return err
	}
	s.wrote(path)
	return nil
}
