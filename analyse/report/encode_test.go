package report_test

import (
	"encoding/json"
	"strings"
	"testing"
	"unicode"

	"github.com/stopcard/stopcard/analyse/report"
)

// What could steer a terminal is escaped, and comes back as it was.
func TestEncodeJSON(t *testing.T) {
	const nasty = "a\x1b[31m\x7f\u0085\u009b31m\u202eb\u2066\u200f\u2028\ufeff\U000e0041é漢 🧵"
	for _, indent := range []string{"", "  "} {
		text, err := report.EncodeJSON(map[string]string{"name " + nasty: nasty}, "", indent)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range string(text) {
			if r != '\n' && !unicode.IsGraphic(r) {
				t.Errorf("%q is raw in %q", r, text)
			}
		}
		var back map[string]string
		if err := json.Unmarshal(text, &back); err != nil || back["name "+nasty] != nasty {
			t.Errorf("%v: %q", err, back)
		}
		if !strings.Contains(string(text), "é漢 🧵") {
			t.Errorf("letters are escaped too: %s", text)
		}
	}
	if _, err := report.EncodeJSON(func() {}, "", ""); err == nil {
		t.Error("a func was encoded")
	}
}
