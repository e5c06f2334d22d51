package beside

import (
	"errors"
	"io/fs"
	"testing"
)

// Names go together by their letters whatever size and ending they have, and a notes
// file goes by the name before its own long ending.
func TestNames(t *testing.T) {
	for _, test := range []struct{ name, stem, letters string }{
		{"pack.zip/Block-5in.DST", "Block-5in", "blockin"},
		{"Block 7.notes.toml", "Block 7", "block"},
		{"block.v2.pes", "block.v2", "blockv"},
		{"block.v2.notes.toml", "block.v2", "blockv"},
		{"123.dst", "123", ""},
		{"folder.x/plain", "plain", "plain"},
	} {
		if got := Stem(test.name); got != test.stem {
			t.Errorf("Stem(%q) is %q, want %q", test.name, got, test.stem)
		}
		if got := Letters(test.name); got != test.letters {
			t.Errorf("Letters(%q) is %q, want %q", test.name, got, test.letters)
		}
	}
	for name, want := range map[string]bool{"a.PES": true, "a.dst": true, "a.txt": false, "pes": false} {
		if got := IsStitchName(name); got != want {
			t.Errorf("IsStitchName(%q) is %v", name, got)
		}
	}
}

// Colours are taken from the format that tells most of them.
func TestColourRanks(t *testing.T) {
	for _, c := range []struct{ better, worse string }{
		{"a.pes", "a.jef"}, {"a.vp3", "a.hus"}, {"a.JEF", "a.hus"}, {"a.hus", "a.dst"}, {"a.hus", "a.txt"}, {"a.pec", "a.exp"},
	} {
		if colourRank(c.better) >= colourRank(c.worse) {
			t.Errorf("%s is no better than %s", c.better, c.worse)
		}
	}
}

// What could not be read is told without its name, however the error comes by it.
func TestWhy(t *testing.T) {
	for _, err := range []error{errors.New("cut short"), errors.New("a.dst: cut short"), &fs.PathError{Op: "stat", Path: "a.dst", Err: errors.New("cut short")}} {
		if got := Why("a.dst", err); got != "cut short" {
			t.Errorf("%v: %q", err, got)
		}
	}
	if got := Why("a.dst", errors.New("b.dst: cut short")); got != "b.dst: cut short" {
		t.Errorf("%q", got)
	}
}
