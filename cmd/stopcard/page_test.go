package main

import (
	"archive/zip"
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/testdata/demo"
)

func TestPageVerb(t *testing.T) {
	in := demoFile(t, demo.Shown)
	out := filepath.Join(filepath.Dir(in), "block.html")
	status, stdout, stderr := try(t, "", "page", "-o", out, in)
	if status != exitOK || stdout != "wrote "+out+"\n" || stderr != "" {
		t.Fatalf("status %d, stdout %q, stderr %q", status, stdout, stderr)
	}
	text, err := os.ReadFile(out)
	if err != nil || !strings.Contains(string(text), "Kettle and Pear") {
		t.Errorf("%v, %d bytes", err, len(text))
	}
	if status, _, stderr := try(t, "", "page", "-o", out, in); status != exitUsage || !strings.Contains(stderr, "--force") {
		t.Errorf("a page was replaced: status %d, %q", status, stderr)
	}
	if status, _, _ := try(t, "", "page", "--force", "-o", out, in); status != exitOK {
		t.Errorf("--force: status %d", status)
	}
}

// No input is ever replaced, the second no more than the first. The second has an
// extension that does not tell what it is.
func TestPageSparesInputs(t *testing.T) {
	before, err := demo.Files.ReadFile("kettle-100.dst")
	if err != nil {
		t.Fatal(err)
	}
	one, two := demoFile(t, demo.Shown), write(t, t.TempDir(), "kettle.new", before)
	for _, args := range [][]string{{one, two}, {two, one}} {
		status, _, stderr := try(t, "", append([]string{"page", "--force", "-o", two}, args...)...)
		if status != exitUsage || !strings.Contains(stderr, "input") {
			t.Errorf("status %d, %q", status, stderr)
		}
	}
	if after, _ := os.ReadFile(two); string(after) != string(before) {
		t.Error("an input was replaced")
	}
}

func TestPageOfSeveralFiles(t *testing.T) {
	out := filepath.Join(t.TempDir(), "pack.html")
	status, _, stderr := try(t, "", "page", "-o", out, demoFile(t, "kettle-100.pes"), demoFile(t, "kettle-100.dst"), demoFile(t, "kettle-150.pes"), filepath.Join(t.TempDir(), "absent.dst"))
	if status != exitUnreadable || !strings.Contains(stderr, "absent.dst") {
		t.Errorf("status %d, %q", status, stderr)
	}
	text, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(text), `class="design on-`); n != 2 {
		t.Errorf("%d sections, want one for each size", n)
	}
}

// A pack gives one page, which names its files without their folders.
func TestPageOfPack(t *testing.T) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, name := range []string{"kettle-100.pes", "kettle-100.dst", "kettle-125.dst"} {
		data, err := demo.Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		w, err := z.Create("Block/" + name)
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
	dir := t.TempDir()
	pack, out := filepath.Join(dir, "block.zip"), filepath.Join(dir, "block.html")
	if err := os.WriteFile(pack, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	if status, _, stderr := try(t, "", "page", "--all", "-o", out, pack); status != exitOK {
		t.Fatalf("status %d, %q", status, stderr)
	}
	text, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	for part, want := range map[string]int{`class="design on-`: 2, ">PES: kettle-100.pes<": 1, ">DST: kettle-100.dst<": 1, ">DST: kettle-125.dst<": 1, "Block/": 0, dir: 0} {
		if got := strings.Count(string(text), part); got != want {
			t.Errorf("%d of %q, want %d", got, part, want)
		}
	}
}
