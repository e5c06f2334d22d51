package main

import (
	"strings"
	"testing"

	"golang.org/x/image/colornames"
)

// Every name and value is that of golang.org/x/image/colornames, and there are no more.
func TestColourNames(t *testing.T) {
	if n := len(strings.Fields(colourNames)); n != 2*len(colornames.Map) {
		t.Errorf("%d names, want %d", n/2, len(colornames.Map))
	}
	for name, want := range colornames.Map {
		if got, ok := colourNamed(name); !ok || got != want {
			t.Errorf("%s: %v, %v; want %v", name, got, ok, want)
		}
	}
	for _, name := range []string{"", "000080", "navy ", "kettle"} {
		if _, ok := colourNamed(name); ok {
			t.Errorf("%q is a colour", name)
		}
	}
}
