package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// CrowdedRule is the rule crowded-needle.
var CrowdedRule = Rule{
	ID:       "crowded-needle",
	Doc:      "so many needle holes on one spot that cloth is cut and needles break",
	Severity: report.Fault,
	Limits:   limits("crowded-needle", "crowded-needle-close"),
	Bounds:   "over 3 x 3 mm, ties apart",
	Requires: []*measure.Step{measure.DensityGrid},
	Check:    crowded,
}

const farTooDense = 1.5 // times the limit: a needle may break

func crowded(p *Pass) []report.Finding {
	d := &p.Report.Density
	return dense(p.Limit("crowded-needle"), d.MaxPenetrations, d.MaxPenetAt, d.MaxPenetStops, "holes/mm2",
		"%.1f needle holes to the mm2 over 3 x 3 mm, from %s")
}

func dense(limit, is float64, where geom.Place, stops []int, unit, message string) []report.Finding {
	if is <= limit {
		return nil
	}
	f := report.Finding{Severity: report.Caution, AtMM: &where, Measured: is, Limit: limit, Unit: unit,
		Message: fmt.Sprintf(message, is, words.ListStops(stops)),
		Advice:  "Sew slowly here with a fresh, sturdy needle, and keep your face and hands away from it. Do not shrink this design."}
	if len(stops) > 0 {
		f.Stop = stops[len(stops)-1]
	}
	if is > farTooDense*limit {
		f.Severity = report.Fault
		f.Advice = "Needles may break here. Do not sew it like this: leave out one of these stops, or ask the maker. The machine's manual says how much its needle bears."
	}
	return []report.Finding{f}
}
