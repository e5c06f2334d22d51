package main

import (
	"path/filepath"
	"strings"
	"testing"
)

func TestFrom(t *testing.T) {
	dir := t.TempDir()
	data := small(t, false)
	a, b := write(t, dir, "a b.dst", data), write(t, dir, "new\nline.dst", data)
	c := write(t, dir, "c.dst", data)
	lines := write(t, dir, "names", []byte(a+"\r\n\n"+c))
	for _, test := range []struct {
		name, stdin, args string
		want              []string // in this order
		complaint         string
	}{
		{"a file", "", "--from " + lines, []string{a, c}, ""},
		{"standard input", c + "\n" + a + "\n", "--from -", []string{c, a}, ""},
		{"after arguments", a, "--from - " + c, []string{c, a}, ""},
		{"NUL", b + "\x00" + a + "\x00", "--from - -0", []string{b, a}, ""},
		{"NUL unsaid", b + "\x00" + a, "--from -", nil, "add -0"},
		{"only -0", "", "-0 " + c, nil, "--from"},
		{"both from standard input", a, "--from - -", nil, "both read standard input"},
		{"- in it", "-\n", "--from -", nil, "./-"},
		{"nothing", "\n\n", "--from -", nil, "no name"},
		{"no such list", "", "--from " + filepath.Join(dir, "gone"), nil, "gone"},
	} {
		t.Run(test.name, func(t *testing.T) {
			status, stdout, stderr := try(t, test.stdin, append([]string{"check", "--lines"}, strings.Fields(test.args)...)...)
			if test.want == nil {
				if status != exitUsage || !strings.Contains(stderr, test.complaint) {
					t.Errorf("status %d, %q", status, stderr)
				}
				return
			}
			got := strings.Split(strings.TrimSpace(stdout), "\n")
			if len(got) != len(test.want) {
				t.Fatalf("%d lines, %q", len(got), stderr)
			}
			for i, name := range test.want {
				if !strings.Contains(got[i], strings.ReplaceAll(filepath.Base(name), "\n", `\n`)) {
					t.Errorf("line %d is not of %q", i+1, name)
				}
			}
		})
	}
}
