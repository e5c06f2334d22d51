package main

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/spf13/pflag"

	"github.com/stopcard/stopcard/analyse"
)

var checkVerb = verb{
	name:    "check",
	args:    "FILE...",
	doc:     "findings and key figures",
	example: "stopcard check --hoop 6x10in block.dst",
	prepare: func(f *pflag.FlagSet) func(*session, []string) int {
		var in inputFlags
		in.add(f)
		asJSON := f.Bool("json", false, "print the documented JSON instead of text")
		in.addSetting(f, "fail-on")
		return func(s *session, paths []string) int {
			limit := analyse.Severity(in.failOn)
			doc := analyse.Document{Schema: analyse.Schema, Designs: []*analyse.Report{}}
			status := in.each(s, paths, func(got *input) int {
				if *asJSON {
					doc.Designs = append(doc.Designs, got.report)
				} else {
					printReport(s.stdout, got.report)
				}
				for _, f := range got.report.Findings {
					if f.Severity.AtLeast(limit) {
						return exitFindings
					}
				}
				return exitOK
			})
			if *asJSON && status != exitUsage {
				doc.Settings = in.settings
				e := json.NewEncoder(s.stdout)
				e.SetIndent("", "  ")
				if err := e.Encode(doc); err != nil {
					s.complain("%v", err)
					return exitUsage
				}
			}
			return status
		}
	},
}

// printReport writes the figures, the stops and the findings, 80 columns wide.
func printReport(w io.Writer, r *analyse.Report) {
	title := r.Name
	if title == "" {
		title = "no name in the file"
	}
	fmt.Fprintf(w, "%s (%s, %s)\n", printable(r.Path), printable(title), r.Format)
	fmt.Fprintf(w, "  %.1f x %.1f mm (%.1f x %.1f in), %d stitches, %d colour stops\n",
		r.WidthMM, r.HeightMM, r.WidthMM/25.4, r.HeightMM/25.4, r.Stitches, r.ColourStops)
	fmt.Fprintf(w, "  %d trims, %d jumps, about %s, thread %.1f m and bobbin %.1f m\n\n",
		r.Trims, r.Jumps, minutes(r.Minutes), r.NeedleThreadM, r.BobbinThreadM)
	fmt.Fprintf(w, "  %-4s %-18s %-18s %8s  %s\n", "stop", "what it is for", "thread", "stitches", "time")
	for _, s := range r.Stops {
		thread := "not in the file"
		if s.ColourName != nil {
			thread = *s.ColourName
		}
		fmt.Fprintf(w, "  %-4d %-18s %-18s %8d  %s\n", s.Number, s.Role, printable(thread), s.Stitches, minutes(s.Minutes))
		for _, step := range s.Before {
			fmt.Fprintf(w, "       before: %s\n", wrap(step, 64, "               "))
		}
		for _, step := range s.After {
			fmt.Fprintf(w, "       after:  %s\n", wrap(step, 64, "               "))
		}
	}
	fmt.Fprintln(w)
	for _, warning := range r.Warnings {
		fmt.Fprintf(w, "  byte %d: %s\n", warning.Offset, wrap(printable(warning.Message), 66, "      "))
	}
	if len(r.Findings) == 0 {
		fmt.Fprintln(w, "  Nothing found by the checks that 'stopcard rules' lists.")
	}
	for _, f := range r.Findings {
		place := ""
		if f.Stop > 0 {
			place = fmt.Sprintf("stop %d: ", f.Stop)
		}
		fmt.Fprintf(w, "  %s %s\n", strings.ToUpper(string(f.Severity)), f.Rule)
		fmt.Fprintf(w, "    %s\n", wrap(printable(place+f.Message), 74, "    "))
		fmt.Fprintf(w, "    %s\n", wrap(f.Advice, 74, "    "))
	}
	fmt.Fprintln(w)
}

// minutes writes a time as "under 1 min", "7 min" or "1 h 05 min".
func minutes(m float64) string {
	n := int(math.Round(m))
	switch {
	case n < 1:
		return "under 1 min"
	case n < 60:
		return fmt.Sprintf("%d min", n)
	}
	return fmt.Sprintf("%d h %02d min", n/60, n%60)
}
