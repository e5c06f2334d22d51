package render

import (
	"fmt"
	"math"
	"strings"
	"unicode"

	"github.com/stopcard/stopcard/analyse/words"
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

// sizeText gives a size in both units, such as "150 × 150 mm (5.91 × 5.91 in)".
func sizeText(w, h float64) string {
	return fmt.Sprintf("%.0f × %.0f mm (%.2f × %.2f in)", w, h, w/25.4, h/25.4)
}

// cutText gives the size of cloth to cut: whole millimetres and eighths of an inch,
// as rulers are marked, both rounded up.
func cutText(w, h float64) string {
	up := func(v float64) float64 { return math.Ceil(v - 1e-6) }
	return fmt.Sprintf("%.0f × %.0f mm (%s × %s in)", up(w), up(h), inchEighths(w), inchEighths(h))
}

func inchEighths(mm float64) string {
	n := int(math.Ceil(mm/25.4*8 - 1e-6))
	whole, part := n/8, n%8
	fraction := [...]string{"", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞"}[part]
	if whole == 0 && part > 0 {
		return fraction
	}
	return fmt.Sprint(whole, fraction)
}

// tally gives a number with its noun.
func tally(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// hoopText says which hoop a design needs.
func hoopText(w, h float64, own words.Hoop) string {
	if own.Given() {
		switch ok, turned := own.Holds(w, h); {
		case !ok:
			return fmt.Sprintf("does not fit your hoop of %s", sizeText(own.WidthMM, own.HeightMM))
		case turned:
			return fmt.Sprintf("fits your hoop of %s when turned by a quarter", sizeText(own.WidthMM, own.HeightMM))
		}
		return fmt.Sprintf("fits your hoop of %s", sizeText(own.WidthMM, own.HeightMM))
	}
	return words.HoopFor(w, h)
}
