package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// A design that sews nothing is not said to be sound, and one of a single stitch
// is not said to have none.
func TestNothingSewn(t *testing.T) {
	encode := func(k stitchfile.Kind) string {
		data, err := stitchtest.Encode("DST", &stitchfile.Design{Moves: []stitchfile.Move{{Kind: k}, {Kind: stitchfile.End}}})
		if err != nil {
			t.Fatal(err)
		}
		return write(t, t.TempDir(), "x.dst", data)
	}
	empty, one := encode(stitchfile.Jump), encode(stitchfile.Stitch)
	page := filepath.Join(t.TempDir(), "x.html")
	for _, c := range []struct {
		args       []string
		want, lack string
	}{
		{[]string{"check", empty}, "There are no stitches in it", "Nothing found"},
		{[]string{"check", one}, "Nothing found", "no stitches in it"},
		{[]string{"check", empty}, "under 1 min", "about"},
		{[]string{"gather", empty}, "under 1 min", "about"},
		{[]string{"check", one}, "about 1 min", "under"},
		{[]string{"resize", one}, "1 stitch", "No stitches"},
		{[]string{"page", "-o", page, empty}, "wrote", "about"},
	} {
		status, out, stderr := try(t, "", c.args...)
		if status != exitOK || !strings.Contains(out, c.want) || strings.Contains(out, c.lack) {
			t.Errorf("%v: status %d, %s%s", c.args, status, out, stderr)
		}
	}
	text, err := os.ReadFile(page)
	if err != nil || !strings.Contains(string(text), "There are no stitches in this file") || strings.Contains(string(text), "Nothing. A test") {
		t.Errorf("the page: %v, %s", err, text)
	}
}
