package main

import (
	"fmt"
	"io"

	"github.com/spf13/pflag"

	"github.com/stopcard/stopcard/render"
)

var cutlinesVerb = verb{
	name:    "cutlines",
	args:    "FILE...",
	doc:     "the applique pieces as SVG in millimetres, for a cutting machine",
	example: "stopcard cutlines -o pieces.svg block.pes",
	prepare: func(f *pflag.FlagSet) func(*session, []string) int {
		var in inputFlags
		in.add(f)
		margin := f.Float64("margin", render.CutMargin, "how far the cut shapes reach past the placement line, in mm; the trade cuts a quarter to half an inch larger")
		mirror := f.Bool("mirror", false, "left for right, for cloth that lies face down")
		bar := f.Bool("check-bar", false, "add a layer with a line of 50 mm to measure")
		out := f.StringP("output", "o", "", "file or folder to write to (default: the design's name with -cutlines.svg, in this folder)")
		force := f.Bool("force", false, "replace an existing file")
		return func(s *session, paths []string) int {
			if !(*margin >= 0 && *margin <= 50) {
				s.complain("--margin %v: expected 0 to 50 mm", *margin)
				return exitUsage
			}
			to := target{out: *out}
			if !to.fits(s, paths, ".svg") {
				return exitUsage
			}
			o := render.CutlineOptions{MarginMM: cutMargin(*margin), Mirror: *mirror, CheckBar: *bar}
			return in.each(s, paths, func(got *input) int {
				name, ok := to.name(s, got, "-cutlines.svg")
				if !ok {
					return exitUsage
				}
				err := writeFile(name, *force, got.path, func(w io.Writer) error {
					return render.Cutlines(w, got.design, got.report, o)
				})
				if err != nil {
					s.complain("%v", fmt.Errorf("%s: %w", got.path, err))
					return exitUsage
				}
				s.wrote(name)
				return exitOK
			})
		}
	},
}

// cutMargin is a margin as render takes it, where 0 stands for the default.
func cutMargin(mm float64) float64 {
	if mm == 0 {
		return -1
	}
	return mm
}
