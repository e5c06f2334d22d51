package main

import (
	"bytes"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/spf13/pflag"
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
			return func(s *session, _ []string) int { return s.plain(args) }
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

func (s *session) plain(args []string) int {
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

// rereader keeps what was read of a source, so that it can be read again: by the verbs
// that stand for none, one after another.
type rereader struct {
	source io.Reader
	pieces [][]byte  // as they came
	next   int       // piece to be read again
	again  io.Reader // of the piece before that
}

func (r *rereader) Read(p []byte) (int, error) {
	for {
		if r.again != nil {
			if n, err := r.again.Read(p); err == nil {
				return n, nil
			}
			r.again = nil
		}
		if r.next == len(r.pieces) {
			break
		}
		r.again = bytes.NewReader(r.pieces[r.next])
		r.next++
	}
	n, err := r.source.Read(p)
	if n > 0 {
		r.pieces = append(r.pieces, bytes.Clone(p[:n]))
		r.next = len(r.pieces)
	}
	return n, err
}

// input is standard input from its beginning, as far as that is kept.
func (s *session) input() io.Reader {
	if r, ok := s.stdin.(*rereader); ok {
		r.next, r.again = 0, nil
	}
	return s.stdin
}
