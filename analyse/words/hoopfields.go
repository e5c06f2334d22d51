package words

import (
	"fmt"
	"strings"
)

// hoopFields are the common fields of home machines' hoops, in mm (design makers'
// size lists; names vary, the fields do not).
var hoopFields = []Hoop{{100, 100}, {110, 110}, {130, 180}, {150, 240}, {160, 260}, {200, 200}, {200, 300}, {230, 300}, {200, 360}}

// HoopFor says which hoop a design needs: the common fields that hold it, turned
// by a quarter if that helps, and hold no smaller one that does.
func HoopFor(w, h float64) string {
	var fit []Hoop
	for _, f := range hoopFields {
		if ok, _ := f.Holds(w, h); ok {
			fit = append(fit, f)
		}
	}
	if len(fit) == 0 {
		return "a hoop larger than 230 x 300 and 200 x 360 mm"
	}
	var names []string
	turned := true
	for _, f := range fit {
		least := true
		for _, g := range fit {
			least = least && (g == f || g.WidthMM > f.WidthMM || g.HeightMM > f.HeightMM)
		}
		if least {
			names = append(names, fmt.Sprintf("%.0f x %.0f", f.WidthMM, f.HeightMM))
			_, turn := f.Holds(w, h)
			turned = turned && turn
		}
	}
	text := "hoop of " + strings.Join(names, " or ") + " mm, or larger"
	if turned {
		text += ", the design turned"
	}
	return text
}

// HoopsFor lists the common fields that hold a design of that size, the smallest first,
// turned by a quarter where that helps.
func HoopsFor(w, h float64) []string {
	out := []string{}
	for _, f := range hoopFields {
		if ok, _ := f.Holds(w, h); ok {
			out = append(out, fmt.Sprintf("%.0f x %.0f", f.WidthMM, f.HeightMM))
		}
	}
	return out
}
