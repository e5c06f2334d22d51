package main

import (
	"io"
	"os"

	"github.com/spf13/pflag"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/render"
)

var pageVerb = verb{
	name:    "page",
	args:    "FILE...",
	doc:     "the card as one HTML file, for a phone by the machine or to print",
	example: "stopcard page -o block.html block.pes",
	prepare: func(f *pflag.FlagSet) func(*session, []string) int {
		var in inputFlags
		in.add(f)
		out := f.StringP("output", "o", "", "file to write (default: the first file's name with .html, in this folder)")
		force := f.Bool("force", false, "replace an existing file")
		return func(s *session, paths []string) int {
			var all []*input
			status := in.each(s, paths, func(got *input) int {
				all = append(all, got)
				return exitOK
			})
			if len(all) == 0 {
				return status
			}
			return max(status, s.page(all, pick(*out, stem(paths[0])+".html"), in.settings, *force))
		}
	},
}

// page writes one page of all the designs given; those that are one design in
// several formats share a section.
func (s *session) page(all []*input, path string, settings analyse.Settings, force bool) int {
	var items []render.PageItem
	for _, got := range all {
		items = append(items, render.PageItem{Design: got.design, Report: got.report})
	}
	o := render.PageOptions{HoopWidthMM: settings.HoopWidthMM, HoopHeightMM: settings.HoopHeightMM}
	if len(all) > 1 {
		o.Title = stem(path)
	}
	if err := writeFile(path, force, sameFile(path, all), func(w io.Writer) error { return render.Page(w, items, o) }); err != nil {
		s.complain("%v", err)
		return exitUsage
	}
	s.wrote(path)
	return exitOK
}

// sameFile is the input that path names too; the first input where none is.
func sameFile(path string, all []*input) string {
	info, err := os.Stat(path)
	if err != nil {
		return all[0].path
	}
	for _, got := range all {
		if from, err := os.Stat(got.path); err == nil && os.SameFile(info, from) {
			return got.path
		}
	}
	return all[0].path
}
