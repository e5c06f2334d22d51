package main

import (
	"fmt"

	"github.com/spf13/pflag"

	"github.com/stopcard/stopcard/analyse"
)

var rulesVerb = verb{
	name:    "rules",
	doc:     "the checks and their limits",
	example: "stopcard rules",
	prepare: func(*pflag.FlagSet) func(*session, []string) int {
		return func(s *session, args []string) int {
			if len(args) > 0 {
				s.complain("rules takes no file")
				return exitUsage
			}
			for _, r := range analyse.Rules() {
				fmt.Fprintf(s.stdout, "%s\n    finds: %s\n    limit: %s\n", r.ID, wrap(r.Doc, 68, "           "), wrap(r.Limit, 68, "           "))
			}
			return exitOK
		}
	},
}
