package words

import (
	"strings"
	"testing"

	"golang.org/x/image/colornames"
)

// Every SVG colour keyword comes apart into words that make it up again.
func TestColourWords(t *testing.T) {
	for in, want := range map[string]string{
		"darkgrey": "dark grey", "lightgoldenrodyellow": "light golden rod yellow", "mediumspringgreen": "medium spring green",
		"teal": "teal", "papayawhip": "papaya whip", "no such colour": "no such colour", "": "",
	} {
		if got := ColourWords(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
	for _, name := range colornames.Names {
		if parts, ok := splitWords(name); !ok || strings.Join(parts, "") != name {
			t.Errorf("%s: %q", name, parts)
		}
	}
}
