package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"github.com/stopcard/stopcard/render"
)

var cardVerb = verb{
	name:    "card",
	args:    "FILE...",
	doc:     "the card to pin up by the machine, as PNG pages",
	example: "stopcard card --paper letter block.pes",
	prepare: func(f *pflag.FlagSet) func(*session, []string) int {
		var in inputFlags
		in.add(f)
		paperName := f.String("paper", "a4", "paper: a4 or letter")
		out := f.StringP("output", "o", "", "file to write (default: the design's name with -card.png, in this folder)")
		force := f.Bool("force", false, "replace existing files")
		return func(s *session, paths []string) int {
			paper, ok := map[string]render.Paper{"a4": render.A4, "letter": render.Letter}[strings.ToLower(*paperName)]
			if !ok {
				s.complain("--paper %q: expected a4 or letter", *paperName)
				return exitUsage
			}
			if *out != "" && len(paths) > 1 {
				s.complain("-o names one card, but %d designs are given", len(paths))
				return exitUsage
			}
			return in.each(s, paths, func(got *input) int {
				return s.cardOne(got, pick(*out, got.stem+"-card.png"), paper, *force)
			})
		}
	},
}

// cardOne writes the card of one design; pages after the first get a number
// before the extension.
func (s *session) cardOne(got *input, path string, paper render.Paper, force bool) int {
	for i, page := range render.Card(got.design, got.report, render.CardOptions{Paper: paper}) {
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
