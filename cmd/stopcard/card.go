package main

import (
	"fmt"
	"io"
	"path/filepath"
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
		out := f.StringP("output", "o", "", "file or folder to write to; a name that ends with .pdf gives all sheets in one file (default: the design's name with -card.png, in this folder)")
		force := f.Bool("force", false, "replace existing files")
		return func(s *session, paths []string) int {
			paper, err := paperNamed(in.paper, *landscape)
			if err != nil {
				s.complain("%v", err)
				return exitUsage
			}
			to := target{out: *out}
			if !to.fits(s, paths, ".png", ".pdf") {
				return exitUsage
			}
			chosen := in.choose(s, paths)
			if chosen == exitUsage || chosen == exitStopped {
				return chosen
			}
			return max(chosen, in.each(s, paths, func(got *input) int {
				name, ok := to.name(s, got, "-card.png")
				if !ok {
					return exitUsage
				}
				return s.cardPages(got, name, render.CardOptions{Paper: paper, Ink: *blackOnly}, *force)
			}))
		}
	},
}

// cardOne writes the card of one design in colour.
func (s *session) cardOne(got *input, path string, paper render.Paper, force bool) int {
	return s.cardPages(got, path, render.CardOptions{Paper: paper}, force)
}

// cardPages writes the card of one design: one PDF, or a PNG for each page, where
// those after the first get a number before the extension.
func (s *session) cardPages(got *input, path string, o render.CardOptions, force bool) int {
	if isPDF(path) {
		return s.writeOne(got, path, force, func(w io.Writer) error { return render.CardPDF(w, got.design, got.report, o) })
	}
	for i, page := range render.Card(got.design, got.report, o) {
		name := path
		if i > 0 {
			name = fmt.Sprintf("%s-%d.png", strings.TrimSuffix(path, ".png"), i+1)
		}
		if err := writeFile(name, force, got.path, func(w io.Writer) error { return render.EncodePNG(w, page, render.CardDPI) }); err != nil {
			s.complain("%v", err)
			return exitUsage
		}
		s.wrote(name)
	}
	return exitOK
}

// isPDF reports whether a file to be written is to be a PDF.
func isPDF(path string) bool { return strings.EqualFold(filepath.Ext(path), ".pdf") }

// writeOne writes one file of a design.
func (s *session) writeOne(got *input, path string, force bool, write func(io.Writer) error) int {
	if err := writeFile(path, force, got.path, write); err != nil {
		s.complain("%v", err)
		return exitUsage
	}
	s.wrote(path)
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
