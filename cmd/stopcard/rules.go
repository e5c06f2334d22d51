package main

import (
	"fmt"
	"strings"

	"github.com/spf13/pflag"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/rules"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/cmd/internal/settingsfile"
)

var rulesVerb = verb{
	name:    "rules",
	prints:  true,
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
				l.para(s.stdout, 11, "    limit: ", limitWords(&r, l.units))
				for _, limit := range r.Limits {
					value := fmt.Sprintf("%s=%s", limit.Name, settingsfile.Plain(in.Settings.Limit(limit.Name)))
					if from := in.From["limit "+limit.Name]; from != "" {
						value += fmt.Sprintf(" (%s; default %s)", from, settingsfile.Plain(limit.Default))
					}
					if limit.Unit == "mm" && l.units == words.Inches {
						value += ", in mm"
					}
					l.para(s.stdout, 11, "   set by: ", printable(value+": "+l.units.Text(limit.Reason)))
				}
			}
			fmt.Fprintln(s.stdout)
			l.para(s.stdout, 0, "", "--limit NAME=VALUE, or [limits] in the settings file, sets a limit of your own.")
			return exitOK
		}
	},
}

// shareOf says what the limits are a share of that are one.
var shareOf = map[string]string{
	"thin-cover": "of the cloth under thread", "thin-cover-stretch": "of the cloth under thread over 10 mm of a column",
	"short-stitch-share": "of a stop's stitches",
}

// unitWords are the units of limits in words.
var unitWords = map[string]string{"holes/mm2": "needle holes to the mm2", "layers": "layers of thread", "s": "seconds"}

// figureWords tells a limit with what it counts.
func figureWords(l *report.Limit, u words.Units) string {
	figure := settingsfile.Plain(l.Default)
	switch of, share := shareOf[l.Name]; {
	case share:
		return figure + " " + u.Text(of)
	case l.Unit == "holes/mm2" && u == words.Inches:
		return u.Holes(l.Default)
	case l.Unit == "mm":
		return u.Small(l.Default)
	case unitWords[l.Unit] != "":
		return figure + " " + unitWords[l.Unit]
	}
	return figure + " " + l.Unit
}

// limitWords tells what a rule holds stitches against, with where it comes from.
func limitWords(r *rules.Rule, u words.Units) string {
	var parts []string
	for _, l := range r.Limits {
		parts = append(parts, fmt.Sprintf("%s (%s); settable", figureWords(&l, u), u.Text(l.Source)))
	}
	if r.Bounds != "" {
		parts = append(parts, u.Text(r.Bounds))
	}
	return strings.Join(parts, "; ")
}
