package main

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

func hello(w io.Writer) error { _, err := io.WriteString(w, "hello"); return err }

// Of two that write one name at a time without leave to replace, one fails.
func TestWriteFileRace(t *testing.T) {
	for range 20 {
		path := filepath.Join(t.TempDir(), "out")
		var wg sync.WaitGroup
		errs := make([]error, 4)
		for i := range errs {
			wg.Go(func() { errs[i] = writeFile(path, false, "", hello) })
		}
		wg.Wait()
		failed := 0
		for _, err := range errs {
			if err != nil {
				failed++
			}
		}
		if data, _ := os.ReadFile(path); failed != len(errs)-1 || string(data) != "hello" {
			t.Fatalf("%d of %d failed, %q: %v", failed, len(errs), data, errs)
		}
	}
}

// Of several files none takes its name where one fails.
func TestWriteSetIsWhole(t *testing.T) {
	dir := t.TempDir()
	names := []string{write(t, dir, "a", []byte("old")), filepath.Join(dir, "b"), filepath.Join(dir, "c")}
	err := writeSet(names, true, "", func(i int, w io.Writer) error {
		if i == 2 {
			return io.ErrShortWrite
		}
		return hello(w)
	})
	data, _ := os.ReadFile(names[0])
	left, _ := os.ReadDir(dir)
	if err == nil || string(data) != "old" || len(left) != 1 {
		t.Errorf("%v, %q, %d files", err, data, len(left))
	}
}

// Nor where another process takes one of the names at the last moment.
func TestWriteSetIsWholeInARace(t *testing.T) {
	dir := t.TempDir()
	names := []string{filepath.Join(dir, "a"), filepath.Join(dir, "b"), filepath.Join(dir, "c")}
	err := writeSet(names, false, "", func(i int, w io.Writer) error {
		if i == 2 {
			write(t, dir, "b", []byte("theirs"))
		}
		return hello(w)
	})
	data, _ := os.ReadFile(names[1])
	left, _ := os.ReadDir(dir)
	if err == nil || string(data) != "theirs" || len(left) != 1 {
		t.Errorf("%v, %q, %d files", err, data, len(left))
	}
}

// What a killed run left is removed by the next, and nothing younger or else.
func TestTidy(t *testing.T) {
	dir := t.TempDir()
	old, young := write(t, dir, temporaryMark+temporaryText(), nil), write(t, dir, temporaryMark+temporaryText(), nil)
	other, own := write(t, dir, ".stop", nil), write(t, dir, temporaryMark+"notes-of-mine", nil)
	long := time.Now().Add(-2 * leftBehind)
	for _, name := range []string{old, other, own} {
		if err := os.Chtimes(name, long, long); err != nil {
			t.Fatal(err)
		}
	}
	if err := writeFile(filepath.Join(dir, "out"), false, "", hello); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]bool{old: false, young: true, other: true, own: true} {
		if _, err := os.Stat(name); (err == nil) != want {
			t.Errorf("%s: %v", filepath.Base(name), err)
		}
	}
}

// A longer card that was there leaves no sheet behind the shorter one.
func TestCardLeavesNoStaleSheets(t *testing.T) {
	dir := t.TempDir()
	var old bytes.Buffer
	if err := png.Encode(&old, image.NewGray(image.Rect(0, 0, 2480, 3508))); err != nil { // A4 at 300 to the inch
		t.Fatal(err)
	}
	first := write(t, dir, "x.png", old.Bytes())
	for n := 2; n <= 9; n++ {
		write(t, dir, fmt.Sprintf("x-%d.png", n), old.Bytes())
	}
	other := write(t, dir, "x-10.png", []byte("not of this set"))
	file := write(t, dir, "small.dst", small(t, false))
	status, stdout, stderr := try(t, "", "card", "--force", "-o", first, file)
	if status != exitOK {
		t.Fatalf("status %d: %s", status, stderr)
	}
	sheets := strings.Count(stdout, "wrote ")
	entries, _ := filepath.Glob(filepath.Join(dir, "x*.png"))
	if len(entries) != sheets+1 {
		t.Errorf("%d sheets written, %d files left: %v", sheets, len(entries), entries)
	}
	if data, _ := os.ReadFile(other); string(data) != "not of this set" {
		t.Error("a file behind a gap was taken for a sheet")
	}
	if status, _, stderr := try(t, "", "card", "--force", "--stops", "2-3", "-o", first, file); status != exitUsage || !strings.Contains(stderr, "1-1") {
		t.Errorf("status %d: %s", status, stderr)
	}
}
