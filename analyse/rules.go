package analyse

import "fmt"

// Rule is one check. Its Check gives the findings, without their Rule field.
type Rule struct {
	ID    string // kebab-case
	Doc   string // what it finds, in one line
	Limit string // the limit in words, with where it comes from
	Check func(*Pass) []Finding
}

// Rules are the checks of Run, in order.
func Rules() []Rule {
	return []Rule{
		headerDisagreesRule, damagedFileRule, emptyStopRule, outsideHoopRule,
		edgeUncoveredRule, noPauseRule, sameColourRule, openOutlineRule, astrayRule, drawnInRule,
		thinCoverRule, narrowSatinRule, wideSatinRule,
		longStitchRule, shortStitchRule,
		crowdedRule, stackedRule, stretchedRule, setDisagreesRule,
		untrimmedRule, noTieRule,
	}
}

// inWords tells a limit with its source, for people.
func inWords(name string) string {
	for _, l := range limits {
		if l.Name == name {
			return fmt.Sprintf("%g %s (%s); settable", l.Default, l.Unit, l.Source)
		}
	}
	panic("analyse: no limit named " + name)
}

func at(q Point) *Place {
	p := q.place()
	return &p
}
