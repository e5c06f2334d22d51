package main

import (
	"archive/zip"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// small is a sound design of few stitches: one run round a square, with ties. A
// long stitch goes across where asked for.
func small(t testing.TB, long bool) []byte {
	t.Helper()
	b := new(stitchtest.Builder)
	tie := func(p stitchtest.Point) {
		for _, dx := range []float64{0.4, 0, 0.4, 0} {
			b.StitchTo(stitchtest.Point{X: p.X + dx, Y: p.Y})
		}
	}
	corner := stitchtest.Point{X: -10, Y: -10}
	b.JumpTo(corner)
	tie(corner)
	b.Run(stitchtest.Rect(stitchtest.Point{}, 20, 20), 2.5)
	end := corner
	if long {
		end = stitchtest.Point{X: -10, Y: 1}
		b.StitchTo(end)
	}
	tie(end)
	data, err := stitchtest.Encode("DST", b.Design())
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// write puts a file into a folder and names it.
func write(t testing.TB, dir, name string, data []byte) string {
	t.Helper()
	path := filepath.Join(dir, name)
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// writeZIP makes a ZIP of entries that all have the same content.
func writeZIP(t testing.TB, path string, data []byte, names ...string) {
	t.Helper()
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	z := zip.NewWriter(f)
	for _, name := range names {
		w, err := z.Create(name)
		if err == nil {
			_, err = w.Write(data)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	f.Close()
}

// smallFiles writes so many copies of the small design, and names them in order.
func smallFiles(t testing.TB, n int) []string {
	t.Helper()
	data, dir := small(t, false), t.TempDir()
	paths := make([]string, n)
	for i := range paths {
		paths[i] = write(t, dir, fmt.Sprintf("block-%03d.dst", i), data)
	}
	return paths
}

// command is the program, for tests that need a process of its own: the test
// binary, which TestMain then lets be the program.
func command(args ...string) *exec.Cmd {
	cmd := exec.Command(os.Args[0], args...)
	cmd.Env = append(os.Environ(), asProgram+"=yes")
	return cmd
}

const asProgram = "STOPCARD_TEST_AS_PROGRAM"
