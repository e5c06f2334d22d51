package settingsfile

import (
	"fmt"
	"github.com/stopcard/stopcard/analyse/report"
	"io"
	"maps"
	"path/filepath"
	"slices"
	"strconv"
)

// Write writes the settings in force. What it writes is itself a settings file. Path is
// where such a file is looked for, empty for nowhere.
func (in *Values) Write(w io.Writer, path string) {
	fmt.Fprintln(w, "# The settings in force. This text is itself a settings file.")
	if path != "" {
		fmt.Fprintf(w, "# Stopcard looks for one at %s\n", Printable(path))
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
		fmt.Fprintf(w, "%-32s # %s%s\n", key+" = "+value, unit, Printable(filepath.ToSlash(from)))
		if doc != "" {
			fmt.Fprintf(w, "#   %s\n", doc)
		}
	}
	for _, s := range List {
		v := s.Value(in)
		value, unit := v.String(), v.Type()
		switch v.(type) {
		case numberValue, countValue:
			if unit == "number" || unit == "count" {
				unit = ""
			}
		default:
			value, unit = quoted(value), ""
		}
		if s.Name == "hoop" && in.Hoop == "" {
			fmt.Fprintf(w, "%-32s # none given\n#   %s\n", `# hoop = "130x180"`, s.Doc)
			continue
		}
		line(s.Name, value, unit, s.Doc, in.From[s.Name])
	}
	in.printBox(w)
	fmt.Fprintln(w, "\n[hoops] # sizes by name, for hoop above and --hoop")
	for _, name := range slices.Sorted(maps.Keys(in.Hoops)) {
		line(quoted(name), quoted(in.Hoops[name]), "", "", in.From["hoops "+name])
	}
	fmt.Fprintln(w, "\n[limits] # of the rules; 'stopcard rules' says what each is for")
	for _, l := range report.Limits() {
		line(l.Name, Plain(in.Settings.Limit(l.Name)), l.Unit, "", in.From["limit "+l.Name])
	}
}

// quoted writes text from outside as a quoted text of the settings file.
func quoted(text string) string { return strconv.Quote(Printable(text)) }

// printBox writes the threads of the settings file as tables of one.
func (in *Values) printBox(w io.Writer) {
	for _, t := range in.Threads {
		fmt.Fprintf(w, "\n[[thread]]\nname = %s\ncolour = %q\n", quoted(t.Name), t.Colour)
		if t.Weight > 0 {
			fmt.Fprintf(w, "weight = %s\n", Plain(t.Weight))
		}
		if t.LeftM != nil {
			fmt.Fprintf(w, "left = %s # metres\n", strconv.FormatFloat(*t.LeftM, 'f', -1, 64))
		}
	}
}

// WriteGiven writes as a settings file what differs from the usual settings, and no
// more: what a person never said follows the usual when that changes.
func (in *Values) WriteGiven(w io.Writer) {
	fmt.Fprintln(w, "# Settings for Stopcard. What is not said here is as usual.")
	usual := New()
	for _, s := range List {
		v := s.Value(in)
		if v.String() == s.Value(usual).String() {
			continue
		}
		text := quoted(v.String())
		switch v.(type) {
		case numberValue, countValue:
			text = v.String()
		}
		fmt.Fprintf(w, "%s = %s\n", s.Name, text)
	}
	in.printBox(w)
	fmt.Fprintln(w, "\n[hoops]")
	for _, name := range slices.Sorted(maps.Keys(in.Hoops)) {
		fmt.Fprintf(w, "%s = %s\n", quoted(name), quoted(in.Hoops[name]))
	}
	fmt.Fprintln(w, "\n[limits]")
	for _, name := range slices.Sorted(maps.Keys(in.Settings.Limits)) {
		fmt.Fprintf(w, "%s = %s\n", name, Plain(in.Settings.Limits[name]))
	}
}
