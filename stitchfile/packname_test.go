package stitchfile

import (
	"testing"

	"golang.org/x/text/encoding/charmap"
)

// Every byte reads as the code page has it.
func TestOfCodePage(t *testing.T) {
	all := make([]byte, 256)
	for i := range all {
		all[i] = byte(i)
	}
	want, err := charmap.CodePage437.NewDecoder().String(string(all))
	if err != nil {
		t.Fatal(err)
	}
	if got := ofCodePage(string(all)); got != want {
		t.Errorf("%q\nwant %q", got, want)
	}
}
