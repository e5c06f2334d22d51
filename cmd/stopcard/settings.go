package main

import (
	"github.com/spf13/pflag"
	"github.com/stopcard/stopcard/cmd/internal/settingsfile"
)

var settingsVerb = verb{
	name:    "settings",
	doc:     "the settings in force, and where each comes from",
	example: "stopcard settings --speed 700 > settings.toml",
	prepare: func(f *pflag.FlagSet) func(*session, []string) int {
		var in inputFlags
		in.add(f)
		for _, s := range settingsfile.List {
			if !s.Shared {
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
			in.Write(s.stdout, defaultSettingsFile())
			return exitOK
		}
	},
}
