package main

import (
	"github.com/spf13/pflag"
	"github.com/stopcard/stopcard/analyse/report"
)

var schemaVerb = verb{
	name:    "schema",
	doc:     "the JSON Schema of what --json and --lines print",
	example: "stopcard schema > report.schema.json",
	prepare: func(*pflag.FlagSet) func(*session, []string) int {
		return func(s *session, args []string) int {
			if len(args) > 0 {
				s.complain("schema takes no file")
				return exitUsage
			}
			s.stdout.Write(report.JSONSchema())
			return exitOK
		}
	},
}
