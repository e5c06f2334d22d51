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

// What does not go together, or is not there, is told before anything is written.
func TestFlagsThatDoNotFit(t *testing.T) {
	path := demoFile(t, "kettle-100.dst")
	out := t.TempDir()
	for _, c := range []struct {
		args []string
		says string // empty: it is fine
	}{
		{[]string{"draw", "--view", "hoop", "--stop", "22", "-o", out, path}, ""},
		{[]string{"draw", "--view", "hoop", "--stop", "23", "-o", out, path}, "has 22 colour stops"},
		{[]string{"draw", "--stop", "2", "-o", out, path}, "--stop is for --view hoop"},
		{[]string{"draw", "--margin", "3", "-o", out, path}, "--margin is for --view template"},
		{[]string{"draw", "--landscape", "-o", out, path}, "--landscape is for --view template"},
		{[]string{"check", "--hop", "5x7in", path}, "did you mean --hoop?"},
		{[]string{"check", "--from", out + "/none.txt"}, "none.txt: "},
	} {
		status, _, errs := try(t, "", c.args...)
		if want := map[bool]int{true: exitOK, false: exitUsage}[c.says == ""]; status != want || !strings.Contains(errs, c.says) {
			t.Errorf("%q: status %d, %q", c.args, status, errs)
		}
	}
	if _, _, errs := try(t, "", "check", "-x", path); strings.Contains(errs, "did you mean") {
		t.Errorf("%s", errs)
	}
}

// What could not be read is told without the words of a program, and with its name once.
func TestUnreadableInPlainWords(t *testing.T) {
	for _, args := range [][]string{{"check", "--json"}, {"match", "--json"}, {"check", "--lines"}, {"proof"}} {
		_, out, _ := try(t, "", append(args, "none.dst")...)
		if strings.Contains(out, "stat ") || !strings.Contains(out, "no such file") {
			t.Errorf("%q: %s", args, out)
		}
	}
}
