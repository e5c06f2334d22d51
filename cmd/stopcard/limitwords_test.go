package main

import (
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
)

// A limit says what it counts: no bare share, no sign that only a programmer reads.
func TestLimitsInPlainWords(t *testing.T) {
	for _, l := range report.Limits() {
		text := figureWords(&l, "mm")
		if strings.Contains(text, "share") || strings.Contains(text, "/") || !strings.Contains(text, " ") {
			t.Errorf("%s is told as %q", l.Name, text)
		}
	}
	_, out, _ := try(t, "", "rules")
	if !strings.Contains(strings.Join(strings.Fields(out), " "), "0.85 of the cloth under thread (") {
		t.Errorf("the limit of thin-cover is not told plainly: %s", out)
	}
}

// Flags that take plain numbers or yes and no say so in words.
func TestPlainFlagsInWords(t *testing.T) {
	for _, c := range []struct{ verb, flag, want string }{
		{"draw", "--stop=1.5", `--stop: expected a whole number, got "1.5"`},
		{"draw", "--dpi=fine", `--dpi: expected a number, got "fine"`},
		{"card", "--pdf=maybe", `--pdf: expected true or false, got "maybe"`},
	} {
		if status, _, stderr := try(t, "", c.verb, c.flag, "x.dst"); status != exitUsage || !strings.Contains(stderr, c.want) {
			t.Errorf("%s %s: status %d, %q", c.verb, c.flag, status, stderr)
		}
	}
}
