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
	Bounds:   "over about 3 x 3 mm; each hole counts once, those of ties not at all",
	Requires: []*measure.Step{measure.DensityGrid},
	Check:    crowded,
}

const farTooDense = 1.5 // times the limit: a needle may break

func crowded(p *Pass) []report.Finding {
	d := &p.Report.Density
	limit := p.Limit("crowded-needle")
	is, most := p.units().HolesPast(d.MaxPenetrations, limit)
	return dense(limit, d.MaxPenetrations, d.MaxPenetAt, d.MaxPenetStops, "holes/mm2",
		fmt.Sprintf("%s over about %s, and more than %s is too many", is, p.units().Spot(), most))
}

const slowly = "Sew slowly here with a fresh, sturdy needle, and keep your face and hands away from it. Do not shrink this design."

func dense(limit, is float64, where geom.Place, stops []int, unit, message string) []report.Finding {
	if is <= limit {
		return nil
	}
	f := report.Finding{Severity: report.Caution, AtMM: &where, Measured: is, Limit: limit, Unit: unit,
		Message: message,
		Advice:  slowly}
	if len(stops) > 0 {
		f.Stop = stops[len(stops)-1]
	}
	if len(stops) > 1 {
		f.Message += "; from " + words.ListStops(stops)
	}
	if is > farTooDense*limit {
		f.Severity = report.Fault
		f.Advice = "Needles may break here. Do not sew it on good cloth before a trial piece has gone well: slowly, a fresh and sturdy needle, glasses on; or ask the maker for a lighter one. The machine's manual says how much its needle bears."
	}
	return []report.Finding{f}
}
