package main

import (
	"fmt"
	"io"
	"slices"
	"sort"
	"strings"

	"github.com/spf13/pflag"
	"github.com/stopcard/stopcard/analyse/match"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/cmd/internal/settingsfile"
)

var matchVerb = verb{
	name:    "match",
	args:    "FILE...",
	doc:     "which files are one design: sizes and formats side by side",
	example: "stopcard match pack/*.dst pack/*.pes",
	prepare: func(f *pflag.FlagSet) func(*session, []string) int {
		var m matcher
		m.in.add(f)
		m.in.addSetting(f, "fail-on")
		f.BoolVar(&m.json, "json", false, "print one JSON document instead of text")
		return m.run
	},
}

// matcher is one run of match.
type matcher struct {
	in   inputFlags
	json bool
}

func (m *matcher) run(s *session, paths []string) int {
	var signs []*match.Signature
	var partly []report.Unreadable // told apart: what they lack is no difference
	status, t := batch(&m.in, s, paths, func(got *input) *match.Signature {
		return match.Sign(got.known, got.report)
	}, func(got *input, sign *match.Signature) int {
		if got.err != nil {
			partly = append(partly, report.Unreadable{Path: got.report.Path, Error: got.report.Partial()})
			return exitOK
		}
		signs = append(signs, sign)
		return exitOK
	}, nil)
	if status == exitUsage {
		return status
	}
	found := s.matched(signs)
	found.Unreadable, found.Complete = append(append(found.Unreadable, t.unreadable...), partly...), found.Complete && !t.stopped
	for _, d := range found.Designs {
		for _, f := range d.Findings {
			if f.Severity.AtLeast(report.Severity(m.in.FailOn)) {
				status = max(status, exitFindings)
			}
		}
	}
	if m.json {
		if err := s.printJSON(found); err != nil {
			s.complain("the comparison cannot be written: %v", err)
			return exitUnreadable
		}
		return status
	}
	l := s.layout(&m.in)
	for i := range found.Designs {
		l.matched(s.stdout, &found.Designs[i])
	}
	for _, u := range partly {
		l.para(s.stdout, 2, "", printable(fmt.Sprintf("%s is not compared: %s. Copy it again from where it was bought.", u.Path, u.Error)))
	}
	if n := len(found.Designs); n > 1 {
		fmt.Fprintf(s.stdout, "%s are %s\n", words.Count(len(signs), "file"), words.Count(n, "different design"))
	}
	return status
}

// matched writes one design: a row for each size, then what was found.
func (l layout) matched(w io.Writer, d *match.MatchedDesign) {
	files := 0
	for _, z := range d.Sizes {
		files += len(z.Files)
	}
	fmt.Fprintf(w, "%s: %s in %s\n", clip(printable(d.Name), l.width-24), words.Count(files, "file"), words.Count(len(d.Sizes), "size"))
	fmt.Fprintf(w, "  %s %s %5s %8s %5s %5s %4s %5s %5s\n", pad(l.sizeHead(), 15), pad("formats", 12), "stops", "stitches", "satin", "width", "run", "rows", "cover")
	for _, z := range d.Sizes {
		fmt.Fprintf(w, "  %s %s %5d %8d %s %s %s %s %s\n",
			pad(l.sizeCell(z.WidthMM, z.HeightMM), 15), pad(formatsOf(z.Files), 12), z.ColourStops, z.Stitches,
			l.spacingCell(z.Spacing.SatinPitchMM, 5, 2), l.spacingCell(z.Spacing.SatinWidthMM, 5, 1), l.spacingCell(z.Spacing.RunStitchMM, 4, 1),
			l.spacingCell(z.Spacing.FillSpacingMM, 5, 2), l.spacingCell(z.Spacing.OuterCoverMM, 5, 1))
		if verdict := l.verdictWords(&z); verdict != "" {
			l.para(w, 4, "", verdict)
		}
	}
	if len(d.Findings) == 0 && files > 1 {
		fmt.Fprintln(w, "  They agree.")
	}
	for _, f := range gravestFirst(d.Findings) {
		fmt.Fprintf(w, "  %s %s\n", l.paint(f.Severity), f.Rule)
		l.para(w, 4, "", printable(f.Message))
		l.para(w, 4, "", printable(f.Advice))
	}
	fmt.Fprintln(w)
}

func gravestFirst(in []report.Finding) []report.Finding {
	out := slices.Clone(in)
	sort.SliceStable(out, func(i, j int) bool {
		return slices.Index(severities, out[i].Severity) < slices.Index(severities, out[j].Severity)
	})
	return out
}

// sizeHead and sizeCell are the column of sizes in tables.
func (l layout) sizeHead() string { return l.units.One().Pick("size mm", "size in") }

func (l layout) sizeCell(w, h float64) string {
	size, _, _ := strings.Cut(l.units.One().Size(w, h), l.units.One().Pick(" mm", " in"))
	return size
}

// spacingCell writes a figure in mm in so many places, a dash where there is none. In
// inches it has one digit more.
func (l layout) spacingCell(v float64, width, digits int) string {
	if v == 0 {
		return fmt.Sprintf("%*s", width, "-")
	}
	if l.units == words.Inches {
		return fmt.Sprintf("%*.*f", width, digits+1, v/settingsfile.MMPerInch)
	}
	return fmt.Sprintf("%*.*f", width, digits, v)
}

// formatsOf lists the formats of a size's files, each once.
func formatsOf(files []match.MatchedFile) string {
	var out []string
	for _, f := range files {
		if !slices.Contains(out, f.Format) {
			out = append(out, f.Format)
		}
	}
	return strings.Join(out, " ")
}

// verdictWords says how a size was made.
func (l layout) verdictWords(z *match.MatchedSize) string {
	of := ""
	if z.Of != nil {
		of = l.units.Whole(z.Of[0], z.Of[1])
	}
	switch z.Verdict {
	case report.Reference:
		return "the others are compared to it"
	case report.DigitisedAnew:
		return "digitised anew: its spacing is that of " + of
	case report.StretchedCopy:
		if of == "" {
			of = "a size that is not here"
		}
		text := fmt.Sprintf("stretched copy of %s, %.2f times", of, z.Factor)
		if z.Turned != "" {
			text += ", " + z.Turned
		}
		return fmt.Sprintf("%s (confidence %.0f %%)", text, 100*z.Confidence)
	case report.Unclear:
		return "cannot tell whether it was drawn for this size or stretched"
	}
	return ""
}

// matched tells which designs are one: of none, and not complete, where the command is
// stopped meanwhile.
func (s *session) matched(signs []*match.Signature) *match.Matching {
	m, err := match.Match(s.context(), signs)
	if err != nil {
		return &match.Matching{Schema: match.Schema, Designs: []match.MatchedDesign{}, Unreadable: []report.Unreadable{}}
	}
	return m
}
