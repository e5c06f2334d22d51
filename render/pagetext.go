package render

import (
	"fmt"
	"strings"
	"unicode"

	"github.com/stopcard/stopcard/analyse/report"
)

// Bounds on text from files on a page, in letters.
const (
	longestName = 120
	longestText = 600
)

// safeText makes text safe to look at: control and formatting characters, such as
// those that turn the reading direction, become a middle dot, and very long text
// is cut. Escaping is left to the template.
func safeText(s string) string { return safeClip(s, longestName) }

// safeLong is safeText for sentences.
func safeLong(s string) string { return safeClip(s, longestText) }

func safeClip(s string, most int) string {
	var b strings.Builder
	n := 0
	for _, r := range s {
		if n++; n > most {
			b.WriteRune('…')
			break
		}
		if !unicode.IsGraphic(r) {
			r = '·'
		}
		b.WriteRune(r)
	}
	return strings.TrimSpace(b.String())
}

// hoopText says which hoop a design needs.
func hoopText(r *report.Report) string {
	u, own := unitsOf(r), hoopOf(r)
	if own.Given() {
		field := u.Field(own.WidthMM, own.HeightMM)
		switch ok, turned := own.Holds(r.WidthMM, r.HeightMM); {
		case !ok:
			return fmt.Sprintf("does not fit your hoop of %s", field)
		case turned:
			return fmt.Sprintf("fits your hoop of %s when turned by a quarter", field)
		}
		return fmt.Sprintf("fits your hoop of %s", field)
	}
	return u.HoopFor(r.WidthMM, r.HeightMM)
}
