package stitchfile_test

import (
	"archive/zip"
	"errors"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"github.com/stopcard/stopcard/stitchfile"
)

// Neither links nor what cannot be read stop a walk.
func TestPackFolderHazards(t *testing.T) {
	dir := write(t, file{"a.dst", square(t, 0)}, file{"locked.dst", square(t, 0)}, file{"shut/b.dst", square(t, 0)},
		file{".hidden/c.dst", square(t, 0)}, file{"z.dst", square(t, 9)})
	outside := write(t, file{"secret.dst", square(t, 0)})
	for from, to := range map[string]string{"link.dst": filepath.Join(dir, "a.dst"), "loop": dir, "out": outside, "gone.dst": filepath.Join(dir, "nowhere")} {
		if err := os.Symlink(to, filepath.Join(dir, from)); err != nil {
			t.Skip(err)
		}
	}
	if socket, err := net.Listen("unix", filepath.Join(dir, "socket.dst")); err == nil {
		defer socket.Close()
	} else {
		t.Skip(err)
	}
	want := []string{
		".hidden: skipped: a hidden folder",
		"a.dst: 41",
		"gone.dst: skipped: a link to another place",
		"link.dst: skipped: a link to another place",
		"locked.dst: 41",
		"loop: skipped: a link to another place",
		"out: skipped: a link to another place",
		"shut/b.dst: 41",
		"socket.dst: skipped: not a plain file",
		"z.dst: 50",
	}
	if os.Getuid() > 0 { // root may read everything
		os.Chmod(filepath.Join(dir, "locked.dst"), 0)
		os.Chmod(filepath.Join(dir, "shut"), 0)
		t.Cleanup(func() { os.Chmod(filepath.Join(dir, "shut"), 0o777) })
		want[4], want[7] = "locked.dst: permission", "shut: permission"
	}
	p, err := stitchfile.OpenPack(dir)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, contents(p)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	// Given directly, a link is followed.
	for name, n := range map[string]int{"link.dst": 1, "out": 1} {
		p, err := stitchfile.OpenPack(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		if got := contents(p); len(got) != n || !strings.HasSuffix(got[0], ": 41") {
			t.Errorf("%s: %q", name, got)
		}
	}
}

// Folders and files that old systems named in their own code page are walked too.
func TestPackFolderCodePage(t *testing.T) {
	dir := t.TempDir()
	sub := filepath.Join(dir, "zw\x94lf")
	if err := os.Mkdir(sub, 0o777); err != nil {
		t.Skip("no such names here: ", err)
	}
	if err := os.WriteFile(filepath.Join(sub, "\x84.dst"), square(t, 0), 0o666); err != nil {
		t.Skip("no such names here: ", err)
	}
	p, err := stitchfile.OpenPack(dir)
	if err != nil {
		t.Fatal(err)
	}
	if got := contents(p); !slices.Equal(got, []string{"zwölf/ä.dst: 41"}) {
		t.Errorf("%q", got)
	}
}

func openFiles(t *testing.T) int {
	entries, err := os.ReadDir("/proc/self/fd")
	if err != nil {
		t.Skip("open files cannot be counted here")
	}
	return len(entries)
}

// Whether the loop ends by itself or by break, no file stays open; entries stay
// good.
func TestPackLeavesNothingOpen(t *testing.T) {
	inner := zipped(t, zip.Deflate, file{"c.dst", square(t, 0)}, file{"d.dst", square(t, 0)})
	dir := write(t, file{"p.zip", zipped(t, zip.Deflate, file{"a.dst", square(t, 0)}, file{"b.zip", inner})}, file{"q.dst", square(t, 0)})
	before := openFiles(t)
	for stop := range 5 {
		p, err := stitchfile.OpenPack(dir)
		if err != nil {
			t.Fatal(err)
		}
		var had []*stitchfile.Entry
		for e := range p.Entries() {
			had = append(had, e)
			if len(had) > stop {
				break
			}
		}
		if n := openFiles(t); n != before {
			t.Errorf("break after %d: %d files open, %d before", stop+1, n, before)
		}
		for _, e := range had {
			if _, err := e.Decode(); err != nil {
				t.Error(err)
			}
		}
		if n := openFiles(t); n != before {
			t.Errorf("decoded after the loop: %d files open, %d before", n, before)
		}
	}
}

// A batch lists first and decodes on all cores.
func TestPackConcurrent(t *testing.T) {
	var inner, files []file
	for i := range 20 {
		inner = append(inner, file{fmt.Sprintf("%02d.dst", i), square(t, i)})
	}
	for i := range 4 {
		files = append(files, file{fmt.Sprintf("%d.zip", i), zipped(t, zip.Deflate, inner...)})
	}
	dir := write(t, append(files, file{"z.zip", zipped(t, zip.Deflate, append(files, inner...)...)})...)
	p, err := stitchfile.OpenPack(dir)
	if err != nil {
		t.Fatal(err)
	}
	entries := slices.Collect(p.Designs())
	if len(entries) != 4*20+5*20 {
		t.Fatalf("%d entries", len(entries))
	}
	var wg sync.WaitGroup
	work := make(chan *stitchfile.Entry)
	for range max(4, runtime.NumCPU()) {
		wg.Go(func() {
			for e := range work {
				d, err := e.Decode()
				var i int
				fmt.Sscanf(filepath.Base(e.Path), "%d.dst", &i)
				if err != nil || d.Counts().Stitches != 41+i {
					t.Errorf("%s: %v", e.Path, err)
				}
			}
		})
	}
	for _, e := range entries {
		work <- e
		work <- e
	}
	close(work)
	wg.Wait()
}

func TestPackSkippedDecode(t *testing.T) {
	p := read(t, stitchfile.PackReader{}, zipped(t, zip.Store, file{"a.pdf", nil}))
	for e := range p.Entries() {
		if d, err := e.Decode(); d != nil || !errors.Is(err, stitchfile.ErrSkipped) {
			t.Errorf("%v, %v", d, err)
		}
	}
	for e := range p.Designs() {
		t.Errorf("%s is among the designs", e.Path)
	}
}
