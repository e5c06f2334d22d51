package main

import (
	"bytes"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/testdata/demo"
)

// try runs one command line.
func try(t *testing.T, stdin string, args ...string) (status int, stdout, stderr string) {
	t.Helper()
	var out, errs bytes.Buffer
	status = run(args, &session{stdin: strings.NewReader(stdin), stdout: &out, stderr: &errs})
	return status, out.String(), errs.String()
}

// demoFile writes one embedded design into a new folder and names it.
func demoFile(t *testing.T, name string) string {
	t.Helper()
	data, err := demo.Files.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestUsage(t *testing.T) {
	for _, args := range [][]string{
		{}, {"knit"}, {"check"}, {"check", "--no-such-flag", "x"}, {"check", "--hoop", "wide", "x"}, {"check", "--fail-on", "doom", "x"},
		{"check", "--speed", "0", "x"}, {"check", "--speed", "NaN", "x"}, {"card", "--paper", "wall", "x"}, {"draw", "--width", "1", "x"},
		{"draw", "-o", "one.png", "a", "b"}, {"rules", "x"}, {"demo", "x"}, {"formats", "x"},
	} {
		status, stdout, stderr := try(t, "", args...)
		if status != exitUsage || stdout != "" || stderr == "" {
			t.Errorf("%q: status %d, stdout %q, stderr %q", args, status, stdout, stderr)
		}
	}
}

func TestHelp(t *testing.T) {
	for _, v := range verbs() {
		status, stdout, _ := try(t, "", v.name, "--help")
		if status != exitOK || !strings.Contains(stdout, "Example:\n  stopcard "+v.name) {
			t.Errorf("%s: status %d, %q", v.name, status, stdout)
		}
	}
}

func TestUnreadable(t *testing.T) {
	dir := t.TempDir()
	noise := make([]byte, 5000)
	for i := range noise {
		noise[i] = byte(i * i * 31 >> 3)
	}
	for name, data := range map[string]string{
		"empty.dst": "", "noise.dst": string(noise), "text.pes": "This is no stitch file at all.\n", "short.dst": "LA:short",
	} {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(data), 0o644); err != nil {
			t.Fatal(err)
		}
		status, stdout, stderr := try(t, "", "check", path)
		if status != exitUnreadable || stdout != "" || strings.Count(stderr, "\n") != 1 || !strings.Contains(stderr, "byte") {
			t.Errorf("%s: status %d, stdout %q, stderr %q", name, status, stdout, stderr)
		}
	}
	if status, _, stderr := try(t, "", "check", filepath.Join(dir, "absent.dst")); status != exitUnreadable || stderr == "" {
		t.Errorf("absent file: status %d, %q", status, stderr)
	}
}

// A file cut short must not pass for a whole one.
func TestDamaged(t *testing.T) {
	data, err := demo.Files.ReadFile(demo.Shown)
	if err != nil {
		t.Fatal(err)
	}
	status, stdout, stderr := try(t, string(data[:len(data)/2]), "check", "-")
	if status != exitUnreadable || !strings.Contains(stdout, "damaged-file") || !strings.Contains(stderr, "in part") {
		t.Errorf("status %d, stderr %q", status, stderr)
	}
}

func TestCheckJSON(t *testing.T) {
	_, stdout, stderr := try(t, "", "check", "--json", demoFile(t, demo.Shown))
	var doc report.Document
	d := json.NewDecoder(strings.NewReader(stdout))
	d.DisallowUnknownFields()
	if err := d.Decode(&doc); err != nil {
		t.Fatalf("%v (%s)", err, stderr)
	}
	if doc.Schema != "stopcard/report/1" || len(doc.Designs) != 1 || doc.Designs[0].ColourStops < 13 {
		t.Errorf("schema %q, %d designs", doc.Schema, len(doc.Designs))
	}
}

func TestDemo(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	status, stdout, stderr := try(t, "", "demo", "--output", dir)
	if status != exitOK {
		t.Fatalf("status %d, stderr %q, stdout %q", status, stderr, stdout)
	}
	for _, name := range []string{"card.png", "picture.png", demo.Shown, demo.Faulty} {
		if info, err := os.Stat(filepath.Join(dir, name)); err != nil || info.Size() == 0 {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, role := range []string{"placement line", "tack-down", "cover satin", "batting hold-down", "backing hold-down", "quilting"} {
		if !strings.Contains(stdout, role) {
			t.Errorf("no stop is said to be %s", role)
		}
	}
}

func TestWriteFile(t *testing.T) {
	dir := t.TempDir()
	path, input := filepath.Join(dir, "out"), filepath.Join(dir, "in")
	hello := func(w io.Writer) error { _, err := io.WriteString(w, "hello"); return err }
	fail := func(w io.Writer) error { io.WriteString(w, "half"); return io.ErrShortWrite }
	os.WriteFile(input, nil, 0o644)

	if err := writeFile(path, false, input, fail); err == nil {
		t.Error("a failed write passed")
	}
	if err := writeFile(path, false, input, hello); err != nil {
		t.Error(err)
	}
	if err := writeFile(path, false, input, hello); err == nil {
		t.Error("an existing file was replaced without force")
	}
	if err := writeFile(path, true, input, fail); err == nil {
		t.Error("a failed write passed")
	}
	if data, _ := os.ReadFile(path); string(data) != "hello" {
		t.Errorf("the old file did not stay whole: %q", data)
	}
	if err := writeFile(input, true, input, hello); err == nil {
		t.Error("the input was replaced")
	}
	if left, _ := os.ReadDir(dir); len(left) != 2 {
		t.Errorf("%d files left, want 2", len(left))
	}
}

// Text from files is untrusted.
func TestPrintable(t *testing.T) {
	if got := printable("a\x1b[31mb\u202e\x07"); strings.ContainsAny(got, "\x1b\x07\u202e") {
		t.Errorf("%q", got)
	}
}
