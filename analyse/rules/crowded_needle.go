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
	Bounds:   "over about 3 x 3 mm; each hole counts once, those of ties not at all; a note on spots of 4 mm at most, up to 1.25 times as much, where the holes about them are below 0.8 times the limit",
	Requires: []*measure.Step{measure.DensityGrid},
	Check:    crowded,
}

const farTooDense = 1.5 // times the limit: a needle may break

// A spot that is crowded for itself is a letter, the joint of two strokes or the tip of a
// column: so few holes cut no cloth, and letters that sew well have them (common practice,
// no single source). What is crowded among holes that are nearly so is cut along them.
const (
	loneMost  = 1.25 // times the limit: satin letters 5 mm tall
	loneSpot  = 4.0  // mm across, between the middles of its cells
	loneAbout = 0.8  // times the limit: past it holes are nearly crowded
)

func crowded(p *Pass) []report.Finding {
	d := &p.Report.Density
	limit := p.Limit("crowded-needle")
	out := crowdedAt(p, d.MaxPenetrations, d.MaxPenetAt, d.MaxPenetStops)
	if len(out) == 0 || d.MaxPenetrations > loneMost*limit || limit < 0 {
		return out
	}
	for i, s := range placesPast(d.Grid, p.CrowdingAbout(), loneAbout*limit) {
		switch {
		case s.value <= limit || s.across <= loneSpot:
			continue
		case i > 0: // the worst is lone, and this is not
			return crowdedAt(p, s.value, s.at.Place(), p.HoleStops(s.at))
		}
		return out
	}
	f := &out[0]
	f.Severity = report.Note
	f.Message += "; it is a small spot, such as a letter or a corner"
	f.Advice = "Such a spot sews well as a rule: sew it slowly, with a fresh needle, and do not shrink this design."
	return out
}

func crowdedAt(p *Pass, holes float64, at geom.Place, stops []int) []report.Finding {
	limit := p.Limit("crowded-needle")
	is, most := p.units().HolesPast(holes, limit)
	return dense(limit, holes, at, stops, "holes/mm2",
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
