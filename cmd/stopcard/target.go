package main

import (
	"os"
	"path/filepath"
)

// target names the files that a verb writes, one for each design.
type target struct {
	out  string // as given with -o: a file, a folder that is there, or nothing
	used bool
}

// fits complains where -o names one file and several paths are given.
func (t *target) fits(s *session, paths []string) bool {
	if len(paths) > 1 && t.out != "" && !isFolder(t.out) {
		s.complain("-o names one file, but %d designs are given; name a folder that is there", len(paths))
		return false
	}
	return true
}

// name is where a design's output goes, ending with the given ending unless -o
// names the file. A pack may hold more designs than fit one file.
func (t *target) name(s *session, got *input, ending string) (string, bool) {
	switch {
	case t.out == "":
		return got.stem + ending, true
	case isFolder(t.out):
		return filepath.Join(t.out, got.stem+ending), true
	case t.used:
		s.complain("-o names one file, and %s is a further design; name a folder that is there", got.path)
		return "", false
	}
	t.used = true
	return t.out, true
}

// isFolder reports whether outputs go into path. A folder that is named like a
// picture is a mistake, and writing to it is refused as it is for any file.
func isFolder(path string) bool {
	switch filepath.Ext(path) {
	case ".png", ".svg":
		return false
	}
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}
