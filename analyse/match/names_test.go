package match

import (
	"strings"
	"testing"
)

func TestStems(t *testing.T) {
	for _, c := range []struct {
		title   string
		side    float64
		letters string
		numbers string
	}{
		{"block 5in", 127, "block", ""},
		{"block-130mm", 130, "block", ""},
		{"block_5x7", 127, "block", ""},
		{"block 5", 127, "block", ""},
		{"block 5", 180, "block", "5"},
		{"block 05 127mm", 127, "block", "5"},
		{"h4", 101.6, "h", ""},
		{"130", 130, "", ""},
		{"block 41 130mm", 130, "block", "41"},
		{"block 41", 130, "block", "41"},
		{"block 130", 104, "block", "130"},
	} {
		letters, numbers := (&Signature{Path: c.title + ".dst", WidthMM: c.side, HeightMM: c.side}).stem()
		if letters != c.letters || strings.Join(numbers, " ") != c.numbers {
			t.Errorf("%q of %g mm: %q %q", c.title, c.side, letters, numbers)
		}
	}
}

// A number that goes with the size is a size of some kind, and no number of a series.
func TestNumbersThatGoWithTheSize(t *testing.T) {
	of := func(name string, side float64) *Signature {
		return &Signature{Path: name, WidthMM: side, HeightMM: side}
	}
	for _, c := range []struct {
		a, b         *Signature
		alike, apart bool
	}{
		{of("block 130.dst", 104), of("block 150.dst", 120), true, true},
		{of("block 130.dst", 104), of("block 150.dst", 129), false, true},
		{of("block 1.dst", 104), of("block 2.dst", 104), false, true},
		{of("block 41.dst", 104), of("block 52.dst", 104), false, true},
		{of("block 100.dst", 100), of("block 130.dst", 130), true, false},
		{of("block.dst", 100), of("block 2.dst", 100), true, false},
	} {
		if alike, apart := namedAlike(c.a, c.b), numberedApart(c.a, c.b); alike != c.alike || apart != c.apart {
			t.Errorf("%s and %s: alike %v, apart %v", c.a.Path, c.b.Path, alike, apart)
		}
	}
}

func TestCommonNames(t *testing.T) {
	for _, c := range []struct {
		files []string
		want  string
	}{
		{[]string{"kettle-100.dst", "kettle-125.dst"}, "kettle"},
		{[]string{"block 1 100mm.dst", "block 1 130mm.dst"}, "block 1"},
		{[]string{"block 5x5in.dst", "block 5x7in.dst"}, "block"},
		{[]string{"block 130mm.dst", "block 130mm.pes"}, "block 130mm"},
		{[]string{"block 100mm.dst", "copy of block 130mm.pes"}, "block"},
		{[]string{"100.dst", "130.dst"}, "100"},
	} {
		var g []*Signature
		for _, f := range c.files {
			g = append(g, &Signature{Path: f})
		}
		if got := commonName(g); got != c.want {
			t.Errorf("%q: %q, want %q", c.files, got, c.want)
		}
	}
}

// Files of one name in several folders are told apart by as much of their paths as does it.
func TestFilesOfOneName(t *testing.T) {
	var signs []*Signature
	paths := []string{"pack/new/rose.dst", "pack/old/rose.dst", "pack/old/leaf.dst", "a/x/bud.dst", "b/x/bud.dst", `pack\win\rose.dst`, "twice.dst", "twice.dst"}
	for _, p := range paths {
		signs = append(signs, &Signature{Path: p})
	}
	callApart(signs)
	for i, want := range []string{"new/rose.dst", "old/rose.dst", "leaf.dst", "a/x/bud.dst", "b/x/bud.dst", "win/rose.dst", "twice.dst", "twice.dst"} {
		if got := signs[i].file(); got != want {
			t.Errorf("%s: %q, want %q", paths[i], got, want)
		}
	}
	whole, lacks := setOf(130, asDrawn, 0, 1, 2, 3, 4), setOf(130, asDrawn, 0, 1, 2, 4)
	m := mustMatch([]*Signature{signed(whole, "new/rose.dst"), signed(whole, "new/rose.pes"), signed(lacks, "old/rose.dst"), signed(lacks, "old/rose.pes"), signed(whole, "new/rose.jef")})
	if len(m.Designs) != 1 || len(m.Designs[0].Findings) != 1 || m.Designs[0].Findings[0].Message != "old/rose.dst, old/rose.pes: they have 4 colour stops where new/rose.dst has 5; they first differ at stop 4" {
		t.Errorf("%+v", m.Designs)
	}
}
