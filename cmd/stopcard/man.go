package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"
)

var manVerb = verb{
	name:    "man",
	prints:  true,
	doc:     "the manual page, for man -l or a folder of your MANPATH",
	example: "stopcard man > ~/.local/share/man/man1/stopcard.1",
	prepare: func(*pflag.FlagSet) func(*session, []string) int {
		return func(s *session, args []string) int {
			if len(args) > 0 {
				s.complain("man takes no file")
				return exitUsage
			}
			manPage(s.stdout, s.verbs)
			return exitOK
		}
	},
}

// roff makes text safe in a manual page.
func roff(text string) string {
	text = strings.NewReplacer(`\`, `\e`, "-", `\-`, "'", `\(aq`).Replace(text)
	if strings.HasPrefix(text, ".") {
		text = `\&` + text
	}
	return text
}

func manPage(w io.Writer, verbs []verb) {
	p := func(format string, args ...any) {
		for i, a := range args {
			if t, ok := a.(string); ok {
				args[i] = roff(t)
			}
		}
		fmt.Fprintf(w, format+"\n", args...)
	}
	p(`.TH STOPCARD 1 "" "Stopcard" "User Commands"`)
	p(".SH NAME\nstopcard \\- %s", "looks over an embroidery design before any cloth is cut")
	p(".SH SYNOPSIS\n.B stopcard\n.RI [ flags ] \" FILE\" ...\n.br\n.B stopcard\n.I VERB\n.RI [ flags ] \" FILE\" ...")
	p(".SH DESCRIPTION")
	p("%s", "Stopcard reads machine-embroidery stitch files, says what each colour stop is for and what the hands do there, looks for what may go wrong, and draws the card to pin up by the machine.")
	p(".PP\n%s", "A FILE is a stitch file, a ZIP pack or a folder of them, or - for standard input. Without a verb the page of the design is written into the current folder and its findings are printed.")
	p(".SH VERBS")
	var shared *pflag.FlagSet
	for _, v := range verbs {
		p(".SS %s\n%s.", strings.TrimSpace(v.name+" "+v.args), upperFirst(v.doc))
		flags, _ := v.flagSet()
		own, common := split(flags)
		own.VisitAll(func(f *pflag.Flag) { manFlag(p, f) })
		if common.HasFlags() && shared == nil {
			shared = common
		}
		if common.HasFlags() {
			p(".PP\nTakes the settings below as well.")
		}
		p(".PP\nExample:\n.RS\n.nf\n%s\n.fi\n.RE", v.example)
	}
	p(".SH SETTINGS\n%s", "These are flags of every verb that reads designs. The settings file may hold them under the same names; a flag takes the place of what the file says.")
	if shared != nil {
		shared.VisitAll(func(f *pflag.Flag) { manFlag(p, f) })
	}
	p(".SH FILES\n.I stopcard/settings.toml\n%s", "in the configuration folder of the user, ~/.config on many systems: settings. 'stopcard settings' prints those in force as such a file, and where each comes from. The tables [hoops] and [limits] hold hoops by name and limits of rules.")
	p(".SH ENVIRONMENT\n.TP\n.B NO_COLOR\n%s\n.TP\n.B COLUMNS\n%s", "Set to anything: no colour on a terminal.", "How wide text is written, from 60 to 140, in place of the terminal's width.")
	p(".SH EXIT STATUS")
	for _, e := range []struct {
		status int
		means  string
	}{
		{exitOK, "Nothing found at or above --fail-on (a fault, unless it is set)."},
		{exitFindings, "Something was found."},
		{exitUsage, "The command line or the settings file was wrong, or an output could not be written."},
		{exitUnreadable, "A file could not be read, or only in part."},
		{exitStopped, "It was interrupted."},
	} {
		p(".TP\n.B %d\n%s", e.status, e.means)
	}
	p(".SH CAUTION\n%s", "Your machine's manual comes first. Keep hands clear while the needle moves. Stop the machine, and take the hoop off it, before you bring scissors near. Very dense stitching breaks needles: stop when the machine labours, and wear glasses. Roles, times and thread are estimates.")
}

func manFlag(p func(string, ...any), f *pflag.Flag) {
	name := "--" + f.Name
	if f.Shorthand != "" {
		name = "-" + f.Shorthand + ", " + name
	}
	kind, usage := kindOf(f), f.Usage
	p(".TP\n.BI \"%s \" \"%s\"\n%s.", name, kind, upperFirst(usage))
	if takesValue(f) && f.DefValue != "" && f.DefValue != "0" && f.DefValue != "[]" && !strings.Contains(usage, "(default") {
		p("Default: %s.", f.DefValue)
	}
}

func upperFirst(text string) string {
	if text == "" {
		return text
	}
	return strings.ToUpper(text[:1]) + text[1:]
}
