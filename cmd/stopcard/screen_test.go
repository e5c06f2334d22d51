package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A table for a screen keeps to its width; one for another program names each
// file in full.
func TestBriefNamesFiles(t *testing.T) {
	deep := filepath.Join(t.TempDir(), strings.Repeat("folder", 10))
	if err := os.Mkdir(deep, 0o755); err != nil {
		t.Fatal(err)
	}
	file := write(t, deep, "block.dst", small(t, false))
	for _, columns := range []int{0, 60, 90} {
		var out bytes.Buffer
		status := run([]string{"check", "--brief", file}, &session{stdin: strings.NewReader(""), stdout: &out, stderr: &out, columns: columns})
		whole := strings.Contains(out.String(), file+" ")
		if status != exitOK || whole != (columns == 0) || !strings.Contains(out.String(), ".dst ") {
			t.Errorf("%d columns: status %d\n%s", columns, status, out.String())
		}
		for line := range strings.Lines(out.String()) {
			if columns > 0 && len([]rune(line)) > columns+1 {
				t.Errorf("%d columns: %d in %q", columns, len([]rune(line)), line)
			}
		}
	}
}

// COLUMNS gives the width where there is no terminal to ask.
func TestColumns(t *testing.T) {
	for text, want := range map[string]int{"": 80, "100": 100, "20": 60, "900": 140, "wide": 80, "-4": 80} {
		t.Setenv("COLUMNS", text)
		s := terminalSession()
		if s.stdout != os.Stdout || s.colour {
			t.Skip("the tests run on a terminal")
		}
		if got := s.width(); got != want {
			t.Errorf("COLUMNS=%q: %d, want %d", text, got, want)
		}
	}
}

// Where rules were left out, finding nothing says less, and is said so.
func TestNothingFoundByTheChosen(t *testing.T) {
	file := write(t, t.TempDir(), "x.dst", small(t, false))
	for _, c := range []struct {
		args   []string
		chosen bool
	}{{nil, false}, {[]string{"--only", "wide-satin"}, true}, {[]string{"--skip", "wide-satin"}, true}} {
		_, out, _ := try(t, "", append([]string{"check", file}, c.args...)...)
		if strings.Contains(out, "checks chosen with") != c.chosen || !strings.Contains(out, "Nothing found") {
			t.Errorf("%v: %s", c.args, out)
		}
	}
}

// A list of things to gather cuts none of its own words.
func TestGatherCutsNoWords(t *testing.T) {
	_, out, _ := try(t, "", "gather", write(t, t.TempDir(), "x.dst", small(t, false)))
	if strings.Contains(out, "…") || !strings.Contains(strings.Join(strings.Fields(out), " "), "bobbins of 100.0 m (109.4 yd)") {
		t.Error(out)
	}
}
