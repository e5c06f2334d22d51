package main

import (
	"io"

	"github.com/spf13/pflag"

	"github.com/stopcard/stopcard/render"
)

var drawVerb = verb{
	name:    "draw",
	args:    "FILE...",
	doc:     "a picture of the design, thread by thread",
	example: "stopcard draw --width 2000 -o block.png block.dst",
	prepare: func(f *pflag.FlagSet) func(*session, []string) int {
		var in inputFlags
		in.add(f)
		width := f.Int("width", 2000, "width of the picture in pixels")
		out := f.StringP("output", "o", "", "file to write (default: the design's name with .png, in this folder)")
		force := f.Bool("force", false, "replace an existing file")
		return func(s *session, paths []string) int {
			if *width < 16 || *width > 10000 {
				s.complain("--width %d: expected 16 to 10000 pixels", *width)
				return exitUsage
			}
			if *out != "" && len(paths) > 1 {
				s.complain("-o names one file, but %d designs are given", len(paths))
				return exitUsage
			}
			return in.each(s, paths, func(got *input) int {
				return s.drawOne(got, pick(*out, got.stem+".png"), *width, *force)
			})
		}
	},
}

func pick(given, otherwise string) string {
	if given != "" {
		return given
	}
	return otherwise
}

// drawOne writes the thread picture of one design.
func (s *session) drawOne(got *input, path string, width int, force bool) int {
	img := render.Thread(got.design, got.report, render.ThreadOptions{Width: width})
	if err := writeFile(path, force, got.path, func(w io.Writer) error { return render.EncodePNG(w, img, 300) }); err != nil {
		s.complain("%v", err)
		return exitUsage
	}
	s.wrote(path)
	return exitOK
}
