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
