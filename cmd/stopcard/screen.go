package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"strconv"

	"golang.org/x/term"

	"github.com/stopcard/stopcard/analyse/report"
)

// session is where a verb reads and writes. Its zero values but for the three
// streams are a session without a terminal.
type session struct {
	stdin          io.Reader
	stdout, stderr io.Writer

	renew   bool                   // a page that was made from the same files is made anew without being asked
	read    inputs                 // files read so far
	verbs   []verb                 // what may be run
	ctx     context.Context        // nil: never stopped
	begin   func() context.Context // gives ctx before a verb that does more than print; nil: as it is
	columns int                    // of the terminal, or asked for by COLUMNS; 0: neither, 80 is taken
	colour  bool                   // severities in colour
	bars    io.Writer              // where progress is shown; nil: nowhere
	bar     *progress              // the one being shown
}

// terminalSession is the session of the command itself.
func terminalSession() *session {
	s := &session{stdin: os.Stdin, stdout: os.Stdout, stderr: os.Stderr}
	if term.IsTerminal(int(os.Stdout.Fd())) {
		s.columns, _, _ = term.GetSize(int(os.Stdout.Fd()))
		s.colour = os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
	}
	if n, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil && n > 0 {
		s.columns = n
	}
	if term.IsTerminal(int(os.Stderr.Fd())) && os.Getenv("TERM") != "dumb" {
		s.bars = os.Stderr
	}
	return s
}

func (s *session) context() context.Context {
	if s.ctx == nil {
		return context.Background()
	}
	return s.ctx
}

// width is how many characters a line of output may have: 80, or as many as the
// terminal shows.
func (s *session) width() int {
	if s.columns == 0 {
		return 80
	}
	return min(max(s.columns, 60), 140)
}

func (s *session) complain(format string, args ...any) {
	fmt.Fprintf(s.stderr, "stopcard: %s\n", printable(fmt.Sprintf(format, args...)))
}

// printJSON prints a document.
func (s *session) printJSON(v any) error { return writeJSON(s.stdout, v, "  ") }

// writeJSON writes a document and a line end; without an indent it is one line.
func writeJSON(w io.Writer, v any, indent string) error {
	text, err := report.EncodeJSON(v, "", indent)
	if err == nil {
		_, err = w.Write(append(text, '\n'))
	}
	return err
}

// wrote tells of a file written.
func (s *session) wrote(path string) { fmt.Fprintf(s.stdout, "wrote %s\n", printable(path)) }

// output remembers the first error of a stream, and takes a progress bar off
// the screen before it writes.
type output struct {
	s   *session
	w   io.Writer
	err error
}

func (o *output) Write(p []byte) (int, error) {
	if o.s.bar != nil {
		o.s.bar.clear()
	}
	n, err := o.w.Write(p)
	if err != nil && o.err == nil {
		o.err = err
	}
	return n, err
}
