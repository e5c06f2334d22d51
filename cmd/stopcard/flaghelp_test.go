package main

import (
	"regexp"
	"strings"
	"testing"
)

// What a flag takes is told in a word of the trade, not of a program, and a default once.
func TestHelpInPlainWords(t *testing.T) {
	program := regexp.MustCompile(`(?m)^ +(-\w, )?--[\w-]+ (string|stringArray|int|float)\b|--[\w-]+\[=`)
	for _, v := range verbs() {
		_, help, _ := try(t, "", v.name, "--help")
		if found := program.FindString(help); found != "" {
			t.Errorf("%s --help: %q", v.name, found)
		}
		for flag := range strings.SplitSeq(help, "--") {
			if strings.Count(flag, "(default") > 1 {
				t.Errorf("%s --help tells a default twice: --%s", v.name, flag)
			}
		}
	}
	for _, c := range []struct{ verb, has string }{
		{"draw", "--view view "}, {"draw", "(default thread)"}, {"card", "-o, --output file "}, {"check", "--json  "}, {"check", "--notes file "},
		{"gather", "(default: 1, or"}, {"gather", "(default 6.35)"},
	} {
		if _, help, _ := try(t, "", c.verb, "--help"); !strings.Contains(help, c.has) {
			t.Errorf("%s --help does not have %q:\n%s", c.verb, c.has, help)
		}
	}
}
