// Command stopcard reads machine-embroidery stitch files, says what each colour
// stop is for and what is wrong, and draws the card to pin up by the machine.
//
//	stopcard block.dst
//	stopcard check --hoop 5x7in block.dst
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

	"github.com/stopcard/stopcard/analyse/words"
)

// Exit statuses, the same for every verb.
const (
	exitOK         = 0
	exitFindings   = 1 // something at or above --fail-on
	exitUsage      = 2 // the command line was wrong, or an output could not be written
	exitUnreadable = 3 // an input could not be read, or only in part

	exitStopped = 130 // interrupted, as shells say it
)

// verbs are what the command does, in the order of the help.
func verbs() []verb {
	return []verb{
		checkVerb,
		cardVerb,
		drawVerb,
		resizeVerb,
		matchVerb,
		proofVerb,
		cutlinesVerb,
		pageVerb,
		gatherVerb,
		notesVerb,
		rulesVerb,
		formatsVerb,
		settingsVerb,
		schemaVerb,
		completionVerb,
		manVerb,
		versionVerb,
		demoVerb,
	}
}

func main() {
	s := terminalSession()
	s.begin = untilStopped
	os.Exit(run(os.Args[1:], s))
}

// run carries out one command line and gives its exit status.
func run(args []string, s *session) int {
	s.verbs = verbs()
	out := &output{s: s, w: s.stdout}
	s.stdout, s.stderr = out, &output{s: s, w: s.stderr}
	status := dispatch(args, s)
	if out.err != nil {
		s.complain("the output could not be written: %v", out.err)
		status = max(status, exitUsage)
	}
	return status
}

func dispatch(args []string, s *session) int {
	if len(args) == 0 {
		usage(s.stderr, s.verbs)
		return exitUsage
	}
	first := args[0]
	switch first {
	case "-h", "--help":
		usage(s.stdout, s.verbs)
		return exitOK
	case "--version":
		return runVerb(versionVerb, args[1:], s)
	case "help":
		if len(args) == 1 {
			usage(s.stdout, s.verbs)
			return exitOK
		}
		first, args = args[1], []string{args[1], "--help"}
	}
	var names []string
	for _, v := range s.verbs {
		if v.name == first {
			return runVerb(v, args[1:], s)
		}
		names = append(names, v.name)
	}
	if plainArgument(first) {
		s.stdin = &rereader{source: s.stdin}
		return runVerb(plainVerb(args), args, s)
	}
	s.complain("there is no verb and no file %q%s; run 'stopcard help' for the list", first, words.DidYouMean(first, names))
	return exitUsage
}

func runVerb(v verb, args []string, s *session) int {
	flags, do := v.flagSet()
	flags.SetOutput(io.Discard)
	called := strings.TrimSpace("stopcard " + v.name)
	if err := flags.Parse(args); errors.Is(err, pflag.ErrHelp) {
		s.help(v, flags)
		return exitOK
	} else if err != nil {
		if wrong := (*pflag.InvalidValueError)(nil); errors.As(err, &wrong) {
			err = fmt.Errorf("--%s: %w", wrong.GetFlag().Name, wrong.Unwrap())
			if kind := plainKinds[wrong.GetFlag().Value.Type()]; kind != "" {
				err = fmt.Errorf("--%s: expected %s, got %q", wrong.GetFlag().Name, kind, wrong.GetValue())
			}
		}
		if unknown := (*pflag.NotExistError)(nil); errors.As(err, &unknown) && unknown.GetSpecifiedShortnames() == "" {
			var known []string
			flags.VisitAll(func(f *pflag.Flag) { known = append(known, "--"+f.Name) })
			err = fmt.Errorf("%w%s", err, words.DidYouMean("--"+unknown.GetSpecifiedName(), known))
		}
		s.complain("%v; '%s --help' shows the flags", err, called)
		return exitUsage
	}
	if s.begin != nil && !v.prints {
		s.ctx = s.begin()
	}
	paths := flags.Args()
	if f := flags.Lookup("settings"); f != nil {
		in := f.Value.(*fileFlag).in
		if err := in.load(flags); err != nil {
			s.complain("%v", err)
			return exitUsage
		}
		more, err := in.listed(s.input(), paths)
		if err != nil {
			s.complain("%v", err)
			return exitUsage
		}
		paths = append(paths, more...)
	}
	return do(s, paths)
}

// plainKinds is what flags of the library's own kinds take, in words.
var plainKinds = map[string]string{"int": "a whole number", "float64": "a number", "bool": "true or false"}

// help shows a verb's flags, its own first.
func (s *session) help(v verb, flags *pflag.FlagSet) {
	own, shared := split(flags)
	fmt.Fprintf(s.stdout, "%s\n\n  %s\n", wrap(v.doc, s.width(), ""), strings.Join(strings.Fields("stopcard "+v.name+" [flags] "+v.args), " "))
	if own.HasFlags() {
		fmt.Fprintf(s.stdout, "\nFlags:\n%s", flagHelp(own, s.width()))
	}
	if shared.HasFlags() {
		fmt.Fprintf(s.stdout, "\nSettings, which the settings file may hold as well ('stopcard settings'):\n%s", flagHelp(shared, s.width()))
	}
	fmt.Fprintf(s.stdout, "\nExample:\n  %s\n", v.example)
}

func usage(w io.Writer, verbs []verb) {
	fmt.Fprint(w, "Stopcard looks over an embroidery design before you cut any cloth.\n\n"+
		"  stopcard FILE...               writes the design's page, prints its findings\n"+
		"  stopcard VERB [flags] FILE...  does one thing\n\n"+
		"FILE is a stitch file, a ZIP pack, a folder, or - for standard input.\n\nVerbs:\n")
	for _, v := range verbs {
		fmt.Fprintf(w, "  %-10s %s\n", v.name, wrap(v.doc, 66, strings.Repeat(" ", 13)))
	}
	fmt.Fprint(w, "\n'stopcard VERB --help' shows a verb's flags and an example. Start with:\n  stopcard demo\n")
}
