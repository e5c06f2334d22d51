package demo

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/testdata/demo/block"
)

// The files must not drift from the code that draws them.
func TestFilesAreGenerated(t *testing.T) {
	want, err := block.Files(block.Formats())
	if err != nil {
		t.Fatal(err)
	}
	entries, err := Files.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		got, err := Files.ReadFile(e.Name())
		if err != nil {
			t.Fatal(err)
		}
		if w, ok := want[e.Name()]; !ok {
			t.Errorf("%s: not made by the generator", e.Name())
		} else if !bytes.Equal(got, w) {
			t.Errorf("%s: differs from what the generator makes; run go generate", e.Name())
		}
	}
	for name, w := range want {
		if _, err := Files.ReadFile(name); err != nil {
			t.Error(err)
		}
		if beside, err := os.ReadFile(name); err != nil || !bytes.Equal(beside, w) {
			t.Errorf("%s: the file in the folder is not what the generator makes (%v); run go generate", name, err)
		}
	}
}

func TestFilesDecode(t *testing.T) {
	entries, err := Files.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		data, err := Files.ReadFile(e.Name())
		if err != nil {
			t.Fatal(err)
		}
		dec := stitchfile.Decoder{Name: e.Name()}
		d, err := dec.DecodeBytes(data)
		if err != nil {
			t.Errorf("%s: %v", e.Name(), err)
			continue
		}
		for _, w := range d.Warnings {
			t.Errorf("%s: at %d: %s", e.Name(), w.Offset, w.Message)
		}
		var size int
		_, after, _ := strings.Cut(e.Name(), "-")
		if _, err := fmt.Sscanf(after, "%d", &size); err != nil {
			t.Fatalf("%s: no size in its name: %v", e.Name(), err)
		}
		side := float64(size)
		box, _ := d.Bounds()
		if w, h := float64(box.Width())/10, float64(box.Height())/10; math.Abs(w-side) > 1 || math.Abs(h-side) > 1 {
			t.Errorf("%s: measures %.1f by %.1f mm, want %.0f", e.Name(), w, h, side)
		}
		if n := d.Counts().ColourStops + 1; n < 13 {
			t.Errorf("%s: %d colours, want 13 at least", e.Name(), n)
		}
		if n := d.Counts().Stitches; e.Name() == Shown && n < 20000 {
			t.Errorf("%s: %d stitches, want 20000 at least", e.Name(), n)
		}
	}
}

// A size is digitised anew when it gains stitches as it grows; a stretched copy
// gains none.
func TestSizesAreDigitisedAnew(t *testing.T) {
	small, large := block.New(100), block.New(150)
	if s, l := small.Counts().Stitches, large.Counts().Stitches; l < s*5/4 {
		t.Errorf("%d stitches at 100 mm, %d at 150", s, l)
	}
	if s, x := len(small.Moves), len(block.Stretched(1.35).Moves); s != x {
		t.Errorf("stretching changed %d moves into %d", s, x)
	}
}
