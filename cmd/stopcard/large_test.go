package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"runtime/debug"
	"testing"

	"github.com/stopcard/stopcard/render"
	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/testdata/demo"
)

// Pages of designs that are too large to be held show what those of small ones do.
func TestPagesOfLargeDesigns(t *testing.T) {
	var want [2][]byte
	for _, padding := range []int{0, mostHeld + 1} {
		dir := t.TempDir()
		for _, name := range []string{"kettle-100.dst", "kettle-150.dst"} {
			data, err := demo.Files.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			write(t, dir, name, append(data, make([]byte, padding)...))
		}
		for i, verb := range []string{"page", "proof"} {
			out := filepath.Join(dir, verb+".html")
			args := []string{verb, "-o", out, filepath.Join(dir, "kettle-100.dst"), filepath.Join(dir, "kettle-150.dst")}
			if status, _, stderr := try(t, "", args...); status > exitFindings {
				t.Fatalf("%v: status %d, %s", args, status, stderr)
			}
			got, err := os.ReadFile(out)
			if err != nil {
				t.Fatal(err)
			}
			// The mark, and the paths in titles, tell the place of the files.
			got = bytes.ReplaceAll(got[min(len(got), render.PageMarkBytes):], []byte(dir), nil)
			if padding == 0 {
				want[i] = got
			} else if !bytes.Equal(got, want[i]) {
				t.Errorf("%s: %d bytes, and %d of designs that are held", verb, len(got), len(want[i]))
			}
		}
	}
}

func TestHolding(t *testing.T) {
	var held holding
	defer held.done()
	for i, c := range []struct {
		size int64
		kept bool
	}{{mostHeld / 2, true}, {mostHeld / 2, true}, {1, false}, {-1, false}} {
		got := &input{design: &stitchfile.Design{}, size: c.size}
		if held.hold(got); (got.design != nil) != c.kept {
			t.Errorf("design %d of %d bytes is held: %v", i+1, c.size, got.design != nil)
		}
	}
}

// Garbage is collected more often as long as any large design is at work, and no longer.
func TestThrift(t *testing.T) {
	now := func() int {
		percent := debug.SetGCPercent(100)
		debug.SetGCPercent(percent)
		return percent
	}
	usual := now()
	var th thrift
	for i, step := range []struct {
		do     func(int64)
		weight int64
		want   int
	}{{th.begin, largeDesign - 1, usual}, {th.begin, largeDesign, largeGarbage}, {th.begin, mostAtOnce, largeGarbage}, {th.end, largeDesign - 1, largeGarbage},
		{th.end, mostAtOnce, largeGarbage}, {th.end, largeDesign, usual}} {
		if step.do(step.weight); now() != step.want {
			t.Errorf("step %d: %d per cent, want %d", i, now(), step.want)
		}
	}
}

// No more siblings are read than may be held.
func TestSiblingsHeld(t *testing.T) {
	data, dir := small(t, false), t.TempDir()
	var paths []string
	for _, name := range []string{"block-100.dst", "block-110.dst", "block-120.dst", "block-130.dst"} {
		paths = append(paths, write(t, dir, name, append(data[:len(data):len(data)], make([]byte, mostHeld*2/5)...)))
	}
	in, s := newInputFlags(), &session{}
	if got := in.readSiblings(context.Background(), s, paths[:1], nil); len(got) != 2 {
		t.Errorf("%d siblings are held, want the 2 of 3 that fit", len(got))
	}
}
