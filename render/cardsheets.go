package render

import (
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// CardSheets is how many sheets Card gives.
func CardSheets(d *stitchfile.Design, r *report.Report, o CardOptions) int {
	return len(newCard(d, r, o, CardDPI).sheets())
}
