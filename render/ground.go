package render

import (
	"image/color"

	"github.com/stopcard/stopcard/analyse/report"
)

// The grounds that threads are drawn on where none is asked for: the usual cloth,
// or the first darker one on which pale threads show.
var grounds = []struct {
	name   string
	colour color.RGBA
}{
	{"cloth", Cloth},
	{"slate", color.RGBA{128, 140, 152, 255}},
	{"dark", color.RGBA{38, 38, 44, 255}},
}

// A thread shows on a ground at groundContrast or more (WCAG asks 3 of signs; half
// of that still parts two areas side by side). Up to lostShare of the thread may
// fail to: pale touches, which their shading shows, do not turn a whole picture
// dark.
const (
	groundContrast = 1.5
	lostShare      = 0.35
)

// groundFor chooses a ground for a design's threads, by the length of thread that
// would be lost on it.
func groundFor(r *report.Report) (name string, c color.RGBA) {
	best, least := 0, 2.0
	for i, g := range grounds {
		lost, all := 0.0, 0.0
		for k := range r.Stops {
			s := &r.Stops[k]
			all += s.SewnMM
			if contrast(threadColour(s), g.colour) < groundContrast {
				lost += s.SewnMM
			}
		}
		share := 0.0
		if all > 0 {
			share = lost / all
		}
		if i == 0 && share <= lostShare {
			return g.name, g.colour
		}
		if share < least {
			best, least = i, share
		}
	}
	return grounds[best].name, grounds[best].colour
}

// groundWords says why a picture does not lie on the usual cloth; empty where it
// does.
func groundWords(name string) string {
	if name == "cloth" {
		return ""
	}
	return "The threads are pale, so they are shown on a darker ground."
}
