package main

import (
	"fmt"
	"strings"

	"github.com/spf13/pflag"

	"github.com/stopcard/stopcard/stitchfile"
)

var formatsVerb = verb{
	name:    "formats",
	prints:  true,
	doc:     "the file formats that are read, and what each can carry",
	example: "stopcard formats",
	prepare: func(*pflag.FlagSet) func(*session, []string) int {
		return func(s *session, args []string) int {
			if len(args) > 0 {
				s.complain("formats takes no file")
				return exitUsage
			}
			yes := map[bool]string{true: "yes", false: "no"}
			fmt.Fprintf(s.stdout, "%-6s %-12s %-8s %-6s %-5s %s\n", "format", "files", "colours", "trims", "hoop", "what it is")
			for _, f := range stitchfile.Formats() {
				fmt.Fprintf(s.stdout, "%-6s %-12s %-8s %-6s %-5s %s\n", f.Name, "."+strings.Join(f.Extensions, ", ."), f.Carries.Colours, yes[f.Carries.Trims], yes[f.Carries.Hoop], wrap(f.Doc, 38, strings.Repeat(" ", 42)))
			}
			return exitOK
		}
	},
}
