package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/cmd/internal/settingsfile"
)

// openBox fills in the threads of the box: those of the settings file and those of
// the CSV that it, or a flag, names.
func (in *inputFlags) openBox() error {
	path := in.ThreadBox
	var all []report.OwnThread
	if path != "" && path != "none" {
		if from := in.From["thread-box"]; from != settingsfile.FromFlag && from != "" && !filepath.IsAbs(path) {
			file, _, _ := cutLast(from, ":")
			path = filepath.Join(filepath.Dir(file), path)
		}
		in.opened = append(in.opened, path)
		text, err := readSmall(path, settingsfile.MaxBytes, "a thread box")
		if err != nil {
			return fmt.Errorf("thread box %s: %w", path, err)
		}
		if all, err = settingsfile.ReadThreads(path, text); err != nil {
			return err
		}
	}
	return in.FillBox(path, all)
}

func cutLast(s, sep string) (before, after string, ok bool) {
	if i := strings.LastIndex(s, sep); i >= 0 {
		return s[:i], s[i+len(sep):], true
	}
	return s, "", false
}
