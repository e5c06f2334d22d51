// Command stopcard reads machine-embroidery stitch files, says what each colour
// stop is for and what is wrong, and draws the card to pin up by the machine.
//
//	stopcard check block.dst
//	stopcard card --paper letter block.pes
//	stopcard demo
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/pflag"
)

// Exit statuses, the same for every verb.
const (
	exitOK         = 0
	exitFindings   = 1 // something at or above --fail-on
	exitUsage      = 2 // the command line was wrong, or an output could not be written
	exitUnreadable = 3 // an input could not be read, or only in part
)

// verb is one thing the command does.
type verb struct {
	name    string
	args    string // what follows the flags, for the usage line
	doc     string
	example string
	// prepare adds the verb's flags and gives the function that runs it.
	prepare func(*pflag.FlagSet) func(*session, []string) int
}

func verbs() []verb {
	return []verb{checkVerb, cardVerb, pageVerb, drawVerb, cutlinesVerb, rulesVerb, formatsVerb, demoVerb}
}

// session is where a verb reads and writes.
type session struct {
	stdin          io.Reader
	stdout, stderr io.Writer
}

func (s *session) complain(format string, args ...any) {
	fmt.Fprintf(s.stderr, "stopcard: %s\n", printable(fmt.Sprintf(format, args...)))
}

// wrote tells of a file written.
func (s *session) wrote(path string) { fmt.Fprintf(s.stdout, "wrote %s\n", printable(path)) }

func main() {
	os.Exit(run(os.Args[1:], &session{os.Stdin, os.Stdout, os.Stderr}))
}

// run carries out one command line and gives its exit status.
func run(args []string, s *session) int {
	if len(args) == 0 {
		usage(s.stderr)
		return exitUsage
	}
	switch args[0] {
	case "help", "-h", "--help":
		usage(s.stdout)
		return exitOK
	}
	for _, v := range verbs() {
		if v.name == args[0] {
			return runVerb(v, args[1:], s)
		}
	}
	s.complain("there is no verb %q; run 'stopcard help' for the list", args[0])
	return exitUsage
}

func runVerb(v verb, args []string, s *session) int {
	flags := pflag.NewFlagSet(v.name, pflag.ContinueOnError)
	flags.SetOutput(io.Discard)
	flags.SortFlags = false
	do := v.prepare(flags)
	if err := flags.Parse(args); errors.Is(err, pflag.ErrHelp) {
		fmt.Fprintf(s.stdout, "%s\n\n  stopcard %s\n", v.doc, strings.TrimSpace(v.name+" [flags] "+v.args))
		if f := flags.FlagUsages(); f != "" {
			fmt.Fprintf(s.stdout, "\nFlags:\n%s", f)
		}
		fmt.Fprintf(s.stdout, "\nExample:\n  %s\n", v.example)
		return exitOK
	} else if err != nil {
		s.complain("%s: %v; 'stopcard %s --help' shows the flags", v.name, err, v.name)
		return exitUsage
	}
	return do(s, flags.Args())
}

func usage(w io.Writer) {
	fmt.Fprint(w, "Stopcard looks over an embroidery design before you cut any cloth.\n\n  stopcard VERB [flags] FILE...\n\nVerbs:\n")
	for _, v := range verbs() {
		fmt.Fprintf(w, "  %-9s %s\n", v.name, v.doc)
	}
	fmt.Fprint(w, "\n'stopcard VERB --help' shows a verb's flags and an example. Start with:\n  stopcard demo\n")
}
