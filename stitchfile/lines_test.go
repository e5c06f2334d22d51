package stitchfile_test

import (
	"bytes"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// Designs that are one line, whichever way it goes, read the same from every format.
func TestStraightLines(t *testing.T) {
	for name, dir := range map[string]stitchtest.Point{
		"right": {X: 1}, "left": {X: -1}, "up": {Y: 1}, "down": {Y: -1}, "up right": {X: 1, Y: 1}, "down left": {X: -1, Y: -1},
		"down right": {X: 1, Y: -0.3}, "up left": {X: -0.2, Y: 1},
	} {
		for _, length := range []float64{0.8, 2.5, 4, 7} { // of a stitch, mm
			for _, n := range []int{8, 40, 200} {
				b := new(stitchtest.Builder)
				for i := range n {
					step := length * (float64(i+1) + 0.1*float64(i%4))
					b.StitchTo(stitchtest.Point{X: dir.X * step, Y: dir.Y * step})
				}
				want := b.Design()
				points, _ := needle(want)
				for _, format := range stitchtest.Formats() {
					data, err := stitchtest.Encode(format, want)
					if err != nil {
						t.Fatal(err)
					}
					got, err := (&stitchfile.Decoder{Name: "x." + strings.ToLower(format)}).DecodeBytes(data)
					if err != nil {
						t.Errorf("%s, %d stitches of %g mm %s: %v", format, n, length, name, err)
						continue
					}
					if p, _ := needle(got); !slices.Equal(p, points) || got.Format != format {
						t.Errorf("%s, %d stitches of %g mm %s: read as %s, %d points", format, n, length, name, got.Format, len(p))
					}
				}
			}
		}
	}
}

// What is named EXP and is none stays out.
func TestNoLines(t *testing.T) {
	for name, data := range map[string][]byte{
		"prose":   []byte(strings.Repeat("Press the block from the back, then trim it.\r\n", 40)),
		"short":   []byte("hello there"),
		"a table": []byte(strings.Repeat("12.5;13.5;Zinnia\n", 60)),
		"zeros":   make([]byte, 4000),
		"header":  append(bytes.Repeat([]byte("LA:x   "), 70), 0x1A, 1, 2, 3, 4),
	} {
		if d, err := (&stitchfile.Decoder{Name: "x.exp"}).DecodeBytes(data); err == nil {
			t.Errorf("%s: read as %d moves of %s", name, len(d.Moves), d.Format)
		}
	}
	// Without the name a line that never comes back is not proof enough.
	line := bytes.Repeat([]byte{25, 0}, 100)
	if d, err := new(stitchfile.Decoder).DecodeBytes(line); err == nil {
		t.Errorf("read as %s without a name", d.Format)
	}
}

// A short line all of whose bytes are printed characters is read where the file is named so;
// words and figures named so are told to be text.
func TestPrintedLines(t *testing.T) {
	var slope []byte // a line of 5 mm stitches at 40 degrees, rounded to tenths, and what was left of it
	for i := range 9 {
		at := func(n int, along float64) int { return int(math.Round(float64(n) * 50 * along)) }
		slope = append(slope, byte(at(i+1, 0.766)-at(i, 0.766)), byte(at(i+1, 0.643)-at(i, 0.643)))
	}
	for name, data := range map[string][]byte{
		"steps of 5.7 mm":        bytes.Repeat([]byte("()"), 9),
		"steps of 4.5 mm":        bytes.Repeat([]byte("  "), 5),
		"at 40 degrees":          slope,
		"with a short last":      append(bytes.Clone(slope), '!', ' '),
		"a step of a line's end": bytes.Repeat([]byte("(\n"), 8),
		"steps of 12 mm":         bytes.Repeat([]byte("TT"), 6),
	} {
		d, err := (&stitchfile.Decoder{Name: "x.exp"}).DecodeBytes(data)
		if err != nil || d.Format != "EXP" || d.Counts().Stitches != len(data)/2 {
			t.Errorf("%s, %q: %v", name, data, err)
		}
		if d, err := new(stitchfile.Decoder).DecodeBytes(data); err == nil {
			t.Errorf("%s: read as %s without a name", name, d.Format)
		}
	}
	for name, text := range map[string]string{
		"a word": "Quilters", "a long word": "abcdefghijklmnopqrstuvwxyz", "capitals": "STITCHFILE", "a sentence": "This is no stitch file.",
		"lines": "ab\nab\nab\nab\nab\nab\n", "figures": "0612345678", "a date": "2024-05-17 10:35", "sizes": "130x180\n100x100\n", "steps of 12.3 mm": "WWWWWWWWWW", "other letters": "Größe für Ñandú",
	} {
		d, err := (&stitchfile.Decoder{Name: "x.exp"}).DecodeBytes([]byte(text))
		if d != nil || !errors.Is(err, stitchfile.ErrUnknown) || !strings.Contains(err.Error(), "it holds text, beginning") {
			t.Errorf("%s, %q: %v", name, text, err)
		}
	}
}

// So many jumps in a row are a cut, in every format without a record for one.
func TestTrimJumpsAlike(t *testing.T) {
	b := new(stitchtest.Builder)
	at := 0.0
	leap := func(jumps int) { // a travel of jumps between two sewn parts
		for range jumps {
			at += 3
			b.JumpTo(stitchtest.Point{X: at})
		}
		for range 20 {
			at += 2
			b.StitchTo(stitchtest.Point{X: at, Y: float64(int(at) % 3)})
		}
	}
	for _, jumps := range []int{4, 1, 2, 3, 5, 8} {
		leap(jumps)
	}
	// The first travel is before anything is sewn, and is none.
	want := map[int]int{-1: 0, 0: 3, 1: 5, 2: 4, 3: 3, 4: 2, 5: 2, 6: 1, 9: 0}
	formats := 0
	for _, f := range stitchfile.Formats() {
		if f.Carries.Trims {
			continue
		}
		formats++
		data, err := stitchtest.Encode(f.Name, b.Design())
		if err != nil {
			t.Fatal(err)
		}
		for after, trims := range want {
			d, err := (&stitchfile.Decoder{Name: "x." + f.Extensions[0], TrimJumps: after}).DecodeBytes(data)
			if err != nil {
				t.Fatalf("%s: %v", f.Name, err)
			}
			derived := 0
			for _, m := range d.Moves {
				if m.Kind == stitchfile.Trim && m.Mark&stitchfile.MarkDerived != 0 {
					derived++
				}
			}
			if derived != trims || d.Counts().Trims != trims {
				t.Errorf("%s, cut after %d jumps: %d cuts, want %d", f.Name, after, derived, trims)
			}
		}
	}
	if formats < 4 {
		t.Errorf("only %d formats", formats)
	}
}
