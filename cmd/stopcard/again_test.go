package main

import (
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"
)

// A page that was made from the same files is made anew; any other file is left alone.
func TestPageAgain(t *testing.T) {
	dir := t.TempDir()
	file, work := write(t, dir, "block.dst", small(t, false)), t.TempDir()
	t.Chdir(work)
	read := func() string {
		t.Helper()
		text, err := os.ReadFile("block.html")
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	for _, args := range [][]string{{file}, {file}, {"--hoop", "100x100", file}} {
		if status, _, stderr := try(t, "", args...); status != exitOK {
			t.Errorf("%v: status %d, %s", args, status, stderr)
		}
	}
	if status, _, _ := try(t, "", "page", file); status != exitUsage {
		t.Errorf("the verb replaced a file unasked: status %d", status)
	}
	first := read()
	if strings.Contains(first, filepath.ToSlash(dir)) {
		t.Error("the page tells where its file lay")
	}
	// The design is another now, and the page says so.
	write(t, dir, "block.dst", small(t, true))
	if status, _, stderr := try(t, "", file); status == exitUsage || read() == first {
		t.Errorf("status %d, %s: the page stayed as it was", status, stderr)
	}
	mine := read()
	for what, text := range map[string]string{
		"a person's page":    "<!doctype html><title>block</title>",
		"a page without end": strings.Replace(mine, "generator", "generated", 1),
		"the mark far below": "<!doctype html>" + strings.Repeat(" ", 2000) + mine,
	} {
		write(t, work, "block.html", []byte(text))
		if status, _, stderr := try(t, "", file); status != exitUsage || !strings.Contains(stderr, "--force") || read() != text {
			t.Errorf("%s: status %d, %s", what, status, stderr)
		}
	}
	// That of another design of this name is no older state of this one.
	other := write(t, t.TempDir(), "block.dst", small(t, false))
	write(t, work, "block.html", []byte(mine))
	if status, _, stderr := try(t, "", other); status != exitUsage || read() != mine {
		t.Errorf("status %d: the page of another file was replaced: %s", status, stderr)
	}
	// Standard input is known by what comes from it.
	for i, c := range []struct {
		data   string
		refuse bool
	}{{string(small(t, false)), false}, {string(small(t, false)), false}, {string(small(t, true)), true}} {
		if status, _, stderr := try(t, c.data, "-"); (status == exitUsage) != c.refuse {
			t.Errorf("standard input %d: status %d, %s", i, status, stderr)
		}
	}
}

// What comes from standard input is read for both verbs, a list of names too, and no byte
// of it twice.
func TestPlainReadsStdinForBoth(t *testing.T) {
	file := write(t, t.TempDir(), "block.dst", small(t, false))
	t.Chdir(t.TempDir())
	status, _, stderr := try(t, file+"\n", "--from", "-")
	if _, err := os.Stat("block.html"); status != exitOK || err != nil {
		t.Errorf("--from -: status %d, %s, %v", status, stderr, err)
	}
	if status, _, stderr := try(t, "ab", "-"); status != exitUnreadable || strings.Count(stderr, "\n") != 1 || !strings.Contains(stderr, `it holds text, beginning "ab"`) {
		t.Errorf("two bytes: status %d, %q", status, stderr)
	}
}

// Whatever the sizes in which it is read, the same comes again.
func TestRereader(t *testing.T) {
	const text = "a block of cloth, and a reel of thread"
	r := &rereader{source: iotest.OneByteReader(strings.NewReader(text))}
	s := &session{stdin: r}
	for i, size := range []int{5, 1, 3, 100, 0} {
		got := make([]byte, size)
		n, err := io.ReadFull(s.input(), got)
		if want := text[:min(size, len(text))]; string(got[:n]) != want || size > len(text) != (err != nil) {
			t.Errorf("reading %d: %q, %v; want %q", i, got[:n], err, want)
		}
	}
	if all, err := io.ReadAll(s.input()); string(all) != text || err != nil {
		t.Errorf("%q, %v", all, err)
	}
}
