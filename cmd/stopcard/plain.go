package main

import (
	"bytes"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"github.com/stopcard/stopcard/stitchfile"
)

// plainVerb is what happens to files when no verb is named: a page is written
// into the current folder, and the findings are printed. It hands its arguments
// on to those two verbs.
func plainVerb(args []string) verb {
	return verb{
		args:    "FILE...",
		doc:     "writes the page of the designs into this folder, and prints their findings",
		example: "stopcard block.dst",
		prepare: func(f *pflag.FlagSet) func(*session, []string) int {
			new(inputFlags).add(f)
			f.Bool("force", false, "replace an existing page")
			return func(s *session, paths []string) int { return s.plain(args, paths) }
		},
	}
}

// plainArgument reports whether the first argument is no verb but a flag or a
// file.
func plainArgument(arg string) bool {
	if strings.HasPrefix(arg, "-") || strings.ContainsAny(arg, `./\`) {
		return true
	}
	_, err := os.Lstat(arg)
	return err == nil
}

func (s *session) plain(args, paths []string) int {
	if slices.Contains(paths, "-") { // read twice
		data, err := io.ReadAll(io.LimitReader(s.stdin, stitchfile.DefaultMaxBytes+1))
		if err != nil {
			s.complain("standard input: %v", err)
			return exitUnreadable
		}
		s.stdin = &rereader{data: data}
	}
	stderr := s.stderr
	defer func() { s.stderr = stderr }()

	var said, more bytes.Buffer
	s.stderr = io.MultiWriter(stderr, &said)
	status := runVerb(checkVerb, slices.DeleteFunc(slices.Clone(args), func(a string) bool { return a == "--force" || strings.HasPrefix(a, "--force=") }), s)
	i := slices.IndexFunc(s.verbs, func(v verb) bool { return v.name == "page" })
	if i < 0 || status == exitUsage || status == exitStopped {
		return status
	}
	s.stderr = &more
	status = max(status, runVerb(s.verbs[i], args, s))
	for line := range bytes.Lines(more.Bytes()) {
		if !bytes.Contains(said.Bytes(), line) { // what check has not said already
			stderr.Write(line)
		}
	}
	return status
}

// rereader starts again after its end.
type rereader struct {
	data []byte
	at   int
}

func (r *rereader) Read(p []byte) (int, error) {
	n := copy(p, r.data[r.at:])
	if r.at += n; n == 0 {
		r.at = 0
		return 0, io.EOF
	}
	return n, nil
}
