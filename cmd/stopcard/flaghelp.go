package main

import (
	"strings"

	"github.com/spf13/pflag"
)

// taken is what flags of the library's own kinds take, in a word, by name.
var taken = map[string]string{
	"output": "file", "picture": "file", "plan": "file", "notes": "file", "from": "file",
	"size": "size", "to": "size", "by": "scale", "margin": "mm", "sheet": "mm", "width": "pixels", "dpi": "number",
	"view": "view", "ground": "colour", "stop": "number", "stops": "numbers",
}

// kindOf is what a flag takes, in a word; empty where it takes nothing.
func kindOf(f *pflag.Flag) string {
	if !takesValue(f) {
		return ""
	}
	kind, _ := pflag.UnquoteUsage(f)
	switch word, ok := taken[f.Name]; {
	case ok && strings.Contains(" string stringArray int float ", " "+kind+" "):
		return word
	case kind == "stringArray":
		return "text"
	}
	return kind
}

// helpValue stands for a flag's value where the flag is explained.
type helpValue struct{ kind, byDefault string }

func (v helpValue) String() string   { return v.byDefault }
func (v helpValue) Set(string) error { return nil }
func (v helpValue) Type() string     { return v.kind }

// flagHelp explains flags, each with what it takes in a word of ours, and with its default
// where its own words do not tell that.
func flagHelp(flags *pflag.FlagSet, width int) string {
	shown := pflag.NewFlagSet("", pflag.ContinueOnError)
	shown.SortFlags = flags.SortFlags
	flags.VisitAll(func(f *pflag.Flag) {
		c := *f
		if c.DefValue == "[]" || !takesValue(f) || strings.Contains(f.Usage, "(default") {
			c.DefValue = ""
		}
		c.Value, c.NoOptDefVal = helpValue{kindOf(f), c.DefValue}, ""
		shown.AddFlag(&c)
	})
	return shown.FlagUsagesWrapped(width)
}
