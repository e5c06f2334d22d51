package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/pflag"
	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/match"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/resize"
	"github.com/stopcard/stopcard/cmd/internal/settingsfile"
)

var resizeVerb = verb{
	name:    "resize",
	args:    "FILE...",
	doc:     "how far a design may be resized on the machine, or what it becomes at a size",
	example: "stopcard resize --to 7in --picture strip.png block.dst",
	prepare: func(f *pflag.FlagSet) func(*session, []string) int {
		var c resizing
		c.in.add(f)
		f.StringVar(&c.to, "to", "", "size wanted: of the longer side (7in, 180mm), or to fit in (130x180, 5x7in)")
		f.StringVar(&c.by, "by", "", "scale wanted, such as 120% or 1.2x")
		f.StringVar(&c.picture, "picture", "", "PNG file to write: the thinnest satin at the limits, thread at its true width")
		f.BoolVar(&c.force, "force", false, "replace an existing picture")
		f.BoolVar(&c.json, "json", false, "print one JSON document instead of text")
		return c.run
	},
}

// resizing is one run of resize.
type resizing struct {
	in              inputFlags
	to, by, picture string
	force, json     bool
}

// wanted is the scale asked for, for a design of a given size.
type wanted func(width, height float64) (float64, error)

const leastScale, mostScale = 0.1, 10

// target reads --to and --by; it is nil where neither is given.
func (c *resizing) target() (wanted, error) {
	switch {
	case c.to != "" && c.by != "":
		return nil, fmt.Errorf("resize: --to and --by exclude one another")
	case c.by != "":
		text, percent := strings.CutSuffix(strings.TrimSpace(c.by), "%")
		text, times := strings.CutSuffix(text, "x")
		v, err := settingsfile.ParseNumber(text)
		if err == nil && !percent && !times && v == mostScale {
			return nil, fmt.Errorf("--by %s: 10 %% or 10 times? Write 10%% or 10x", c.by)
		}
		if err == nil && (percent || !times && v > mostScale) {
			v /= 100
		}
		if err != nil || !(v >= leastScale && v <= mostScale) {
			return nil, fmt.Errorf("--by: expected a scale such as 120%%, from 10 to 1000, got %q", c.by)
		}
		return func(_, _ float64) (float64, error) { return v, nil }, nil
	}
	return sizeWanted("--to", c.to)
}

// resized is what a worker hands over.
type resized struct {
	sign *match.Signature
	err  error
}

func (c *resizing) run(s *session, paths []string) int {
	want, err := c.target()
	if err != nil {
		s.complain("%v", err)
		return exitUsage
	}
	if c.picture == toStdout {
		s.complain("--picture names a file; what is said goes to standard output")
		return exitUsage
	}
	if !s.kindFits("--picture", c.picture, ".png") {
		return exitUsage
	}
	c.in.passes = true
	var reports []*report.Report
	var signs []*match.Signature
	var known []*applique.Recognised // of as many as there may be files beside, for their sake
	drawn := false
	status, t := batch(&c.in, s, paths, func(got *input) (out resized) {
		r := got.report
		r.Resize, out.err = resize.Limits(got.ctx, got.pass)
		if got.pass = nil; out.err != nil {
			return out
		}
		out.sign = match.Sign(got.known, r)
		if want != nil && r.Resize != nil {
			var scale float64
			if scale, out.err = want(r.WidthMM, r.HeightMM); out.err == nil {
				var after *report.Report
				if after, out.err = analyse.Measure(got.ctx, got.known, got.noted, scale); out.err == nil {
					r.ResizedTo = resize.At(got.known, r, after, scale)
				}
			}
		}
		return out
	}, func(got *input, out resized) int {
		if out.err != nil {
			s.complain("%s: %v", got.path, out.err)
			return exitUsage
		}
		status := exitOK
		switch {
		case c.picture == "":
		case drawn:
			s.complain("--picture names one file; the strip of %s is not drawn", got.path)
			status = exitUsage
		default:
			drawn = true
			status = c.draw(s, got)
		}
		reports, signs = append(reports, withoutDrawing(got.report)), append(signs, out.sign)
		if got.noted.Notes == nil && len(known) < mostSiblings {
			known = append(known, got.known)
		}
		return status
	}, nil)
	if status == exitUsage && t.designs == 0 {
		return status
	}
	// Another size of a pack beats resizing, whether it was named or lies beside.
	beside := c.in.readSiblings(s.context(), s, paths, known)
	set := s.matched(append(signs, signsOf(beside)...))
	holds := func(path string, scale float64) bool {
		if b := beside[path]; b != nil {
			return b.scales(scale)
		}
		i := slices.IndexFunc(reports, func(r *report.Report) bool { return r.Path == path })
		return i >= 0 && resize.Holds(reports[i].Resize, scale)
	}
	for _, r := range reports {
		if r.ResizedTo != nil {
			r.ResizedTo.Nearer = set.Nearer(r.Path, r.ResizedTo.Scale, holds)
		}
	}
	if c.json {
		return max(status, c.print(s, reports, t))
	}
	l := s.layout(&c.in)
	twins := firstTwins(set)
	for _, r := range reports {
		if first := twins[r.Path]; first != "" {
			fmt.Fprintf(s.stdout, "%s\n", clip(printable(r.Path), 4*l.width))
			l.para(s.stdout, 2, "", fmt.Sprintf("The same stitches as %s: what is said there holds for it too.", printable(first)))
			fmt.Fprintln(s.stdout)
			continue
		}
		l.resize(s.stdout, r, set)
	}
	return status
}

// withoutDrawing drops what is only needed for drawing, so that large packs fit in memory.
func withoutDrawing(r *report.Report) *report.Report {
	r.Passages, r.Kinds, r.Density.Grid = nil, nil, nil
	for i := range r.SatinColumns {
		c := &r.SatinColumns[i]
		c.Centre, c.Left, c.Right = nil, nil, nil
	}
	for i := range r.Pieces {
		p := &r.Pieces[i]
		p.Placement, p.TackDown, p.CutEdge, p.Edge = nil, nil, []geom.Polyline{}, nil
	}
	return r
}

// firstTwins names for each file the first one with the same stitches.
func firstTwins(set *match.Matching) map[string]string {
	twins := map[string]string{}
	for _, d := range set.Designs {
		for _, z := range d.Sizes {
			first := map[int]string{}
			for _, f := range z.Files {
				if first[f.Edition] == "" {
					first[f.Edition] = f.Path
				} else if f.Path != first[f.Edition] {
					twins[f.Path] = first[f.Edition]
				}
			}
		}
	}
	return twins
}

// print writes the JSON document.
func (c *resizing) print(s *session, reports []*report.Report, t *tally) int {
	doc := report.Document{Schema: report.Schema, Settings: c.in.Settings, Complete: !t.stopped,
		Designs: append([]*report.Report{}, reports...), Unreadable: append([]report.Unreadable{}, t.unreadable...)}
	if err := s.printJSON(doc); err != nil {
		s.complain("the report cannot be written: %v", err)
		return exitUnreadable
	}
	return exitOK
}
