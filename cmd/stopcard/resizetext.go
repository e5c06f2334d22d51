package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/stopcard/stopcard/analyse/match"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/resize"
)

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
func (l layout) resize(w io.Writer, r *report.Report, set *match.Matching) {
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
		for _, d := range []report.Direction{report.Growing, report.Shrinking} {
			l.limits(w, r, d)
		}
		fmt.Fprintln(w)
		l.para(w, 2, "", "These are the limits when the machine keeps the stitch count, as most do. Make a trial piece before you cut good cloth; the machine's manual comes first.")
	}
	fmt.Fprintln(w)
}

// safeRange writes the safe range in one or two lines.
func (l layout) safeRange(w io.Writer, r *report.Report) {
	least, most := resize.RoundWithin(r.Resize.Smallest, report.Shrinking), resize.RoundWithin(r.Resize.Largest, report.Growing)
	size := func(scale float64) string { return l.units.size(r.WidthMM*scale, r.HeightMM*scale) }
	switch {
	case least == 1 && most == 1:
		fmt.Fprintf(w, "  Do not resize it either way: see below.\n")
	case least == 1:
		fmt.Fprintf(w, "  May grow to %s: %s. Do not shrink it.\n", resize.Percent(most), size(most))
	case most == 1:
		fmt.Fprintf(w, "  May shrink to %s: %s. Do not enlarge it.\n", resize.Percent(least), size(least))
	default:
		fmt.Fprintf(w, "  May be resized from %s to %s:\n", resize.Percent(least), resize.Percent(most))
		fmt.Fprintf(w, "  from %s\n  to   %s\n", size(least), size(most))
	}
}

// limits writes a row for each limit in one direction.
func (l layout) limits(w io.Writer, r *report.Report, d report.Direction) {
	head := map[report.Direction]string{report.Growing: "Larger", report.Shrinking: "Smaller"}[d]
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
		switch scale := resize.RoundWithin(m.Scale, d); {
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
		fmt.Fprintf(w, "  %7s  %s\n", resize.PercentWithin(m.Scale, d), size)
		l.para(w, 11, "", fmt.Sprintf("%s: %s (%s)", where, m.Reason, strings.TrimSpace(figures)))
	}
	if none {
		end := map[report.Direction]float64{report.Growing: report.ResizeTo, report.Shrinking: report.ResizeFrom}[d]
		fmt.Fprintf(w, "\n  %s\n           no check fails as far as %s\n", head, resize.Percent(end))
	}
}

// resizedTo writes what the design becomes at the size asked for.
func (l layout) resizedTo(w io.Writer, r *report.Report) {
	e, z := r.ResizedTo, r.Resize
	fmt.Fprintf(w, "\n  At %s it is %s\n", resize.Percent(e.Scale), l.units.size(e.WidthMM, e.HeightMM))
	inside := e.Scale <= z.Largest && e.Scale >= z.Smallest
	if inside {
		fmt.Fprintf(w, "  That is within the safe range.\n")
	} else {
		fmt.Fprintf(w, "  That is outside the safe range.\n")
	}
	if o := e.Nearer; o != nil {
		what := "That size is there: take " + printable(o.Path) + " and do not resize this one."
		if o.Scale != 1 {
			what = fmt.Sprintf("%s is nearer to that size: %s, to be resized by %s only.", printable(o.Path), l.units.size(o.WidthMM, o.HeightMM), resize.Percent(o.Scale))
		}
		l.para(w, 2, "", what)
	}
	if e.Anew != e.Stitches {
		l.para(w, 2, "", fmt.Sprintf("Resized on the machine it keeps its %s; digitised anew for that size it would have about %d.", plural(e.Stitches, "stitch"), e.Anew))
	}
	if len(e.Changes) == 0 {
		fmt.Fprintf(w, "  No finding appears, changes or goes away.\n")
	}
	last := report.Change("")
	for _, c := range e.Changes {
		if c.Change != last {
			fmt.Fprintf(w, "\n  %s\n", map[report.Change]string{
				report.Appears: "New at that size", report.Worsens: "Worse than it is now",
				report.Eases: "Better than it is now", report.GoesAway: "Gone at that size"}[c.Change])
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
		if c.Change == report.Appears || c.Change == report.Worsens {
			l.para(w, 4, "", printable(f.Advice))
		}
	}
}
