package render

import (
	"fmt"
	"slices"

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
	AnyThread     bool // and needs none of its own
	Figures       string
	Before, After []pageStep
	Parts         []string
	InHoop        string // what lies in the hoop
	Word          string // what the thread is called, in a word
	First, Then   string // the hands' work before and after it, in verbs
	End           bool   // the block may end after it
	Next          string // when the hands are needed next
	Note          string // the remark in the notes
	Base          rawAttr
	BaseX, BaseW  string // of Base, in 0.1 mm
	Under         bool   // its picture is the underside, left for right
	Picture       bool
	Grave         string // the gravest finding of this stop
	Found         []string
}

type pageStep struct {
	Text string
	Hoop bool // the hoop leaves the machine: scissors or turning
}

func (p *pageDesign) stop(r *report.Report, s *report.Stop, picture bool) pageStop {
	out := pageStop{
		Number: s.Number, Role: safeText(words.Role(r, s)), Reason: safeLong(s.Reason),
		Colour: words.Hex(threadColour(s)), Casing: words.Hex(casingOf(threadColour(s))),
		Known: s.Thread.HasColour(), AnyThread: s.AnyThread, Picture: picture,
		Figures: fmt.Sprintf("%s, %s", words.Count(s.Stitches, "stitch"), words.PartedTime(s.Minutes, s.MachineMin)),
		Thread:  stopThread(s), InHoop: lyingText(s.LiesInHoop),
		Before: pageSteps(s.Before, s.BeforeSteps), After: pageSteps(s.After, s.AfterSteps),
	}
	out.Word = safeText(colourWord(s))
	out.First, out.Then = handVerbs(r, s, s.BeforeSteps), handVerbs(r, s, s.AfterSteps)
	out.End = s.Number < len(r.Stops) && mayEndAt(&r.Stops[s.Number])
	out.Next, out.Note = nextText(r, s), safeLong(s.Note)
	if len(s.Parts) > 1 {
		for _, part := range s.Parts {
			text := safeText(words.RoleOn(r, part.Role, []int{part.Piece}))
			if part.Piece > 0 {
				text += fmt.Sprintf(" of piece %d", part.Piece)
			}
			out.Parts = append(out.Parts, text)
		}
	}
	for _, list := range [][]pageFinding{p.Grave, p.Notes} {
		for _, f := range list {
			if f.Stop != s.Number && !slices.Contains(f.Stops, s.Number) {
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
		s := pageStep{Text: words.KeepFigures(safeLong(t))}
		if i < len(kinds) {
			k := kinds[i].Kind
			s.Hoop = k == report.StepHoopOff || k == report.StepTurnOver || k == report.StepTrim
		}
		out = append(out, s)
	}
	return out
}

// nextText says when the hands are needed next at the hoop, and for what.
func nextText(r *report.Report, s *report.Stop) string {
	minutes, at := nextHands(r, s)
	if at == 0 {
		return fmt.Sprintf("No more work at the hoop; %s to the end.", words.TimeWords(minutes))
	}
	n := &r.Stops[at-1]
	verbs := handVerbs(r, n, n.BeforeSteps)
	when := "before"
	if at == s.Number || !needsHands(r, n, n.BeforeSteps) {
		verbs, when = handVerbs(r, n, n.AfterSteps), "after"
	}
	return fmt.Sprintf("Hands next in %s, %s stop %d: %s", words.TimeWords(minutes), when, at, verbs)
}
