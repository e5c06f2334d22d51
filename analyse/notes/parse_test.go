package notes

import (
	"errors"
	"fmt"
	"reflect"
	"strings"
	"testing"
)

const sample = `# mine
title = "Kettle and Pear, 150 mm"

[[stop]]
number = 3
role = "placement line"
thread = "pine"
note = "the wash-away spool"

[[piece]]
number = 2
applique = false
cloth = "the blue check"

[[piece]]
at_mm = [12.5, -3]
`

func TestParse(t *testing.T) {
	got, err := Parse("kettle.notes.toml", []byte(sample))
	if err != nil {
		t.Fatal(err)
	}
	want := &Notes{
		Path: "kettle.notes.toml", Title: "Kettle and Pear, 150 mm",
		Stops: []Stop{{Number: 3, Role: "placement line", Thread: "pine", Note: "the wash-away spool", Line: 4}},
		Pieces: []Piece{
			{Number: 2, Applique: false, Cloth: "the blue check", Line: 10},
			{AtMM: &[2]float64{12.5, -3}, Applique: true, Line: 15},
		},
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
	if _, err := Parse("x", []byte("\ufefftitle = \"of an editor that begins so\"\r\n[[stop]]\r\nnumber = 1\r\n")); err != nil {
		t.Error(err)
	}
	if n, err := Parse("x", nil); err != nil || len(n.Stops) != 0 {
		t.Errorf("an empty file: %v, %v", n, err)
	}
}

// Each error says file, line, what stands there and what was expected.
func TestParseErrors(t *testing.T) {
	for _, c := range []struct {
		text string
		line int
		says []string
	}{
		{"titel = \"x\"\n", 1, []string{`no key "titel" in notes`, "did you mean title", "expected title, stop, piece or design"}},
		{"\n[[stop]]\nnumber = 1\nroll = \"tack-down\"\n", 4, []string{`"roll" in [[stop]]`, "did you mean role", "number, role, thread or note"}},
		{"[[stop]]\nnumber = 1\n\n[[stop]]\nnumber = 2\nrole = \"tackdown\"\n", 6, []string{`no role "tackdown"`, "did you mean tack-down", "placement line, tack-down"}},
		{"[[stop]]\nrole = \"tack-down\"\n", 1, []string{"no number", "number = 3"}},
		{"[[stop]]\nnumber = 0\n", 2, []string{"number = 0", "whole number from 1"}},
		{"[[stop]]\nnumber = \"3\"\n", 2, []string{`number = "3"`, "whole number"}},
		{"[[stop]]\nnumber = 3.0\n", 2, []string{"number = 3.0", "whole number"}},
		{"\xff\xfet\x00i\x00", 0, []string{"UTF-16", "UTF-8"}},
		{strings.Repeat("[[stop]]\n", 10_001), 0, []string{"too many tables", "10000"}},
		{many(9_999) + "[[stop]]\nnumber = 0\n", 2*9_999 + 2, []string{"number = 0"}},
		{"[[stop]]\nnumber = 1\n[[piece]]\nnumber = 1\n[[stop]]\nnumber = 2\nrole = \"x\"\n", 7, []string{`no role "x"`}},
		{"[[stop]]\nnumber = 1.5\n", 2, []string{"whole number"}},
		{"title = {a = 1}\n", 1, []string{"title = {...} is no text"}},
		{"[[stop]]\nnumber = 1e700\n", 2, []string{"this number is too large"}},
		{"[[stop]]\nnumber = 1\nnote = 5\n", 3, []string{"note = 5 is no text", "in quotes"}},
		{"[[stop]]\nnumber = 1\nnote = \"\"\"two\nlines\"\"\"\n", 3, []string{"do not show", "one line"}},
		{"[[stop]]\nnumber = 1\nnote = \"\\u001b[31m\"\n", 3, []string{"do not show"}},
		{"title = \"" + strings.Repeat("x", 501) + "\"\n", 1, []string{"501 characters", "no more than 500"}},
		{"[[stop]]\nnumber = 2\n[[stop]]\nnumber = 2\n", 3, []string{"stop 2 stands here and in line 1", "once"}},
		{"[[piece]]\nnumber = 2\n[[piece]]\nnumber = 2\n", 3, []string{"piece 2 stands here and in line 1"}},
		{"[[piece]]\ncloth = \"x\"\n", 1, []string{"no number"}},
		{"[[piece]]\nnumber = 1\napplique = \"no\"\n", 3, []string{`applique = "no"`, "true or false"}},
		{"[[piece]]\nat_mm = [1, 2, 3]\n", 2, []string{"at_mm", "[x, y] in mm"}},
		{"[[piece]]\nat_mm = [1, nan]\n", 2, []string{"[x, y] in mm"}},
		{"stop = 3\n", 1, []string{"stop is no list", "[[stop]] in double brackets"}},
		{"[stop]\nnumber = 3\n", 1, []string{"stop is no list", "[[stop]] in double brackets"}},
		{"stop = [3]\n", 1, []string{"stop is no table"}},
		{"design = 3\n", 1, []string{"design is no table"}},
		{"[design]\nsign = \"x\"\n", 2, []string{"no sign of a design", "as 'stopcard notes' wrote it"}},
		{"[design]\n", 1, []string{"no sign of a design"}},
		{"[design]\nsign = \"1.AAA\"\nread_as = [\"tack-down\"]\n", 3, []string{"read_as has 1 roles", "0, one for each stop"}},
		{"[design]\nsign = \"1.AAA\"\nread_as = [3]\n", 3, []string{"3 is no role"}},
		{"[[stop]]\nnumber = 1\nnote = pine\n", 3, []string{"(TOML)"}},
		{"[[stop]\n", 1, []string{"(TOML)"}},
		{"[[stop]]\nnumber = 1\n[extra]\nx = 1\n", 3, []string{`no key "extra"`}},
		{strings.Repeat("#", MaxBytes+1), 0, []string{"too many"}},
	} {
		_, err := Parse("k.notes.toml", []byte(c.text))
		var at *Error
		if !errors.As(err, &at) {
			t.Errorf("%.40q: %v", c.text, err)
			continue
		}
		if at.Path != "k.notes.toml" || at.Line != c.line || at.Expected == "" || !strings.Contains(at.Error(), "; expected ") {
			t.Errorf("%.40q: %v, want line %d", c.text, err, c.line)
		}
		for _, s := range c.says {
			if !strings.Contains(err.Error(), s) {
				t.Errorf("%.40q: %v does not say %q", c.text, err, s)
			}
		}
	}
}

// many is so many stops with nothing said of them.
func many(stops int) string {
	var b strings.Builder
	for i := range stops {
		fmt.Fprintf(&b, "[[stop]]\nnumber = %d\n", i+1)
	}
	return b.String()
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(sample))
	f.Add([]byte("stop=[{number=1}]\n[design]\nsign=\"1.AAA\"\nread_as=[]\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		n, err := Parse("f", text)
		var at *Error
		if err != nil && !errors.As(err, &at) {
			t.Errorf("%q: %v", text, err)
		}
		for _, word := range []string{"map[", "interface", "64-bit", "float64", "toml:", "strconv"} { // the words of a program
			if err != nil && strings.Contains(err.Error(), word) && !strings.Contains(string(text), word) {
				t.Errorf("%q: %v", text, err)
			}
		}
		if err == nil {
			n.For(Sign{Width: 10, Height: 10, Stops: []StopSign{{Points: 5}}}, true)
		}
	})
}

// Notes for another size are told to be so, and for other stitches of one size to be that.
func TestNotesOfAnotherSizeOrEdition(t *testing.T) {
	stops := func(n int, scale int) Sign {
		s := Sign{Width: 1000 * scale, Height: 1000 * scale}
		for i := range n {
			s.Stops = append(s.Stops, StopSign{Points: (100 + 40*i) * scale, PathMM: (250 + 100*i) * scale, MeanX: (10 * i) * scale, SpreadX: 20 * scale, SpreadY: 20 * scale})
		}
		return s
	}
	for _, c := range []struct {
		name string
		to   Sign
		want string
	}{
		{"another size", stops(5, 2), "the notes in k.notes.toml were written for 100.0 x 100.0 mm and are used for this size too"},
		{"without its last stop", stops(4, 1), "the notes in k.notes.toml were written for other stitches of this size and are used for these too, but for those on stop 5: no stop here is like it"},
	} {
		n := &Notes{Path: "k.notes.toml", Stops: []Stop{{Number: 5, Note: "mine"}}, Design: &Design{Sign: stops(5, 1)}}
		u, err := n.For(c.to, true)
		if err != nil || u.Fit != OtherSize || u.Message() != c.want {
			t.Errorf("%s: %+v, %v\n%s\nwant\n%s", c.name, u, err, u.Message(), c.want)
		}
	}
}
