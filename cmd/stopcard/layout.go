package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/stitchfile"
)

// layout is how reports are written: how wide, in what units, in colour or not.
type layout struct {
	width  int
	units  words.Units
	colour bool
	chosen bool // not all rules were looked at
}

func (s *session) layout(in *inputFlags) layout {
	return layout{width: s.width(), units: words.UnitsOf(&in.Settings), colour: s.colour}
}

// para writes text between indent and the right edge; first stands before it.
func (l layout) para(w io.Writer, indent int, first, text string) {
	gap := strings.Repeat(" ", indent)
	fmt.Fprintf(w, "%s%s\n", pad(first, indent), wrap(text, l.width-indent, gap))
}

// report writes the figures, the findings and the stops.
func (l layout) report(w io.Writer, r *report.Report) {
	title := r.Title
	if title == "" {
		title = r.Name
	}
	if title == "" {
		title = "no name in the file"
	}
	fmt.Fprintf(w, "%s\n", clip(fmt.Sprintf("%s (%s, %s)", printable(r.Path), printable(title), r.Format), 4*l.width))
	fmt.Fprintf(w, "  %s, %s, %s\n", l.units.Size(r.WidthMM, r.HeightMM), words.Count(r.Stitches, "stitch"), words.Count(r.ColourStops, "colour stop"))
	fmt.Fprintf(w, "  %s, %s, %s\n", words.Count(r.Trims, "trim"), words.Count(r.Jumps, "jump"), words.TimeOfBoth(r))
	fmt.Fprintf(w, "  needle thread %s, bobbin thread %s\n", l.units.Metres(r.NeedleThreadM), l.units.Metres(r.BobbinThreadM))
	l.whole(w, r)
	fmt.Fprintln(w)
	l.noted(w, r)
	l.findings(w, r)
	l.stops(w, r)
	fmt.Fprintln(w)
}

// whole says whether the file is all there, where no finding does.
func (l layout) whole(w io.Writer, r *report.Report) {
	if r.Whole == "" || slices.ContainsFunc(r.Findings, func(f report.Finding) bool { return f.Rule == "damaged-file" }) {
		return
	}
	text := r.Whole + " (" + strings.Join(r.WholeReasons, "; ") + ")"
	if r.Whole == string(stitchfile.CannotTell) {
		text += ": look at the picture whether all of the design is there"
	}
	l.para(w, 14, "  whole file: ", printable(text))
}

// partial says, over what is told of a design, that it is not all there.
func (l layout) partial(w io.Writer, r *report.Report) {
	if part := r.Partial(); part != "" {
		severity := report.Caution
		if r.Damage != nil {
			severity = report.Fault
		}
		l.para(w, 2, "", l.paint(severity)+": "+printable(part)+". What follows is of what is there: do not go by it.")
	}
}

// noted says which notes are heeded, and what they say of pieces.
func (l layout) noted(w io.Writer, r *report.Report) {
	if r.Notes == nil || r.Notes.Fit == "another design" {
		return
	}
	l.para(w, 2, "", printable("Notes: "+r.Notes.Path))
	if r.Notes.Message != "" && !r.Notes.Look {
		l.para(w, 4, "", printable(r.Notes.Message))
	}
	for _, p := range r.Pieces {
		if p.Cloth != "" || p.Note != "" {
			l.para(w, 4, "", printable(fmt.Sprintf("piece %d: %s", p.Number, strings.Join(slices.DeleteFunc([]string{p.Cloth, p.Note}, func(s string) bool { return s == "" }), "; "))))
		}
	}
	fmt.Fprintln(w)
}

// findings writes what was found, the gravest first.
func (l layout) findings(w io.Writer, r *report.Report) {
	for _, warning := range r.Untold() {
		l.para(w, 4, "  ", printable(warning.String()))
	}
	switch {
	case r.Stitches == 0:
		fmt.Fprintln(w, "  There are no stitches in it: nothing to sew, and nothing to check.")
	case len(r.Findings) == 0 && l.chosen:
		fmt.Fprintln(w, "  Nothing found by the checks chosen with --only and --skip.")
	case len(r.Findings) == 0:
		fmt.Fprintln(w, "  Nothing found by the checks that 'stopcard rules' lists.")
	}
	for i := range r.Findings {
		f := &r.Findings[i]
		place := ""
		if where := words.Where(f); where != "" {
			place = where + ": "
		}
		fmt.Fprintf(w, "  %d %s %s\n", f.Number, l.paint(f.Severity), f.Rule)
		l.para(w, 4, "", printable(place+f.Message))
		l.para(w, 4, "", printable(f.Advice))
	}
	fmt.Fprintln(w)
}

// paint writes a severity in capitals, and on a terminal in colour.
func (l layout) paint(s report.Severity) string {
	word := strings.ToUpper(string(s))
	if !l.colour {
		return word
	}
	code := map[report.Severity]int{report.Fault: 31, report.Caution: 33, report.Note: 36}[s]
	return fmt.Sprintf("\x1b[1;%dm%s\x1b[0m", code, word)
}

// stops writes a row for each colour stop with the hand steps round it.
func (l layout) stops(w io.Writer, r *report.Report) {
	if len(r.Stops) == 0 {
		return
	}
	coloured := slices.ContainsFunc(r.Stops, func(s report.Stop) bool { return s.Colour != nil || s.ThreadNoted })
	extra := max(l.width-80, 0) / 2
	role, thread := 22+extra, 20+extra
	head := "  stop  " + pad("what it is for", role)
	if coloured {
		head += pad("thread", thread)
	}
	fmt.Fprintf(w, "%s%8s %10s%9s\n", head, "stitches", "machine", "hands")
	for _, s := range r.Stops {
		row := fmt.Sprintf("  %4d  %s", s.Number, pad(words.Role(r, &s), role))
		if coloured {
			name := "not in the file"
			switch {
			case s.ThreadNoted:
				name = s.ThreadName
			case s.ColourName != nil:
				name = *s.ColourName
			}
			row += pad(clip(printable(name), thread-1), thread)
		}
		fmt.Fprintf(w, "%s%8d %10s%9s\n", row, s.Stitches, words.CellTime(s.MachineMin), words.CellTime(s.Minutes-s.MachineMin))
		if s.Note != "" {
			l.para(w, 16, "        note:   ", printable(s.Note))
		}
		for _, step := range s.Before {
			l.para(w, 16, "        before: ", step)
		}
		for _, step := range s.After {
			l.para(w, 16, "        after:  ", step)
		}
	}
	l.threads(w, r)
	if !coloured {
		l.para(w, 2, "", "The file carries no thread colours: go by the picture of the pack, or by its colour list.")
	}
}
