package render

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

type pageStop struct {
	Number        int
	Role, Reason  string
	Colour        string // "#rrggbb", as drawn
	Casing        string // a colour that parts the line from the ground
	Thread        string
	Known         bool // the file gave the colour
	Figures       string
	Before, After []pageStep
	Parts         []string
	InHoop        string // what lies in the hoop
	Picture       bool
	Grave         string // the gravest finding of this stop
	Found         []string
}

type pageStep struct {
	Text string
	Hoop bool // the hoop leaves the machine: scissors or turning
}

func (p *pageDesign) stop(s *report.Stop, picture bool) pageStop {
	out := pageStop{
		Number: s.Number, Role: safeText(s.Role), Reason: safeLong(s.Reason),
		Colour: hexColour(threadColour(s)), Casing: hexColour(casingOf(threadColour(s))),
		Known: s.Thread.HasColour(), Picture: picture,
		Figures: fmt.Sprintf("%s, %s", tally(s.Stitches, "stitch", "stitches"), words.TimeWords(s.Minutes)),
		Thread:  stopThread(s), InHoop: lyingText(s.LiesInHoop),
		Before: pageSteps(s.Before, s.BeforeSteps), After: pageSteps(s.After, s.AfterSteps),
	}
	if len(s.Parts) > 1 {
		for _, part := range s.Parts {
			text := safeText(part.Role)
			if part.Piece > 0 {
				text += fmt.Sprintf(" of piece %d", part.Piece)
			}
			out.Parts = append(out.Parts, text)
		}
	}
	for _, list := range [][]pageFinding{p.Grave, p.Notes} {
		for _, f := range list {
			if f.Stop != s.Number {
				continue
			}
			out.Found = append(out.Found, f.Number)
			if out.Grave == "" {
				out.Grave = f.Severity
			}
		}
	}
	return out
}

// stopThread names a stop's thread, in the file's own words too where it has any.
func stopThread(s *report.Stop) string {
	if text := s.ThreadText(); text != "" {
		return safeText(text)
	}
	return "thread of your choice"
}

func pageSteps(texts []string, kinds []report.Step) []pageStep {
	var out []pageStep
	for i, t := range texts {
		s := pageStep{Text: safeLong(t)}
		if i < len(kinds) {
			k := kinds[i].Kind
			s.Hoop = k == report.StepHoopOff || k == report.StepTurnOver || k == report.StepTrim
		}
		out = append(out, s)
	}
	return out
}
