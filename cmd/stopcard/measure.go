package main

import (
	"fmt"
	"strings"

	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/cmd/internal/settingsfile"
)

// smallerFields are hoops whose usual names in inches promise more than their
// field holds: a hoop called 4 x 4 in has 100 x 100 mm, not 101.6 (design
// makers' lists of hoop fields).
var smallerFields = []struct{ name, field string }{
	{"4x4in", "100 x 100 mm"}, {"6x10in", "150 x 240 or 160 x 260 mm"}, {"8x8in", "200 x 200 mm"}, {"8x12in", "200 x 300 mm"},
}

// leastHoop is a side, in mm, that no hoop's field is as small as. The smallest
// sold are about 40 mm (common practice, no single source).
const leastHoop = 20

// fieldNote warns of a size that lacks its unit, and of one given in inches that
// is rather a hoop's name.
func fieldNote(size string, u words.Units) string {
	w, h, err := settingsfile.ParseSize(size)
	if rest, _ := settingsfile.CutUnit(strings.ToLower(size)); err == nil && rest == strings.TrimSpace(strings.ToLower(size)) && max(w, h) <= leastHoop {
		return fmt.Sprintf("the hoop is taken as %s x %s mm; for inches write %sx%sin", settingsfile.Plain(w), settingsfile.Plain(h), settingsfile.Plain(w), settingsfile.Plain(h))
	}
	if _, mm := settingsfile.CutUnit(strings.ToLower(size)); err != nil || mm != settingsfile.MMPerInch {
		return ""
	}
	for _, f := range smallerFields {
		a, b, _ := settingsfile.ParseSize(f.name)
		if a == w && b == h || a == h && b == w {
			return fmt.Sprintf("the hoop is taken as %s; one that is called so usually has a field of %s", u.Size(w, h), u.Pick(f.field, words.Inches.Text(f.field)))
		}
	}
	return ""
}
