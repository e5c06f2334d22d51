package render

import (
	"slices"
	"strings"

	"github.com/stopcard/stopcard/analyse/report"
)

// handVerbs words the hand work before or after a stop in as few verbs as there
// are kinds of work, such as "HOOP OFF, TRIM". What is only good to know is left to
// the sheet to prepare.
func handVerbs(r *report.Report, s *report.Stop, steps []report.Step) string {
	var out []string
	add := func(text string) {
		if !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	for _, t := range steps {
		switch t.Kind {
		case report.StepHoopOff:
			add("HOOP OFF")
		case report.StepTurnOver:
			add("TURN")
		case report.StepTrim:
			add("TRIM" + trimWhat(s))
		case report.StepLay:
			add("LAY" + layWhat(r, s))
		}
	}
	return strings.Join(out, ", ")
}

// layWhat names what is laid before a stop.
func layWhat(r *report.Report, s *report.Stop) string {
	var pieces []int
	var kinds []string
	for _, q := range r.Cloths {
		switch {
		case q.Stop != s.Number:
		case q.Piece > 0:
			pieces = append(pieces, q.Piece)
		case !slices.Contains(kinds, q.Kind):
			kinds = append(kinds, q.Kind)
		}
	}
	var out []string
	switch len(pieces) {
	case 0:
	case 1:
		out = append(out, "piece "+numberList(pieces))
	default:
		out = append(out, "pieces "+numberList(pieces))
	}
	for _, k := range kinds {
		if k == "batting" || k == "backing" {
			k += " UNDER"
		}
		out = append(out, k)
	}
	if out == nil {
		return ""
	}
	return " " + strings.Join(out, ", ")
}

// trimWhat names what is trimmed where it is not the applique.
func trimWhat(s *report.Stop) string {
	if s.Role == report.RoleBattingHoldDown {
		return " batting"
	}
	return ""
}

// needsHands reports whether steps hold anything to do at the hoop.
func needsHands(steps []report.Step) bool {
	return slices.ContainsFunc(steps, func(t report.Step) bool {
		switch t.Kind {
		case report.StepLay, report.StepTrim, report.StepTurnOver, report.StepHoopOff:
			return true
		}
		return false
	})
}

// stepsOr gives the steps, or the plain texts where their kinds are not known.
func stepsOr(steps []report.Step, texts []string) []report.Step {
	if len(steps) > 0 {
		return steps
	}
	for _, t := range texts {
		steps = append(steps, report.Step{Text: t})
	}
	return steps
}

// mayEndAt reports whether the block may end before a stop.
func mayEndAt(s *report.Stop) bool {
	return slices.ContainsFunc(s.BeforeSteps, func(t report.Step) bool { return t.Kind == report.StepMayEnd })
}
