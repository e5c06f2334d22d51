package main

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/pflag"

	"github.com/stopcard/stopcard/analyse/notes"
	"github.com/stopcard/stopcard/cmd/internal/beside"
)

var notesVerb = verb{
	name:    "notes",
	args:    "FILE...",
	doc:     "writes down how a design was read, to be put right by hand: roles, threads, cloths, remarks, a title",
	example: "stopcard notes block.pes",
	prepare: func(f *pflag.FlagSet) func(*session, []string) int {
		var v noter
		v.in.add(f)
		f.StringVarP(&v.to.out, "output", "o", "", "file or folder to write to, or - for the screen (default: NAME"+notes.Extension+" beside the design)")
		f.BoolVar(&v.update, "update", false, "add what is new to notes that are there, and keep what a person wrote")
		f.BoolVar(&v.force, "force", false, "replace notes that are there, and what a person wrote in them")
		return v.run
	},
}

// noter is one run of notes.
type noter struct {
	in            inputFlags
	to            target
	update, force bool
	written       []notes.Sign
}

func (v *noter) run(s *session, paths []string) int {
	if v.update && v.force {
		s.complain("notes: --update and --force exclude one another")
		return exitUsage
	}
	if v.to.out != "-" && !v.to.fits(s, paths, notes.Extension) {
		return exitUsage
	}
	v.in.noNotes = true
	return v.in.each(s, paths, func(got *input) int { return v.write(s, got) })
}

// write writes the notes of one design. Formats and sizes of one that was written
// before share its notes.
func (v *noter) write(s *session, got *input) int {
	sign := notes.SignOf(got.design)
	if len(sign.Stops) == 0 {
		s.complain("%s: nothing is sewn in it, so there is nothing to note", got.path)
		return exitOK
	}
	for _, w := range v.written {
		if fit, _ := w.Against(sign, false); fit != notes.NoFit {
			return exitOK
		}
	}
	v.written = append(v.written, sign)
	if v.to.out == "-" {
		s.stdout.Write(notes.Write(got.report, sign))
		return exitOK
	}
	name, ok := v.name(s, got)
	if !ok {
		return exitUsage
	}
	text := notes.Write(got.report, sign)
	if old, err := readSmall(name, notes.MaxBytes, "a notes file"); v.update && err == nil {
		if text, err = notes.Update(name, old, got.report, sign); err != nil {
			s.complain("%v", err)
			return exitUsage
		}
	} else if v.update && !errors.Is(err, fs.ErrNotExist) {
		s.complain("%s: %v", name, err)
		return exitUsage
	} else if err == nil && !v.force {
		s.complain("%s is there already; --update adds what is new and keeps what you wrote, --force writes it anew", name)
		return exitUsage
	}
	err := s.deliver(name, v.update || v.force, got.path, func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	})
	if err != nil {
		s.complain("%s: %v", got.path, err)
		return exitUsage
	}
	return exitOK
}

// name is where the notes of a design go: beside it, or beside the pack it is in.
func (v *noter) name(s *session, got *input) (string, bool) {
	if v.to.out != "" {
		return v.to.name(s, got, notes.Extension)
	}
	dir := filepath.Dir(filepath.FromSlash(got.path))
	for {
		info, err := os.Stat(dir)
		if err == nil && info.IsDir() {
			break
		}
		up := filepath.Dir(dir)
		if up == dir {
			dir = "."
			break
		}
		dir = up
	}
	return filepath.Join(dir, plainName(got.path)+notes.Extension), true
}

// plainName is the stem of a design's own name, so that the notes are found by it.
func plainName(path string) string {
	if plain := beside.Stem(path); stem(plain+".x") == plain {
		return plain
	}
	return stem(path)
}
