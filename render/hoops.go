package render

import "fmt"

// hoopFields are the common fields of home machines' hoops, in mm, from small to
// large (design makers' size lists; names vary, the fields do not).
var hoopFields = [][2]float64{{100, 100}, {130, 180}, {160, 260}, {200, 200}, {200, 300}, {200, 360}}

// hoopFor says which hoop a design needs: the common field of least area that
// holds it, turned by a quarter if that helps.
func hoopFor(w, h float64) string {
	best := -1
	for i, f := range hoopFields {
		if min(w, h) <= f[0] && max(w, h) <= f[1] && (best < 0 || f[0]*f[1] < hoopFields[best][0]*hoopFields[best][1]) {
			best = i
		}
	}
	if best < 0 {
		last := hoopFields[len(hoopFields)-1]
		return fmt.Sprintf("a hoop larger than %.0f x %.0f mm", last[0], last[1])
	}
	f := hoopFields[best]
	text := fmt.Sprintf("hoop of %.0f x %.0f mm or larger", f[0], f[1])
	if w > f[0] && f[0] != f[1] {
		text += ", the design turned"
	}
	return text
}
