package main

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"sort"
	"sync"
	"sync/atomic"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/match"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/resize"
	"github.com/stopcard/stopcard/cmd/internal/beside"
)

// mostSiblings is how many files beside those named are looked at: a pack has fewer, and
// a folder of thousands is no pack.
const mostSiblings = 24

// siblings lists the stitch files that lie in the folders of the files named and are not
// named themselves, those with like names first.
func siblings(paths []string) []string {
	var out []string
	named := map[string]bool{}
	for _, p := range paths {
		named[filepath.Clean(p)] = true
	}
	for _, p := range paths {
		if info, err := os.Stat(p); p == "-" || err != nil || !info.Mode().IsRegular() || !beside.IsStitchName(p) {
			continue
		}
		dir := filepath.Dir(p)
		entries, err := os.ReadDir(dir)
		if err != nil {
			continue
		}
		var here []string
		for _, e := range entries {
			name := filepath.Join(dir, e.Name())
			if e.Type().IsRegular() && beside.IsStitchName(name) && !named[name] {
				named[name] = true
				here = append(here, name)
			}
		}
		own := beside.Letters(p)
		sort.SliceStable(here, func(i, j int) bool {
			return sharedStart(beside.Letters(here[i]), own) > sharedStart(beside.Letters(here[j]), own)
		})
		out = append(out, here[:min(len(here), mostSiblings-min(len(out), mostSiblings))]...)
	}
	return out
}

// sharedStart is how many bytes two texts begin with in common.
func sharedStart(a, b string) int {
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	return n
}

// sibling is a design that was not named but lies beside one that was.
type sibling struct {
	sign   *match.Signature
	scales func(float64) bool // it bears to be resized so
}

// readSiblings reads the stitch files beside those named, as long as all of them may be
// held. What cannot be read is no sibling: nobody asked for it. They are not measured
// but for what tells whether they are sizes of one design, until it is asked how far one
// may be resized, and recognised but once for all formats of a size: known is what was
// recognised of those named, without notes.
func (in *inputFlags) readSiblings(ctx context.Context, s *session, paths []string, known []*applique.Recognised) map[string]*sibling {
	out := map[string]*sibling{}
	more := siblings(paths)
	if len(more) == 0 {
		return out
	}
	var passed atomic.Int64
	var bytes int64
	for src := range in.sources(s, more, &passed) {
		if bytes += max(src.size, 0); bytes > mostHeld {
			break
		}
		got, err := in.recognise(ctx, src, known)
		if err != nil || got.err != nil {
			continue
		}
		if got.noted.Notes == nil {
			known = append(known, got.known)
		}
		one := &sibling{}
		if one.sign, err = match.Glance(ctx, got.known, in.Settings, got.path); err != nil {
			continue
		}
		limits := sync.OnceValue(func() *report.Resize {
			p, err := got.measure(ctx)
			if err != nil {
				return nil
			}
			z, _ := resize.Limits(ctx, p)
			return z
		})
		one.scales = func(scale float64) bool { return resize.Holds(limits(), scale) }
		out[got.path] = one
	}
	return out
}

// signs are the signatures of siblings, by path.
func signsOf(all map[string]*sibling) []*match.Signature {
	var paths []string
	for p := range all {
		paths = append(paths, p)
	}
	slices.Sort(paths)
	var out []*match.Signature
	for _, p := range paths {
		out = append(out, all[p].sign)
	}
	return out
}
