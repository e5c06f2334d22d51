package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/pflag"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/rules"
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
			for _, r := range rules.Rules() {
				fmt.Fprintln(s.stdout, r.ID)
				l.para(s.stdout, 11, "    finds: ", r.Doc)
				l.para(s.stdout, 11, "    limit: ", r.Limit)
				for _, limit := range limitsOf(r.ID) {
					value := fmt.Sprintf("%s=%s", limit.Name, plain(in.settings.Limit(limit.Name)))
					if from := in.from["limit "+limit.Name]; from != "" {
						value += fmt.Sprintf(" (%s; default %s)", from, plain(limit.Default))
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

// limitsOf lists the limits that a rule holds stitches against: those of its own
// name, and those that put a suffix to it.
func limitsOf(rule string) []report.Limit {
	var out []report.Limit
	for _, l := range report.Limits() {
		if ruleOf(l.Name) == rule {
			out = append(out, l)
		}
	}
	return out
}

// ruleOf names the rule that a limit belongs to, empty if there is none.
func ruleOf(limit string) string {
	var ids []string
	for _, r := range rules.Rules() {
		if r.ID == limit || strings.HasPrefix(limit, r.ID+"-") {
			ids = append(ids, r.ID)
		}
	}
	if len(ids) == 0 {
		return ""
	}
	return slices.MaxFunc(ids, func(a, b string) int { return cmp.Compare(len(a), len(b)) })
}
