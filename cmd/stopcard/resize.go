package main

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/render"
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
		f.StringVar(&c.by, "by", "", "scale wanted, such as 120%")
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
		v, err := parseNumber(text)
		if err == nil && (percent || v > mostScale) {
			v /= 100
		}
		if err != nil || !(v >= leastScale && v <= mostScale) {
			return nil, fmt.Errorf("--by: expected a scale such as 120%%, from 10 to 1000, got %q", c.by)
		}
		return func(_, _ float64) (float64, error) { return v, nil }, nil
	case c.to != "":
		fit := func(w, h float64) wanted {
			return func(width, height float64) (float64, error) {
				s := 0.0
				for _, hoop := range [][2]float64{{w, h}, {h, w}} {
					s = max(s, min(hoop[0]/max(width, 0.1), hoop[1]/max(height, 0.1)))
				}
				if !(s >= leastScale && s <= mostScale) {
					return 0, fmt.Errorf("--to %s is not within 10 to 1000 %% of this design", c.to)
				}
				return s, nil
			}
		}
		if w, h, err := parseSize(c.to); err == nil {
			return fit(w, h), nil
		}
		v, err := parseLength(c.to)
		if err != nil || !(v > 0 && v < 5000) {
			return nil, fmt.Errorf("--to: expected a size such as 7in, 180mm or 5x7in, got %q", c.to)
		}
		return fit(v, v), nil
	}
	return nil, nil
}

// resized is what a worker hands over.
type resized struct {
	sign *analyse.Signature
	err  error
}

func (c *resizing) run(s *session, paths []string) int {
	want, err := c.target()
	if err != nil {
		s.complain("%v", err)
		return exitUsage
	}
	if !s.kindFits("--picture", c.picture, ".png") {
		return exitUsage
	}
	var reports []*analyse.Report
	var signs []*analyse.Signature
	drawn := false
	status, t := batch(&c.in, s, paths, func(got *input) (out resized) {
		r := got.report
		r.Resize = analyse.ResizeLimits(got.design, c.in.settings)
		out.sign = analyse.Sign(got.design, r)
		if want != nil && r.Resize != nil {
			var scale float64
			if scale, out.err = want(r.WidthMM, r.HeightMM); out.err == nil {
				r.ResizedTo = analyse.Resized(got.design, r, c.in.settings, scale)
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
		return status
	}, nil)
	if status == exitUsage && t.designs == 0 {
		return status
	}
	// Another size of a pack beats resizing.
	set := analyse.Match(signs)
	for _, r := range reports {
		if r.ResizedTo != nil {
			r.ResizedTo.Nearer = set.Nearer(r.Path, r.ResizedTo.Scale)
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
func withoutDrawing(r *analyse.Report) *analyse.Report {
	r.Passages, r.Kinds, r.Density.Grid = nil, nil, nil
	for i := range r.SatinColumns {
		c := &r.SatinColumns[i]
		c.Centre, c.Left, c.Right = nil, nil, nil
	}
	for i := range r.Pieces {
		p := &r.Pieces[i]
		p.Placement, p.TackDown, p.CutEdge, p.Edge = nil, nil, nil, nil
	}
	return r
}

// firstTwins names for each file the first one with the same stitches.
func firstTwins(set *analyse.Matching) map[string]string {
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
func (c *resizing) print(s *session, reports []*analyse.Report, t *tally) int {
	doc := analyse.Document{Schema: analyse.Schema, Settings: c.in.settings, Complete: !t.stopped,
		Designs: append([]*analyse.Report{}, reports...), Unreadable: append([]analyse.Unreadable{}, t.unreadable...)}
	e := json.NewEncoder(s.stdout)
	e.SetIndent("", "  ")
	if err := e.Encode(doc); err != nil {
		s.complain("the report cannot be written: %v", err)
		return exitUnreadable
	}
	return exitOK
}

// figure writes a measured figure with its limit's unit, short.
func figure(v float64, unit string) string {
	switch unit {
	case "share":
		return fmt.Sprintf("%.0f %%", 100*v)
	case "mm":
		if v < 10 {
			return fmt.Sprintf("%.2f mm", v)
		}
		return fmt.Sprintf("%.1f mm", v)
	case "holes/mm2":
		return fmt.Sprintf("%.1f holes/mm2", v)
	case "layers":
		return fmt.Sprintf("%.1f layers", v)
	}
	return fmt.Sprintf("%.3g %s", v, unit)
}

// figureNames say what a limit's figure is a measure of.
var figureNames = map[string]string{
	"thin-cover": "cover", "thin-cover-stretch": "cover", "wide-satin": "width", "narrow-satin": "width",
	"long-stitch": "longest stitch", "short-stitch": "twenty shortest stitches", "untrimmed-jump": "loose thread", "outside-hoop": "width",
	"open-outline": "opening", "tack-down-astray": "astray by", "drawn-in": "inside by", "trim-allowance": "reach past the tack-down",
	"crowded-needle": "crowding", "stacked-layers": "thread", "edge-uncovered": "edge that shows",
}

// resize writes the safe range and each limit, or what the design becomes.
func (l layout) resize(w io.Writer, r *analyse.Report, set *analyse.Matching) {
	fmt.Fprintf(w, "%s\n", clip(printable(r.Path), 4*l.width))
	fmt.Fprintf(w, "  %s as it is, %s\n", l.units.size(r.WidthMM, r.HeightMM), plural(r.Stitches, "stitch"))
	z := r.Resize
	if z == nil {
		fmt.Fprintf(w, "  It has no size to be resized from.\n\n")
		return
	}
	l.safeRange(w, r)
	if r.ResizedTo != nil {
		l.resizedTo(w, r)
	} else {
		if others := set.Others(r.Path, 1); len(others) > 0 {
			var sizes []string
			for _, o := range others {
				sizes = append(sizes, l.units.size(o.WidthMM, o.HeightMM))
			}
			l.para(w, 2, "", "Among these files it is also there in "+strings.Join(sizes, ", ")+". Another size that was digitised anew is better than resizing.")
		}
		for _, d := range []analyse.Direction{analyse.Growing, analyse.Shrinking} {
			l.limits(w, r, d)
		}
		fmt.Fprintln(w)
		l.para(w, 2, "", "These are the limits when the machine keeps the stitch count, as most do. Make a trial piece before you cut good cloth; the machine's manual comes first.")
	}
	fmt.Fprintln(w)
}

// safeRange writes the safe range in one or two lines.
func (l layout) safeRange(w io.Writer, r *analyse.Report) {
	least, most := analyse.RoundWithin(r.Resize.Smallest, analyse.Shrinking), analyse.RoundWithin(r.Resize.Largest, analyse.Growing)
	size := func(scale float64) string { return l.units.size(r.WidthMM*scale, r.HeightMM*scale) }
	switch {
	case least == 1 && most == 1:
		fmt.Fprintf(w, "  Do not resize it either way: see below.\n")
	case least == 1:
		fmt.Fprintf(w, "  May grow to %s: %s. Do not shrink it.\n", analyse.Percent(most), size(most))
	case most == 1:
		fmt.Fprintf(w, "  May shrink to %s: %s. Do not enlarge it.\n", analyse.Percent(least), size(least))
	default:
		fmt.Fprintf(w, "  May be resized from %s to %s:\n", analyse.Percent(least), analyse.Percent(most))
		fmt.Fprintf(w, "  from %s\n  to   %s\n", size(least), size(most))
	}
}

// limits writes a row for each limit in one direction.
func (l layout) limits(w io.Writer, r *analyse.Report, d analyse.Direction) {
	head := map[analyse.Direction]string{analyse.Growing: "Larger", analyse.Shrinking: "Smaller"}[d]
	none := true
	for _, m := range r.Resize.Limits {
		if m.Direction != d {
			continue
		}
		if none {
			fmt.Fprintf(w, "\n  %s\n", head)
		}
		none = false
		where := "whole design"
		if m.Stop > 0 {
			where = fmt.Sprintf("stop %d", m.Stop)
		}
		size := "as it is"
		switch scale := analyse.RoundWithin(m.Scale, d); {
		case m.Already:
		case scale == 1:
			size = "hardly at all"
		default:
			size = l.units.size(r.WidthMM*scale, r.HeightMM*scale)
		}
		figures := fmt.Sprintf("%s %s -> %s", figureNames[m.Name], figure(m.Now, m.Unit), figure(m.Measured, m.Unit))
		if m.Already {
			figures = fmt.Sprintf("%s %s, limit %s", figureNames[m.Name], figure(m.Now, m.Unit), figure(m.Limit, m.Unit))
		}
		fmt.Fprintf(w, "  %7s  %s\n", analyse.PercentWithin(m.Scale, d), size)
		l.para(w, 11, "", fmt.Sprintf("%s: %s (%s)", where, m.Reason, strings.TrimSpace(figures)))
	}
	if none {
		end := map[analyse.Direction]float64{analyse.Growing: analyse.ResizeTo, analyse.Shrinking: analyse.ResizeFrom}[d]
		fmt.Fprintf(w, "\n  %s\n           no check fails as far as %s\n", head, analyse.Percent(end))
	}
}

// resizedTo writes what the design becomes at the size asked for.
func (l layout) resizedTo(w io.Writer, r *analyse.Report) {
	e, z := r.ResizedTo, r.Resize
	fmt.Fprintf(w, "\n  At %s it is %s\n", analyse.Percent(e.Scale), l.units.size(e.WidthMM, e.HeightMM))
	inside := e.Scale <= z.Largest && e.Scale >= z.Smallest
	if inside {
		fmt.Fprintf(w, "  That is within the safe range.\n")
	} else {
		fmt.Fprintf(w, "  That is outside the safe range.\n")
	}
	if o := e.Nearer; o != nil {
		what := "That size is there: take " + printable(o.Path) + " and do not resize this one."
		if o.Scale != 1 {
			what = fmt.Sprintf("%s is nearer to that size: %s, to be resized by %s only.", printable(o.Path), l.units.size(o.WidthMM, o.HeightMM), analyse.Percent(o.Scale))
		}
		l.para(w, 2, "", what)
	}
	if e.Anew != e.Stitches {
		l.para(w, 2, "", fmt.Sprintf("Resized on the machine it keeps its %s; digitised anew for that size it would have about %d.", plural(e.Stitches, "stitch"), e.Anew))
	}
	if len(e.Changes) == 0 {
		fmt.Fprintf(w, "  No finding appears, changes or goes away.\n")
	}
	last := analyse.Change("")
	for _, c := range e.Changes {
		if c.Change != last {
			fmt.Fprintf(w, "\n  %s\n", map[analyse.Change]string{
				analyse.Appears: "New at that size", analyse.Worsens: "Worse than it is now",
				analyse.Eases: "Better than it is now", analyse.GoesAway: "Gone at that size"}[c.Change])
			last = c.Change
		}
		f := c.After
		if f == nil {
			f = c.Before
		}
		where := ""
		if f.Stop > 0 {
			where = fmt.Sprintf("stop %d: ", f.Stop)
		}
		fmt.Fprintf(w, "  %s %s\n", l.paint(f.Severity), f.Rule)
		l.para(w, 4, "", printable(where+f.Message))
		if c.Before != nil && c.After != nil {
			l.para(w, 4, "", fmt.Sprintf("now %s, then %s; limit %s", figure(c.Before.Measured, f.Unit), figure(c.After.Measured, f.Unit), figure(f.Limit, f.Unit)))
		}
		if c.Change == analyse.Appears || c.Change == analyse.Worsens {
			l.para(w, 4, "", printable(f.Advice))
		}
	}
}

// draw writes the strip of one design.
func (c *resizing) draw(s *session, got *input) int {
	r := got.report
	if r.Resize == nil {
		s.complain("%s: it has no size, so no picture", got.path)
		return exitUsage
	}
	panels := stripScales(r)
	scales := make([]float64, len(panels))
	for i, p := range panels {
		scales[i] = p.Scale
	}
	stop, at, views := analyse.CoverViews(got.design, r, c.in.settings, scales)
	if stop == 0 {
		s.complain("%s: no satin, so there is no cover to show", got.path)
		return exitUsage
	}
	for i, v := range views {
		panels[i].Label += fmt.Sprintf("\nstop %d: %.0f %% covered\nstitches %.2f mm apart\nsatin %.1f mm wide", stop, 100*v.Coverage, v.PitchMM, v.WidthMM)
	}
	img := render.Strip(got.design, r, render.StripOptions{Stop: stop, At: at, Panels: panels,
		Laid: c.in.settings.LaidWidth(), TrimMM: c.in.settings.TrimAllowanceMM})
	if err := writeFile(c.picture, c.force, got.path, func(w io.Writer) error { return render.EncodePNG(w, img, 300) }); err != nil {
		s.complain("%v", err)
		return exitUsage
	}
	s.wrote(c.picture)
	return exitOK
}

// stripScales are the scales to show: the limits with the design as it is
// between, and the size asked for. Where a limit is reached already, a fifth
// more or less shows what happens past it.
func stripScales(r *analyse.Report) []render.StripPanel {
	z := r.Resize
	const past = 0.2
	out := []render.StripPanel{{Scale: z.Smallest, Label: "smallest: " + analyse.PercentWithin(z.Smallest, analyse.Shrinking)},
		{Scale: 1, Label: "as it is: 100 %"},
		{Scale: z.Largest, Label: "largest: " + analyse.PercentWithin(z.Largest, analyse.Growing)}}
	if z.Smallest == 1 {
		out[0] = render.StripPanel{Scale: 1 - past, Label: "too small: " + analyse.Percent(1-past)}
	}
	if z.Largest == 1 {
		out[2] = render.StripPanel{Scale: 1 + past, Label: "too large: " + analyse.Percent(1+past)}
	}
	if e := r.ResizedTo; e != nil && e.Scale != 1 {
		p := render.StripPanel{Scale: e.Scale, Label: "asked for: " + analyse.Percent(e.Scale)}
		if e.Scale > 1 {
			return append(out, p)
		}
		out = append([]render.StripPanel{p}, out...)
	}
	return out
}
