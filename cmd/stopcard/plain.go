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
			in := new(inputFlags)
			in.add(f)
			in.addChoice(f)
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
		data, err := readTwice(s.stdin)
		if err != nil {
			s.complain("standard input: %v", err)
			return exitUnreadable
		}
		s.stdin = &rereader{data: data}
	}
	stderr := s.stderr
	defer func() { s.stderr, s.renew = stderr, false }()

	var said, more bytes.Buffer
	s.stderr = io.MultiWriter(stderr, &said)
	status := runVerb(checkVerb, withoutPageFlags(args), s)
	i := slices.IndexFunc(s.verbs, func(v verb) bool { return v.name == "page" })
	if i < 0 || status == exitUsage || status == exitStopped {
		return status
	}
	s.stderr, s.renew = &more, true
	status = max(status, runVerb(s.verbs[i], args, s))
	for line := range bytes.Lines(more.Bytes()) {
		if !bytes.Contains(said.Bytes(), line) { // what check has not said already
			stderr.Write(line)
		}
	}
	return status
}

// withoutPageFlags leaves out the flags that only the page has.
func withoutPageFlags(args []string) []string {
	var out []string
	for i := 0; i < len(args); i++ {
		name, _, given := strings.Cut(args[i], "=")
		switch {
		case name == "--force" || name == "--all":
		case name == "--size":
			if !given {
				i++
			}
		case args[i] == "--":
			return append(out, args[i:]...)
		default:
			out = append(out, args[i])
		}
	}
	return out
}

// readTwice reads what is to be read again, past the most that a design may have only
// where it is a pack, and no further than packs are read.
func readTwice(r io.Reader) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(r, stitchfile.DefaultMaxBytes+1))
	if err != nil || len(data) <= stitchfile.DefaultMaxBytes || !bytes.HasPrefix(data, []byte("PK")) {
		return data, err
	}
	more, err := io.ReadAll(io.LimitReader(r, stitchfile.DefaultMaxArchive-stitchfile.DefaultMaxBytes))
	return append(data, more...), err
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
