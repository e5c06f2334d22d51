package main

import (
	"fmt"
	"runtime/debug"
	"strings"

	"github.com/spf13/pflag"
)

var versionVerb = verb{
	name:    "version",
	prints:  true,
	doc:     "which Stopcard this is, and how it was built",
	example: "stopcard version",
	prepare: func(*pflag.FlagSet) func(*session, []string) int {
		return func(s *session, args []string) int {
			if len(args) > 0 {
				s.complain("version takes no file")
				return exitUsage
			}
			info, _ := debug.ReadBuildInfo()
			fmt.Fprintln(s.stdout, versionText(info))
			return exitOK
		}
	},
}

// versionText tells of a build what it carries about itself.
func versionText(info *debug.BuildInfo) string {
	if info == nil {
		return "stopcard, built without information about itself"
	}
	settings := map[string]string{}
	for _, s := range info.Settings {
		settings[s.Key] = s.Value
	}
	version := info.Main.Version
	if version == "" || version == "(devel)" {
		version = "of no release"
	}
	parts := []string{"stopcard " + version}
	if rev := settings["vcs.revision"]; rev != "" {
		rev = "revision " + rev[:min(len(rev), 12)]
		if settings["vcs.modified"] == "true" {
			rev += " with changes"
		}
		parts = append(parts, rev)
	}
	if at := settings["vcs.time"]; at != "" {
		parts = append(parts, at)
	}
	parts = append(parts, info.GoVersion)
	if settings["GOOS"] != "" {
		parts = append(parts, settings["GOOS"]+"/"+settings["GOARCH"])
	}
	return strings.Join(parts, ", ")
}
