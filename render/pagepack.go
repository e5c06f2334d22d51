package render

import (
	"fmt"
	"maps"
	"math"
	"strings"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// mostSections bounds the designs that have a section of their own.
const mostSections = 24

// pictureSide is the longer side of the pictures in pixels: fewer where a page
// holds many designs, so that a phone still opens it.
func pictureSide(designs int) int {
	return max(layerSide/2, int(layerSide/math.Sqrt(float64(max(1, designs)))))
}

// groupDesigns puts the files that hold the same design at the same size
// together, in the order of their first files. The first of each group is the one
// to show.
func groupDesigns(items []PageItem) [][]PageItem {
	var groups [][]PageItem
next:
	for _, it := range items {
		for i, g := range groups {
			if !sameDesign(g[0].Report, it.Report) {
				continue
			}
			if tells(it.Report) > tells(g[0].Report) {
				groups[i] = append([]PageItem{it}, g...)
			} else {
				groups[i] = append(g, it)
			}
			continue next
		}
		groups = append(groups, []PageItem{it})
	}
	return groups
}

// sameDesign reports whether two reports look like one design in two formats.
// Formats round places and count a tie or a stop apart, so a little is allowed;
// but a file with other faults never hides behind a sound one.
func sameDesign(a, b *report.Report) bool {
	const mm, share = 0.6, 0.02
	return a.Format != b.Format &&
		math.Abs(a.WidthMM-b.WidthMM) <= mm && math.Abs(a.HeightMM-b.HeightMM) <= mm &&
		math.Abs(float64(a.Stitches-b.Stitches)) <= share*float64(max(a.Stitches, b.Stitches)) &&
		max(a.ColourStops, b.ColourStops)-min(a.ColourStops, b.ColourStops) <= 1 &&
		maps.Equal(faultsOf(a), faultsOf(b))
}

// faultsOf counts the faults of a report by rule.
func faultsOf(r *report.Report) map[string]int {
	n := map[string]int{}
	for _, f := range r.Findings {
		if f.Severity == report.Fault {
			n[f.Rule]++
		}
	}
	return n
}

// tells is how much of what a page shows a file carries beside its stitches.
func tells(r *report.Report) (n int) {
	if r.Name != "" {
		n++
	}
	for i := range r.Stops {
		if r.Stops[i].Thread.HasColour() {
			return n + 2
		}
	}
	return n
}

// mainDesign is the design to open first: the largest that fits the hoop, or the
// largest of all where no hoop is known or none fits.
func mainDesign(groups [][]PageItem) int {
	best, bestFits, bestArea := 0, false, -1.0
	for i, g := range groups {
		r := g[0].Report
		own := hoopOf(r)
		fits := own.Given()
		if fits {
			fits, _ = own.Holds(r.WidthMM, r.HeightMM)
		}
		area := r.WidthMM * r.HeightMM
		if fits && !bestFits || fits == bestFits && area > bestArea {
			best, bestFits, bestArea = i, fits, area
		}
	}
	return min(best, mostSections-1)
}

func newIndexRow(g []PageItem, id string, section bool) indexRow {
	r := g[0].Report
	own := hoopOf(r)
	row := indexRow{
		Name: titleOf(r), Size: unitsOf(r).Size(r.WidthMM, r.HeightMM),
		Stitches: fmt.Sprint(r.Stitches), Time: words.PartedTime(r.Minutes, r.MachineMin),
	}
	if section {
		row.ID = id
	}
	ok, _ := own.Holds(r.WidthMM, r.HeightMM)
	switch {
	case own.Given() && ok:
		row.Hoop, row.Fits = "fits yours", true
	case own.Given():
		row.Hoop = "does not fit yours"
	default:
		row.Hoop = strings.TrimPrefix(unitsOf(r).HoopFor(r.WidthMM, r.HeightMM), "hoop of ")
	}
	row.Found, row.Worst = foundText(r), worstOf(r)
	for _, it := range g {
		text := fmt.Sprintf("%s: %s", it.Report.Format, fileOf(it.Report))
		if other := foundText(it.Report); other != row.Found {
			text += " (" + other + ")"
		}
		row.Files = append(row.Files, text)
	}
	return row
}

// worstOf is the gravest severity of a report's findings, empty where there is none
// above a note.
func worstOf(r *report.Report) string {
	var worst report.Severity
	for _, f := range r.Findings {
		if f.Severity.AtLeast(report.Caution) && f.Severity.Rank() > worst.Rank() {
			worst = f.Severity
		}
	}
	return string(worst)
}

// foundText counts what the checks found and a person should look at.
func foundText(r *report.Report) string {
	var faults, warnings int
	for _, f := range r.Findings {
		switch f.Severity {
		case report.Fault:
			faults++
		case report.Caution:
			warnings++
		}
	}
	var found []string
	if faults > 0 {
		found = append(found, words.Plural(faults, "fault", "faults"))
	}
	if warnings > 0 {
		found = append(found, words.Plural(warnings, "warning", "warnings"))
	}
	if len(found) == 0 {
		return "nothing grave"
	}
	return strings.Join(found, ", ")
}
