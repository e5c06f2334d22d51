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
	turns := slices.ContainsFunc(steps, func(t report.Step) bool { return t.Kind == report.StepTurnOver })
	for _, t := range steps {
		switch t.Kind {
		case report.StepHoopOff:
			if !turns { // it is turned over off the machine
				add("HOOP OFF")
			}
		case report.StepTurnOver:
			add("TURN")
		case report.StepTurnOut:
			add("TURN OUT")
		case report.StepTrim:
			switch {
			case mayBeDone(r, s, t):
				add("TRIM if not yet")
			case t.What == report.AppliqueCloth || t.What == "":
				add("TRIM")
			default:
				add("TRIM " + string(t.What))
			}
		case report.StepLay:
			add(strings.TrimSpace("LAY " + layWhat(r, s, t, turns)))
		}
	}
	return strings.Join(out, ", ")
}

// layWhat names what a step lays, with the cloth that the notes say, and where if that is
// not on the face.
func layWhat(r *report.Report, s *report.Stop, t report.Step, turned bool) string {
	text := string(t.What)
	switch {
	case len(t.Pieces) == 1:
		text = "piece " + numberList(t.Pieces)
	case len(t.Pieces) > 1:
		text = "pieces " + numberList(t.Pieces)
	}
	if cloth := clothOf(r, t.Pieces); cloth != "" {
		text += ", " + cloth
	}
	for _, l := range s.LiesInHoop {
		if l.What != t.What || l.Piece > 0 && !slices.Contains(t.Pieces, l.Piece) {
			continue
		}
		switch {
		case l.FaceDown:
			return text + " FACE DOWN"
		case l.Side == report.Underside && !turned:
			return text + " UNDER"
		}
	}
	return text
}

// mayBeDone reports whether a trim may have been done after an earlier stop: the
// last chance for it is told too.
func mayBeDone(r *report.Report, s *report.Stop, t report.Step) bool {
	p := clothStates{r}.before(s)
	if p == nil || len(t.Pieces) == 0 {
		return false
	}
	for _, n := range t.Pieces {
		done := slices.ContainsFunc(p.LiesInHoop, func(l report.Lying) bool {
			return l.What == report.AppliqueCloth && l.Piece == n && (l.State == report.Trimmed || l.State == report.Covered)
		})
		if !done {
			return false
		}
	}
	return true
}

// needsHands reports whether steps hold anything that must be done at the hoop.
func needsHands(r *report.Report, s *report.Stop, steps []report.Step) bool {
	return slices.ContainsFunc(steps, func(t report.Step) bool {
		return t.Kind.Hands() && t.Kind != report.StepHoopOn && !(t.Kind == report.StepTrim && mayBeDone(r, s, t))
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
