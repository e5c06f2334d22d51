package rules

import (
	"fmt"
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// Told tells each cause once: findings of one rule that are as grave and that the same
// can be done about become one, told as the worst of them is, with the stops and the
// places of all. The gravest come first, and each has its number.
func Told(each []report.Finding) []report.Finding {
	type cause struct {
		rule     string
		severity report.Severity
		advice   string
	}
	of := map[cause]int{}
	var groups [][]report.Finding
	for _, f := range each {
		c := cause{f.Rule, f.Severity, f.Advice}
		k, seen := of[c]
		if !seen || f.Advice == "" { // without advice nothing says that it is one cause
			k = len(groups)
			of[c], groups = k, append(groups, nil)
		}
		groups[k] = append(groups[k], f)
	}
	out := make([]report.Finding, 0, len(groups))
	for _, g := range groups {
		out = append(out, together(g))
	}
	report.NumberFindings(out)
	return out
}

// rounding is by how much two figures may differ and be the same.
const rounding = 1e-9

// together is the worst of findings of one cause, with the stops and places of all.
func together(group []report.Finding) report.Finding {
	past := func(f *report.Finding) float64 { return math.Abs(f.Measured - f.Limit) }
	worst, alike := 0, true
	for i := range group {
		if past(&group[i]) > past(&group[worst])+rounding {
			worst = i
		}
		alike = alike && math.Abs(past(&group[i])-past(&group[0])) <= rounding
	}
	f := group[worst]
	f.Stops, f.Places = []int{}, []geom.Place{}
	for i := range group {
		g := &group[(worst+i)%len(group)] // the worst place first
		if g.Stop > 0 {
			f.Stops = append(f.Stops, g.Stop)
		}
		if g.AtMM != nil {
			f.Places = append(f.Places, *g.AtMM)
		}
	}
	slices.Sort(f.Stops)
	f.Stops = slices.Compact(f.Stops)
	if len(f.Stops) > 1 {
		how := "worst"
		if alike {
			how = "such as"
		}
		f.Message = fmt.Sprintf("%s in stop %d: %s", how, f.Stop, f.Message)
	} else if n := len(group); n > 1 {
		f.Message = fmt.Sprintf("%s; and %d more like it", f.Message, n-1)
	}
	return f
}
