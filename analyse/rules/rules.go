package rules

import (
	"fmt"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// Rule is one check: a value, so that a library user adds one of their own to those
// of All.
type Rule struct {
	ID       string          // kebab-case
	Doc      string          // what it finds, in one line
	Severity report.Severity // the gravest that it gives

	// Limits are the figures it holds stitches against. Each has the rule's ID as
	// its name, with a suffix where there are several; a person may set it.
	// Bounds tells in words what figures cannot.
	Limits []report.Limit
	Bounds string

	// Requires are the measuring steps whose results Check reads.
	Requires []*measure.Step

	// Check gives the findings, without their Rule field. It is nil for a rule that
	// compares several files, which package match looks after.
	Check func(*Pass) []report.Finding
}

// Pass is what a rule sees: what was measured, at which scale and under which
// settings.
type Pass struct {
	*measure.Pass
	rule *Rule
}

// Limit is the rule's limit of the given name that is in force: the person's own
// where Settings.Limits has one. It panics on a name that is not among the rule's
// Limits.
func (p *Pass) Limit(name string) float64 {
	if v, ok := p.Settings.Limits[name]; ok {
		return v
	}
	for i := range p.rule.Limits {
		if p.rule.Limits[i].Name == name {
			return p.rule.Limits[i].Default
		}
	}
	panic("rules: " + p.rule.ID + " has no limit named " + name)
}

// units are those in which people are told lengths.
func (p *Pass) units() words.Units { return words.UnitsOf(&p.Settings) }

// Findings runs the steps that r requires, where they have not run, and gives what
// it finds.
func (r *Rule) Findings(p *measure.Pass) ([]report.Finding, error) {
	for i, step := range r.Requires {
		if step == nil || step.Run == nil {
			return nil, fmt.Errorf("rule %s: what it requires under %d is no measuring step", r.ID, i)
		}
		if err := p.Do(step); err != nil {
			return nil, fmt.Errorf("rule %s: %w", r.ID, err)
		}
	}
	if r.Check == nil {
		return nil, nil
	}
	out := r.Check(&Pass{p, r})
	for i := range out {
		out[i].Rule = r.ID
		out[i].Alone()
	}
	return slices.DeleteFunc(out, func(f report.Finding) bool { return cutOff(p, &f) }), nil
}

// All are the checks of Stopcard, in the order of their findings.
func All() []Rule {
	return []Rule{
		headerDisagreesRule, damagedFileRule, emptyStopRule, OutsideHoopRule,
		EdgeUncoveredRule, InSightRule, coverMissingRule, tackDownMissingRule, missingPauseRule, wrongOrderRule, noPauseRule, sameColourRule, OpenOutlineRule, AstrayRule, DrawnInRule,
		ThinCoverRule, NarrowSatinRule, WideSatinRule,
		LongStitchRule, ShortStitchRule,
		CrowdedRule, StackedRule, stretchedRule, setDisagreesRule,
		UntrimmedRule, noTieRule,
	}
}

// Choose gives the rules that the settings ask for: those of Only, or all where it
// names none, without those of Skip. A name that no rule has is an error, and so
// are two rules of one name and a limit that is not its rule's.
func Choose(all []Rule, s *report.Settings) ([]Rule, error) {
	has := func(rules []Rule, id string) bool {
		for i := range rules {
			if rules[i].ID == id {
				return true
			}
		}
		return false
	}
	for i := range all {
		r := &all[i]
		if r.ID == "" {
			return nil, fmt.Errorf("rule %d has no ID", i)
		}
		if has(all[:i], r.ID) {
			return nil, fmt.Errorf("two rules are named %q", r.ID)
		}
		for _, l := range r.Limits {
			if !l.Of(r.ID) {
				return nil, fmt.Errorf("rule %s: the name of its limit %q does not begin with its own", r.ID, l.Name)
			}
		}
	}
	for _, list := range [][]string{s.Only, s.Skip} {
		for _, id := range list {
			if !has(all, id) {
				return nil, fmt.Errorf("no rule is named %q", id)
			}
		}
	}
	if len(s.Only) == 0 && len(s.Skip) == 0 {
		return all, nil
	}
	out := make([]Rule, 0, len(all))
	for _, r := range all {
		if (len(s.Only) == 0 || slices.Contains(s.Only, r.ID)) && !slices.Contains(s.Skip, r.ID) {
			out = append(out, r)
		}
	}
	return out, nil
}

// limits picks limits out of the table of package report.
func limits(names ...string) []report.Limit {
	var out []report.Limit
	for _, name := range names {
		l, ok := report.LimitNamed(name)
		if !ok {
			panic("rules: no limit named " + name)
		}
		out = append(out, l)
	}
	return out
}

func at(q geom.Point) *geom.Place {
	p := q.Place()
	return &p
}
