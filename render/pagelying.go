package render

import (
	"fmt"
	"strings"

	"github.com/stopcard/stopcard/analyse/report"
)

// lyingText says what lies in the hoop while a stop is sewn: the face from the
// stabiliser up, then the underside. The stabiliser alone is not worth a line.
func lyingText(lies []report.Lying) string {
	var face, under []string
	for _, l := range lies {
		if l.What == report.Stabiliser {
			continue
		}
		text := string(l.What)
		if l.Piece > 0 {
			text = fmt.Sprintf("piece %d", l.Piece)
		}
		if l.FaceDown {
			text += " face down"
		}
		text += " " + string(l.State)
		if l.Side == report.Underside {
			under = append(under, text)
		} else {
			face = append(face, text)
		}
	}
	text := strings.Join(face, ", ")
	if len(under) > 0 {
		if text != "" {
			text += "; "
		}
		text += "underneath: " + strings.Join(under, ", ")
	}
	return text
}
