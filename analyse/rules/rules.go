package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

// Rule is one check. Its Check gives the findings, without their Rule field.
type Rule struct {
	ID    string // kebab-case
	Doc   string // what it finds, in one line
	Limit string // the limit in words, with where it comes from
	Check func(*measure.Pass) []report.Finding
}

// Rules are the checks of Run, in order.
func Rules() []Rule {
	return []Rule{
		headerDisagreesRule, damagedFileRule, emptyStopRule, OutsideHoopRule,
		EdgeUncoveredRule, noPauseRule, sameColourRule, OpenOutlineRule, AstrayRule, DrawnInRule,
		ThinCoverRule, NarrowSatinRule, WideSatinRule,
		LongStitchRule, ShortStitchRule,
		CrowdedRule, StackedRule, stretchedRule, setDisagreesRule,
		UntrimmedRule, noTieRule,
	}
}

// inWords tells a limit with its source, for people.
func inWords(name string) string {
	for _, l := range report.Limits() {
		if l.Name == name {
			return fmt.Sprintf("%g %s (%s); settable", l.Default, l.Unit, l.Source)
		}
	}
	panic("analyse: no limit named " + name)
}

func at(q geom.Point) *geom.Place {
	p := q.Place()
	return &p
}
