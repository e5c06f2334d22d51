package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What cannot be written is told by the name that was given, and a name of
// another kind of file is refused before anything is read.
func TestWhereToWrite(t *testing.T) {
	dir := t.TempDir()
	file := write(t, dir, "x.dst", small(t, false))
	for _, c := range []struct {
		verb, flag, name, want string
	}{
		{"draw", "-o", filepath.Join("none", "x.png"), "cannot be written: "},
		{"page", "-o", filepath.Join("none", "x.html"), "cannot be written: "},
		{"card", "-o", "x.jpg", "end with .png"},
		{"draw", "-o", "x.SVG", "end with .png"},
		{"draw", "-o", "x.pes", "end with .png"},
		{"cutlines", "-o", "x.png", "end with .svg"},
		{"page", "-o", "x.pdf", "end with .html"},
		{"resize", "--picture", "x.html", "end with .png"},
		{"page", "-o", "x.htm", ""},
		{"draw", "-o", "x.v2", ""},
	} {
		path := filepath.Join(dir, c.name)
		status, _, stderr := try(t, "", c.verb, c.flag, path, file)
		_, err := os.Stat(path)
		if c.want == "" {
			if status != exitOK || err != nil {
				t.Errorf("%s %s: status %d, %v, %s", c.verb, c.name, status, err, stderr)
			}
			continue
		}
		if status != exitUsage || err == nil || !strings.Contains(stderr, c.want) || !strings.Contains(stderr, path) || strings.Contains(stderr, ".stopcard-") {
			t.Errorf("%s %s: status %d, %s", c.verb, c.name, status, stderr)
		}
	}
}

// Every verb that writes takes a folder.
func TestIntoFolder(t *testing.T) {
	file := write(t, t.TempDir(), "x.dst", small(t, false))
	for verb, want := range map[string]string{"draw": "x.png", "card": "x-card.png", "page": "x.html"} {
		dir := t.TempDir()
		status, _, stderr := try(t, "", verb, "-o", dir, file)
		if _, err := os.Stat(filepath.Join(dir, want)); status != exitOK || err != nil {
			t.Errorf("%s: status %d, %v, %s", verb, status, err, stderr)
		}
	}
}

// The path of a file that is read only in part is told once.
func TestPartlyReadToldOnce(t *testing.T) {
	data := small(t, false)
	file := write(t, t.TempDir(), "x.dst", data[:len(data)-30])
	_, _, stderr := try(t, "", "check", file)
	if !strings.HasPrefix(stderr, "stopcard: "+file+": read only in part: DST: ") || strings.Count(stderr, file) != 1 {
		t.Error(stderr)
	}
}
