package main

import (
	"math"
	"path/filepath"
	"strings"
	"testing"
)

// The nearest size is found beside the one that was named, and it is the one that needs
// least resizing of those that bear it.
func TestResizeFindsSiblings(t *testing.T) {
	wholeOnly(t)
	paths := demoFolder(t, "kettle-100.dst", "kettle-125.dst", "kettle-150.dst", "kettle-135-stretched.dst", "kettle-150.pes")
	for _, c := range []struct {
		to, take string
		scale    float64
	}{
		{"128mm", "kettle-125.dst", 128.0 / 125},
		{"152mm", "kettle-150.dst", 152.0 / 150},
		{"150mm", "kettle-150.dst", 1},
	} {
		status, stdout, stderr := try(t, "", "resize", "--json", "--to", c.to, paths[0])
		if status != exitOK {
			t.Fatalf("%s: status %d, %s", c.to, status, stderr)
		}
		doc := decodeDocument(t, stdout)
		if len(doc.Designs) != 1 {
			t.Fatalf("%d designs are told of, one was named", len(doc.Designs))
		}
		o := doc.Designs[0].ResizedTo.Nearer
		if o == nil || filepath.Base(o.Path) != c.take || math.Abs(o.Scale-c.scale) > 0.003 || !o.Holds {
			t.Errorf("%s: %+v, want %s at %.3f", c.to, o, c.take, c.scale)
		}
	}
	_, stdout, _ := try(t, "", "resize", "--to", "128mm", paths[0])
	if !strings.Contains(stdout, "Take ") || !strings.Contains(stdout, "102 %") {
		t.Errorf("no advice to take the 125 mm size:\n%s", stdout)
	}
	// What is named already is no sibling, nor is a folder or a pack.
	if more := siblings(paths[:2]); len(more) != 3 {
		t.Errorf("%q", more)
	}
	if more := siblings([]string{filepath.Dir(paths[0]), "-", "gone.dst"}); len(more) != 0 {
		t.Errorf("%q", more)
	}
}
