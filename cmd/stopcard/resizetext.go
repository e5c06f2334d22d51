package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/stopcard/stopcard/analyse/match"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/resize"
	"github.com/stopcard/stopcard/analyse/words"
)

// resize writes the safe range and each limit, or what the design becomes.
func (l layout) resize(w io.Writer, r *report.Report, set *match.Matching) {
	fmt.Fprintf(w, "%s\n", clip(printable(r.Path), 4*l.width))
	fmt.Fprintf(w, "  %s as it is, %s\n", l.units.Size(r.WidthMM, r.HeightMM), words.Count(r.Stitches, "stitch"))
	l.partial(w, r)
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
				sizes = append(sizes, l.units.Size(o.WidthMM, o.HeightMM))
			}
			l.para(w, 2, "", "It is also there in "+strings.Join(sizes, ", ")+". Another size that was digitised anew is better than resizing.")
		}
		for _, d := range []report.Direction{report.Growing, report.Shrinking} {
			l.limits(w, r, d)
		}
		fmt.Fprintln(w)
		l.para(w, 2, "", "These are the limits when the machine keeps the stitch count, as most do. Make a trial piece before you cut good cloth; the machine's manual comes first.")
		if z.Recalculated != "" {
			fmt.Fprintln(w)
			l.para(w, 2, "", z.Recalculated)
		}
	}
	fmt.Fprintln(w)
}

// safeRange writes the safe range with the sizes that it makes.
func (l layout) safeRange(w io.Writer, r *report.Report) {
	fmt.Fprintf(w, "  %s\n", resize.RangeWords(r.Resize))
	least, most := r.Resize.Percents()
	for _, end := range []struct {
		word    string
		percent int
	}{{"from", least}, {"to", most}} {
		if end.percent != 100 {
			s := float64(end.percent) / 100
			fmt.Fprintf(w, "    %-4s %s\n", end.word, l.units.Size(r.WidthMM*s, r.HeightMM*s))
		}
	}
}

// limits writes a row for each limit in one direction.
func (l layout) limits(w io.Writer, r *report.Report, d report.Direction) {
	fmt.Fprintf(w, "\n  %s\n", map[report.Direction]string{report.Growing: "Larger", report.Shrinking: "Smaller"}[d])
	none := true
	for i := range r.Resize.Limits {
		m := &r.Resize.Limits[i]
		if m.Direction != d {
			continue
		}
		if m.Already {
			l.para(w, 11, "", resize.LimitWords(m, l.units))
			continue
		}
		none = false
		size := "hardly at all"
		if scale := resize.RoundWithin(m.Scale, d); scale != 1 {
			size = l.units.Size(r.WidthMM*scale, r.HeightMM*scale)
		}
		fmt.Fprintf(w, "  %7s  %s\n", resize.PercentWithin(m.Scale, d), size)
		l.para(w, 11, "", resize.LimitWords(m, l.units))
	}
	if none {
		fmt.Fprintf(w, "           nothing that holds today fails as far as %s\n", resize.Percent(d.End()))
	}
}

// resizedTo writes what the design becomes at the size asked for.
func (l layout) resizedTo(w io.Writer, r *report.Report) {
	e, z := r.ResizedTo, r.Resize
	fmt.Fprintf(w, "\n  At %s it is %s\n", resize.Percent(e.Scale), l.units.Size(e.WidthMM, e.HeightMM))
	worse := slices.ContainsFunc(e.Changes, func(c report.FindingChange) bool {
		return c.Change == report.Worsens && c.After.Severity.AtLeast(report.Caution)
	})
	switch {
	case !resize.Holds(z, e.Scale):
		fmt.Fprintf(w, "  That is outside the safe range.\n")
	case worse:
		l.para(w, 2, "", "All that holds today still holds there, but what is wrong already becomes worse: see below.")
	default:
		fmt.Fprintf(w, "  That is within the safe range.\n")
	}
	if o := e.Nearer; o != nil {
		what := "That size is there: take " + printable(o.Path) + " and do not resize this one."
		switch {
		case o.Scale != 1 && o.Holds:
			what = fmt.Sprintf("Take %s in place of this one: %s, resized to %s, which it bears.", printable(o.Path), l.units.Size(o.WidthMM, o.HeightMM), resize.Percent(o.Scale))
		case o.Scale != 1:
			what = fmt.Sprintf("No size at hand bears it. %s is the nearest: %s, resized to %s, which is outside what it bears as well.", printable(o.Path), l.units.Size(o.WidthMM, o.HeightMM), resize.Percent(o.Scale))
		}
		l.para(w, 2, "", what)
	}
	if e.Anew != e.Stitches {
		l.para(w, 2, "", fmt.Sprintf("Resized on the machine it keeps its %s; digitised anew for that size it would have about %d.", words.Count(e.Stitches, "stitch"), e.Anew))
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
			l.para(w, 4, "", fmt.Sprintf("now %s, then %s; limit %s", resize.Figure(c.Before.Measured, f.Unit, l.units), resize.Figure(c.After.Measured, f.Unit, l.units), resize.Figure(f.Limit, f.Unit, l.units)))
		}
		if c.Change == report.Appears || c.Change == report.Worsens {
			l.para(w, 4, "", printable(f.Advice))
		}
	}
}
