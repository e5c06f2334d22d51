package main

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sync/atomic"

	"github.com/spf13/pflag"
	"github.com/stopcard/stopcard/analyse/match"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/cmd/internal/settingsfile"
)

// choice says which files of a pack a verb takes. One design in nine files is one design:
// one of them is enough to sew from.
type choice struct {
	all  bool
	size string
	only map[string]bool // sources to take, by path; nil: all

	unreadable []report.Unreadable // of the packs, which are not taken
}

// addChoice defines the flags of verbs that take one file of each design in a pack.
func (in *inputFlags) addChoice(f *pflag.FlagSet) {
	f.StringVar(&in.choice.size, "size", "", "of a pack, the size nearest to this: of the longer side (7in, 180mm), or to fit in (130x180, 5x7in)")
	f.BoolVar(&in.choice.all, "all", false, "of a pack, all sizes and formats, not one file of each design")
}

// mostChosen is how many designs a pack has at most; more are a collection, of which all
// are wanted.
const mostChosen = 200

// choose looks into the packs and folders that paths name and picks one file of each
// design in them: the size that fits the hoop or is asked for, in the format that tells
// most. It says which. The status is the gravest met.
func (in *inputFlags) choose(s *session, paths []string) int {
	c := &in.choice
	want, err := sizeWanted("--size", c.size)
	if err != nil {
		s.complain("%v", err)
		return exitUsage
	}
	if c.all {
		if want != nil {
			s.complain("--size and --all exclude one another")
			return exitUsage
		}
		return exitOK
	}
	// Only what holds several designs leaves a choice.
	var packs []string
	var passed atomic.Int64
	named := map[string]bool{}
	for _, path := range paths {
		if path == "-" {
			continue
		}
		n := 0
		for src := range in.sources(s, []string{path}, &passed) {
			if n++; n > mostChosen {
				break
			}
			named[src.path] = true
		}
		if n > 1 && n <= mostChosen {
			packs = append(packs, path)
		}
	}
	if len(packs) == 0 {
		return exitOK
	}
	var signs []*match.Signature
	whole := map[string]bool{}
	status, t := batch(in, s, packs, func(got *input) *match.Signature { return match.Sign(got.known, got.report) },
		func(got *input, sign *match.Signature) int {
			signs, whole[got.path] = append(signs, sign), got.err == nil
			return exitOK
		}, nil)
	if status == exitUsage || t.stopped {
		return status
	}
	in.again = true
	only := map[string]bool{}
	for _, path := range paths {
		if !slices.Contains(packs, path) {
			for src := range in.sources(s, []string{path}, &passed) {
				only[src.path] = true
			}
		}
	}
	found := s.matched(signs)
	for i := range found.Designs {
		d := &found.Designs[i]
		z, why := in.sizeOf(d, want)
		f := tellsMost(z.Files, whole)
		only[f.Path] = true
		files := 0
		for _, other := range d.Sizes {
			files += len(other.Files)
		}
		if files > 1 {
			s.complain("%s is one design in %s and %s; taking %s (%.1f x %.1f mm%s)", d.Name, words.Count(len(d.Sizes), "size"), words.Count(files, "file"), f.Path, z.WidthMM, z.HeightMM, why)
		}
	}
	c.only, c.unreadable = only, t.unreadable
	return status
}

// sizeOf picks a size of a design and says why.
func (in *inputFlags) sizeOf(d *match.MatchedDesign, want wanted) (*match.MatchedSize, string) {
	var sound []*match.MatchedSize
	for i := range d.Sizes {
		if d.Sizes[i].Verdict != report.StretchedCopy {
			sound = append(sound, &d.Sizes[i])
		}
	}
	if len(sound) == 0 {
		sound = append(sound, &d.Sizes[0])
	}
	hoop := words.Hoop{WidthMM: in.Settings.HoopWidthMM, HeightMM: in.Settings.HoopHeightMM}
	largest := sound[len(sound)-1]
	switch {
	case len(sound) == 1:
		return largest, ""
	case want != nil:
		best := slices.MinFunc(sound, func(a, b *match.MatchedSize) int { return cmp.Compare(away(a, want), away(b, want)) })
		return best, ", the nearest to " + in.choice.size
	case hoop.Given():
		for i := len(sound) - 1; i >= 0; i-- {
			if ok, turned := hoop.Holds(sound[i].WidthMM, sound[i].HeightMM); ok {
				if turned {
					return sound[i], ", the largest that the hoop holds, turned"
				}
				return sound[i], ", the largest that the hoop holds"
			}
		}
		return sound[0], ", the smallest: the hoop holds none"
	}
	return largest, ", the largest; --hoop or --size chooses another, --all takes all"
}

// away is how far a size lies from the one wanted.
func away(z *match.MatchedSize, want wanted) float64 {
	scale, err := want(z.WidthMM, z.HeightMM)
	if err != nil {
		return math.Inf(1)
	}
	return math.Abs(math.Log(scale))
}

// tellsMost is the file of a size that tells most: read whole, of the edition that most
// files hold, with the colours of its threads, its cuts and its name.
func tellsMost(files []match.MatchedFile, whole map[string]bool) match.MatchedFile {
	worth := func(f match.MatchedFile) int {
		n := f.ColourWorth() << 2
		for bit, yes := range map[int]bool{1: f.Named, 1 << 1: f.Trims > 0, 1 << 4: f.Edition == 1, 1 << 5: whole[f.Path]} {
			if yes {
				n += bit
			}
		}
		return n
	}
	return slices.MaxFunc(files, func(a, b match.MatchedFile) int {
		return cmp.Or(cmp.Compare(worth(a), worth(b)), cmp.Compare(b.Path, a.Path))
	})
}

// sizeWanted reads a size: of the longer side, or a field to fit in. It is nil for none.
func sizeWanted(flag, text string) (wanted, error) {
	if text == "" {
		return nil, nil
	}
	fit := func(w, h float64) wanted {
		return func(width, height float64) (float64, error) {
			s := 0.0
			for _, hoop := range [][2]float64{{w, h}, {h, w}} {
				s = max(s, min(hoop[0]/max(width, 0.1), hoop[1]/max(height, 0.1)))
			}
			if !(s >= leastScale && s <= mostScale) {
				return 0, fmt.Errorf("%s %s is not within 10 to 1000 %% of this design", flag, text)
			}
			return s, nil
		}
	}
	if w, h, err := settingsfile.ParseSize(text); err == nil {
		return fit(w, h), nil
	}
	v, err := settingsfile.ParseLength(text)
	if err != nil || !(v > 0 && v < 5000) {
		return nil, fmt.Errorf("%s: expected a size such as 7in, 180mm or 5x7in, got %q", flag, text)
	}
	return fit(v, v), nil
}
