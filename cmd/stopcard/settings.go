package main

import (
	"fmt"
	"io"
	"maps"
	"path/filepath"
	"slices"
	"strconv"

	"github.com/spf13/pflag"
	"github.com/stopcard/stopcard/analyse/report"
)

var settingsVerb = verb{
	name:    "settings",
	doc:     "the settings in force, and where each comes from",
	example: "stopcard settings --speed 700 > settings.toml",
	prepare: func(f *pflag.FlagSet) func(*session, []string) int {
		var in inputFlags
		in.add(f)
		for _, s := range settingList {
			if !s.shared {
				in.addOne(f, s)
			}
		}
		return func(s *session, args []string) int {
			if len(args) > 0 {
				s.complain("settings takes no file; --settings names one")
				return exitUsage
			}
			if err := in.resolve(); err != nil {
				s.complain("%v", err)
				return exitUsage
			}
			in.print(s.stdout)
			return exitOK
		}
	},
}

// print writes the settings in force. What it writes is itself a settings file.
func (in *inputFlags) print(w io.Writer) {
	fmt.Fprintln(w, "# The settings in force. This text is itself a settings file.")
	if path := defaultSettingsFile(); path != "" {
		fmt.Fprintf(w, "# Stopcard looks for one at %s\n", printable(path))
	}
	fmt.Fprintln(w, "# Lengths are in mm; \"1/4in\" in quotes is good too.")
	fmt.Fprintln(w)
	line := func(key, value, unit, doc, from string) {
		if from == "" {
			from = "default"
		}
		if unit != "" {
			unit += ", "
		}
		fmt.Fprintf(w, "%-32s # %s%s\n", key+" = "+value, unit, printable(filepath.ToSlash(from)))
		if doc != "" {
			fmt.Fprintf(w, "#   %s\n", doc)
		}
	}
	for _, s := range settingList {
		v := s.value(in)
		value, unit := v.String(), v.Type()
		switch v.(type) {
		case numberFlag, countFlag:
			if unit == "number" || unit == "count" {
				unit = ""
			}
		default:
			value, unit = quoted(value), ""
		}
		if s.name == "hoop" && in.hoop == "" {
			fmt.Fprintf(w, "%-32s # none given\n#   %s\n", `# hoop = "130x180"`, s.doc)
			continue
		}
		line(s.name, value, unit, s.doc, in.from[s.name])
	}
	in.printBox(w)
	fmt.Fprintln(w, "\n[hoops] # sizes by name, for hoop above and --hoop")
	for _, name := range slices.Sorted(maps.Keys(in.hoops)) {
		line(quoted(name), quoted(in.hoops[name]), "", "", in.from["hoops "+name])
	}
	fmt.Fprintln(w, "\n[limits] # of the rules; 'stopcard rules' says what each is for")
	for _, l := range report.Limits() {
		line(l.Name, plain(in.settings.Limit(l.Name)), l.Unit, "", in.from["limit "+l.Name])
	}
}

// quoted writes text from outside as a quoted text of the settings file.
func quoted(text string) string { return strconv.Quote(printable(text)) }
