package main

import (
	"fmt"
	"io"

	"github.com/spf13/pflag"

	"github.com/stopcard/stopcard/analyse/words"
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
		margin := f.Float64("margin", 0, "how far the cut shapes reach past the placement line, in mm, 0 for the line itself (default: cloth-margin of the settings, by which the card counts too)")
		mirror := f.Bool("mirror", false, "left for right, for cloth that lies face down")
		bar := f.Bool("check-bar", false, "add a layer with a line of 50 mm to measure")
		cutOnly := f.Bool("cut-only", false, "leave out the layer with the placement lines")
		inPlace := f.Bool("in-place", false, "each piece where it lies in the design, not side by side")
		sheet := f.Float64("sheet", render.CutSheetMM, "width of the cloth or mat that the pieces are laid on side by side, in mm")
		out := f.StringP("output", "o", "", "file or folder to write to, or - for standard output (default: the design's name with -cutlines.svg, in this folder)")
		force := f.Bool("force", false, "replace an existing file")
		return func(s *session, paths []string) int {
			if !(*margin >= 0 && *margin <= 50) {
				s.complain("--margin %v: it is given in mm; expected 0 to %s", *margin, words.UnitsOf(&in.Settings).Given(50))
				return exitUsage
			}
			if !(*sheet >= 20 && *sheet <= 5000) {
				s.complain("--sheet %v: it is given in mm; expected %s to %s", *sheet, words.UnitsOf(&in.Settings).Given(20), words.UnitsOf(&in.Settings).Given(5000))
				return exitUsage
			}
			to := target{out: *out}
			if !to.fits(s, paths, ".svg") {
				return exitUsage
			}
			o := render.CutlineOptions{MarginMM: cutMargin(f, *margin), Mirror: *mirror, CheckBar: *bar, CutOnly: *cutOnly, InPlace: *inPlace, SheetMM: *sheet}
			return in.each(s, paths, func(got *input) int {
				name, ok := to.name(s, got, "-cutlines.svg")
				if !ok {
					return exitUsage
				}
				err := s.deliver(name, *force, got.path, func(w io.Writer) error {
					return render.Cutlines(w, got.design, got.report, o)
				})
				if err != nil {
					s.complain("%v", fmt.Errorf("%s: %w", got.path, err))
					return exitUsage
				}
				return exitOK
			})
		}
	},
}

// cutMargin is a margin as render takes it, where 0 stands for that of the report and
// less for none.
func cutMargin(f *pflag.FlagSet, mm float64) float64 {
	switch {
	case !f.Changed("margin"):
		return 0
	case mm == 0:
		return -1
	}
	return mm
}
