package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"io"
	"os"
	"path/filepath"
	"slices"

	"github.com/spf13/pflag"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/resize"
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
		in.addChoice(f)
		out := f.StringP("output", "o", "", "file or folder to write to, or - for standard output (default: the first file's name with .html, in this folder)")
		force := f.Bool("force", false, "replace an existing file")
		return func(s *session, paths []string) int {
			if !s.kindFits("-o", *out, ".html") {
				return exitUsage
			}
			chosen := in.choose(s, paths)
			if chosen == exitUsage || chosen == exitStopped {
				return chosen
			}
			in.passes = true
			var all []*input
			var held holding
			defer held.done()
			status, t := batch(&in, s, paths, func(*input) struct{} { return struct{}{} }, func(got *input, _ struct{}) int {
				held.hold(got)
				if all = append(all, got); len(all) > mostResized {
					for _, one := range all {
						one.pass = nil // nobody asks any more
					}
				}
				return exitOK
			}, nil)
			status = max(chosen, status)
			if status == exitStopped {
				return status
			}
			if len(all) == 0 {
				return status
			}
			own, why := ownStem(newStems(), paths[0])
			own += ".html"
			path := pick(*out, own)
			if why != "" && (*out == "" || isFolder(path)) {
				s.complain("%s: its page is named %s, since %s", paths[0], own, why)
			}
			if isFolder(path) {
				path = filepath.Join(path, own)
			}
			return max(status, s.page(all, append(in.choice.unreadable, t.unreadable...), paths, path, *force))
		}
	},
}

// mostResized is how many designs on one page are worth looking up resize limits.
const mostResized = 3

// page writes one page of all the designs that were read from paths; those that
// are one design in several formats share a section.
func (s *session) page(all []*input, unreadable []report.Unreadable, paths []string, path string, force bool) int {
	var items []render.PageItem
	from := slices.Clone(paths)
	for _, got := range all {
		// How far a design may be resized takes a while to find; a page of a whole
		// pack offers other sizes instead.
		if len(all) <= mostResized {
			p, err := got.measured(s.context())
			if err == nil {
				got.report.Resize, err = resize.Limits(s.context(), p)
			}
			if got.pass = nil; err != nil {
				s.complain("%s: %v", got.path, err)
				return exitUsage
			}
		}
		items = append(items, render.PageItem{Design: got.design, Report: got.report, Load: got.load})
		from = append(from, got.path)
	}
	o := render.PageOptions{Context: s.context(), Unreadable: unreadable, Origin: s.origin(paths)}
	force = force || s.renew && o.Origin != "" && hasMark(path, o.Origin)
	if len(all) > 1 {
		o.Title = stem(path)
		if path == toStdout {
			o.Title = stem(paths[0])
		}
	}
	if err := s.deliver(path, force, sameFile(path, from), func(w io.Writer) error { return render.Page(w, items, o) }); err != nil {
		s.complain("%v", err)
		return exitUsage
	}
	return exitOK
}

// origin tells what a page is made from: the files by their places, and standard input by
// what came from it. A page of the same origin is a newer state of it. It is a sum, so
// that a page that is passed on does not tell where its files lay.
func (s *session) origin(paths []string) string {
	sum := sha256.New()
	for _, path := range paths {
		if path == "-" {
			again, ok := s.stdin.(*rereader)
			if !ok {
				return ""
			}
			for _, piece := range again.pieces {
				sum.Write(piece)
			}
		} else if full, err := filepath.Abs(path); err != nil {
			return ""
		} else {
			io.WriteString(sum, full)
		}
		sum.Write([]byte{0})
	}
	if len(paths) == 0 {
		return ""
	}
	return hex.EncodeToString(sum.Sum(nil)[:12])
}

// hasMark reports whether a file is a page of this origin.
func hasMark(path, origin string) bool {
	info, err := os.Stat(path)
	if err != nil || !info.Mode().IsRegular() {
		return false
	}
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	start, err := io.ReadAll(io.LimitReader(f, render.PageMarkBytes))
	return err == nil && bytes.Contains(start, []byte(render.PageMark(origin)))
}

// sameFile is the one of names that is the same file as path, or empty.
func sameFile(path string, names []string) string {
	info, err := os.Stat(path)
	if err != nil {
		return ""
	}
	for _, name := range names {
		if other, err := os.Stat(name); err == nil && os.SameFile(info, other) {
			return name
		}
	}
	return ""
}
