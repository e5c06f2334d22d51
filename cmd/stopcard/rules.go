package main

import (
	"fmt"
	"strings"

	"github.com/spf13/pflag"
	"github.com/stopcard/stopcard/analyse/rules"
	"github.com/stopcard/stopcard/cmd/internal/settingsfile"
)

var rulesVerb = verb{
	name:    "rules",
	doc:     "the checks, their limits, and where each limit comes from",
	example: "stopcard rules --limit thin-cover=0.8",
	prepare: func(f *pflag.FlagSet) func(*session, []string) int {
		var in inputFlags
		in.add(f)
		return func(s *session, args []string) int {
			if len(args) > 0 {
				s.complain("rules takes no file")
				return exitUsage
			}
			l := s.layout(&in)
			for _, r := range rules.All() {
				fmt.Fprintln(s.stdout, r.ID)
				l.para(s.stdout, 11, "    finds: ", r.Doc)
				l.para(s.stdout, 11, "    limit: ", limitWords(&r))
				for _, limit := range r.Limits {
					value := fmt.Sprintf("%s=%s", limit.Name, settingsfile.Plain(in.Settings.Limit(limit.Name)))
					if from := in.From["limit "+limit.Name]; from != "" {
						value += fmt.Sprintf(" (%s; default %s)", from, settingsfile.Plain(limit.Default))
					}
					l.para(s.stdout, 11, "   set by: ", printable(value+": "+limit.Reason))
				}
			}
			fmt.Fprintln(s.stdout)
			l.para(s.stdout, 0, "", "--limit NAME=VALUE, or [limits] in the settings file, sets a limit of your own.")
			return exitOK
		}
	},
}

// limitWords tells what a rule holds stitches against, with where it comes from.
func limitWords(r *rules.Rule) string {
	var parts []string
	for _, l := range r.Limits {
		parts = append(parts, fmt.Sprintf("%s %s (%s); settable", settingsfile.Plain(l.Default), l.Unit, l.Source))
	}
	if r.Bounds != "" {
		parts = append(parts, r.Bounds)
	}
	return strings.Join(parts, "; ")
}
