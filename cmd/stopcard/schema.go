package main

import (
	"strings"

	"github.com/spf13/pflag"

	"github.com/stopcard/stopcard/analyse/gather"
	"github.com/stopcard/stopcard/analyse/match"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// schemas are the JSON Schemas of the verbs that print JSON, that of check first.
var schemas = []struct {
	verb string
	text func() []byte
}{
	{"check", report.JSONSchema},
	{"resize", report.JSONSchema},
	{"match", match.JSONSchema},
	{"proof", match.ProofJSONSchema},
	{"gather", gather.JSONSchema},
}

var schemaVerb = verb{
	name:    "schema",
	prints:  true,
	args:    "[VERB]",
	doc:     "the JSON Schema of what a verb prints with --json or --lines: check, resize, match, proof or gather",
	example: "stopcard schema check > report.schema.json",
	prepare: func(*pflag.FlagSet) func(*session, []string) int {
		return func(s *session, args []string) int {
			if len(args) > 1 {
				s.complain("schema takes one verb")
				return exitUsage
			}
			var names []string
			for _, one := range schemas {
				if len(args) == 0 || args[0] == one.verb {
					s.stdout.Write(one.text())
					return exitOK
				}
				names = append(names, one.verb)
			}
			s.complain("%q prints no JSON%s; expected %s", args[0], words.DidYouMean(args[0], names), strings.Join(names, ", "))
			return exitUsage
		}
	},
}
