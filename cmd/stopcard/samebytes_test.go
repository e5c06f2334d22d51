package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/stopcard/stopcard/testdata/demo"
)

// The same input and settings give the same bytes in another process at another time, so
// that what is kept or published can be compared.
func TestSameBytesInAnotherProcess(t *testing.T) {
	dir := t.TempDir()
	file := write(t, dir, demo.Shown, mustRead(t, demoFile(t, demo.Shown)))
	for _, what := range []struct {
		out  string
		args []string
	}{
		{"card.pdf", []string{"card", "--pdf", file, "-o"}},
		{"card.png", []string{"card", file, "-o"}},
		{"plan.pdf", []string{"draw", "--view", "template", file, "-o"}},
		{"threads.png", []string{"draw", file, "-o"}},
		{"page.html", []string{"page", file, "-o"}},
		{"cut.svg", []string{"cutlines", file, "-o"}},
		{"proof.html", []string{"proof", file, "-o"}},
		{"check.json", []string{"check", "--json", file}},
	} {
		var got [2][]byte
		for i := range got {
			args := what.args
			out := filepath.Join(t.TempDir(), what.out)
			if args[len(args)-1] == "-o" {
				args = append(args[:len(args):len(args)], out)
			}
			told, err := command(args...).Output()
			if err != nil {
				t.Fatalf("%s: %v", what.out, err)
			}
			if got[i] = told; args[len(args)-1] == out {
				names, _ := filepath.Glob(filepath.Join(filepath.Dir(out), "*"))
				if len(names) == 0 {
					t.Fatalf("%s: nothing was written", what.out)
				}
				got[i] = nil
				for _, name := range names {
					got[i] = append(got[i], mustRead(t, name)...)
				}
			}
		}
		if len(got[0]) == 0 || !bytes.Equal(got[0], got[1]) {
			t.Errorf("%s: %d and %d bytes, which differ", what.out, len(got[0]), len(got[1]))
		}
		if bytes.Contains(got[0], []byte("Date (")) {
			t.Errorf("%s says when it was written", what.out)
		}
	}
}

func mustRead(t *testing.T, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}
