package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"iter"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"github.com/stopcard/stopcard/render"
)

var cardVerb = verb{
	name:    "card",
	args:    "FILE...",
	doc:     "the card to pin up by the machine, as PDF or as PNG pages",
	example: "stopcard card --paper letter block.pes",
	prepare: func(f *pflag.FlagSet) func(*session, []string) int {
		var in inputFlags
		in.add(f)
		in.addSetting(f, "paper")
		in.addChoice(f)
		landscape := f.Bool("landscape", false, "turn the paper on its side")
		blackOnly := f.Bool("ink", false, "for printers without colour: hatching and words stand for it")
		out := f.StringP("output", "o", "", "file or folder to write to, or - for standard output; a name that ends with .pdf gives all sheets in one file (default: the design's name with -card.png, in this folder)")
		pdf := f.Bool("pdf", false, "all sheets in one PDF, as for a name that ends with .pdf")
		stops := f.String("stops", "", "only these colour stops, such as 1-200")
		force := f.Bool("force", false, "replace existing files")
		return func(s *session, paths []string) int {
			paper, err := paperNamed(in.Paper, *landscape)
			if err != nil {
				s.complain("%v", err)
				return exitUsage
			}
			to := target{out: *out}
			if !to.fits(s, paths, endings(*pdf, ".png", ".pdf")...) {
				return exitUsage
			}
			chosen := in.choose(s, paths)
			if chosen == exitUsage || chosen == exitStopped {
				return chosen
			}
			return max(chosen, in.each(s, paths, func(got *input) int {
				name, ok := to.name(s, got, ending(*pdf, "-card.png"))
				if !ok {
					return exitUsage
				}
				if err := got.keepStops(*stops); err != nil {
					s.complain("--stops: %v", err)
					return exitUsage
				}
				return s.cardPages(got, name, render.CardOptions{Paper: paper, Ink: *blackOnly}, *pdf, *force)
			}))
		}
	},
}

// cardOne writes the card of one design in colour.
func (s *session) cardOne(got *input, path string, paper render.Paper, force bool) int {
	return s.cardPages(got, path, render.CardOptions{Paper: paper}, false, force)
}

// cardPages writes the card of one design: one PDF, or a PNG for each page, where
// those after the first get a number before the extension.
func (s *session) cardPages(got *input, path string, o render.CardOptions, pdf, force bool) int {
	o.Context = s.context()
	n := render.CardSheets(got.design, got.report, o)
	if n > mostSheets {
		s.complain("the card of %s would take %d sheets, and %d are the most; make it in parts, such as --stops 1-%d", got.path, n, mostSheets, max(1, len(got.report.Stops)*mostSheets/n))
		return exitUsage
	}
	if isPDF(path) || pdf {
		return s.writeOne(got, path, force, func(w io.Writer) error { return render.CardPDF(w, got.design, got.report, o) })
	}
	// All sheets are drawn before any takes its name, so that a card is never half
	// new; they are held as files, since some cards are long.
	names := make([]string, n)
	for i := range names {
		names[i] = sheetName(path, i+1)
	}
	next, stop := iter.Pull2(render.Card(got.design, got.report, o))
	defer stop()
	if path == toStdout && n > 1 {
		s.complain("the card of %s takes %d sheets, and -o - is one file; --pdf writes them all in one", got.path, n)
		return exitUsage
	}
	draw := func(_ int, w io.Writer) error {
		_, page, ok := next()
		if !ok {
			return cmp.Or(s.context().Err(), errors.New("a sheet of the card is missing"))
		}
		return render.EncodePNG(w, page, render.CardDPI)
	}
	if path == toStdout {
		return s.writeOne(got, path, force, func(w io.Writer) error { return draw(0, w) })
	}
	err := s.spare(names...)
	if err == nil {
		err = writeSet(names, force, got.path, draw)
	}
	if err == nil && force {
		err = staleSheets(path, n+1)
	}
	if err != nil {
		s.complain("%v", err)
		return exitUsage
	}
	for _, name := range names {
		s.wrote(name)
	}
	return exitOK
}

// mostSheets is the most that one card may take; nobody pins up more.
const mostSheets = 200

// keepStops leaves those colour stops in the report that a person asked for, as "5" or
// "1-200"; all where text is empty.
func (got *input) keepStops(text string) error {
	if text == "" {
		return nil
	}
	first, last, ok := strings.Cut(text, "-")
	if !ok {
		last = first
	}
	a, err1 := strconv.Atoi(strings.TrimSpace(first))
	b, err2 := strconv.Atoi(strings.TrimSpace(last))
	n := len(got.report.Stops)
	if err1 != nil || err2 != nil || a < 1 || b < a || a > n {
		return fmt.Errorf("expected colour stops of %s such as 1-%d, got %q", got.path, max(n, 1), text)
	}
	part := *got.report
	part.Stops = part.Stops[a-1 : min(b, n)]
	got.report = &part
	return nil
}

// endings are those that an output may have, of which the last is .pdf, where a PDF may
// be asked for.
func endings(pdf bool, all ...string) []string {
	if pdf {
		return all[len(all)-1:]
	}
	return all
}

// ending is that of an output which is a picture unless a PDF is asked for.
func ending(pdf bool, picture string) string {
	if pdf {
		return strings.TrimSuffix(picture, filepath.Ext(picture)) + ".pdf"
	}
	return picture
}

// isPDF reports whether a file to be written is to be a PDF.
func isPDF(path string) bool { return strings.EqualFold(filepath.Ext(path), ".pdf") }

// writeOne writes one file of a design.
func (s *session) writeOne(got *input, path string, force bool, write func(io.Writer) error) int {
	if err := s.deliver(path, force, got.path, write); err != nil {
		s.complain("%v", err)
		return exitUsage
	}
	return exitOK
}

func paperHelp() string {
	var texts []string
	for _, p := range render.Papers() {
		texts = append(texts, fmt.Sprintf("%s (%g x %g mm)", strings.ToLower(p.Name), p.WidthMM, p.HeightMM))
	}
	return strings.Join(texts, ", ")
}

// paperNamed finds a paper by its name, in capitals or not.
func paperNamed(name string, landscape bool) (render.Paper, error) {
	for _, p := range render.Papers() {
		if strings.EqualFold(p.Name, strings.TrimSpace(name)) {
			if landscape {
				p = p.Turned()
			}
			return p, nil
		}
	}
	return render.Paper{}, fmt.Errorf("--paper %q: expected %s", name, paperHelp())
}
