package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

var missingPauseRule = Rule{
	ID:       "missing-pause",
	Doc:      "cloth, batting or backing must be laid in the middle of a colour stop, where the machine does not wait",
	Severity: report.Fault,
	Limits:   limits("missing-pause"),
	Requires: []*measure.Step{measure.Roles},
	Check:    missingPause,
}

// missingPause tells of each layer that the rehearsal has to lay in the middle of a
// stop. Applique cloth without its line is laid by guess, and what would be buried
// cannot be laid before; block cloth, batting and backing are larger than the block
// and may be laid before the stop. Between the two, only a cut gives time to stop the
// machine.
func missingPause(p *Pass) []report.Finding {
	limit := p.Limit("missing-pause")
	var out []report.Finding
	for i := range p.Recognised.Rehearsal.Missing {
		m := &p.Recognised.Rehearsal.Missing[i]
		f := report.Finding{Severity: report.Caution, Stop: m.Stop + 1, Piece: m.Piece, AtMM: at(m.Hold.Line[0].Times(p.Scale)), Limit: limit, Unit: "s"}
		if m.Cut {
			f.Measured = p.Settings.TrimSeconds
		}
		inTime := f.Measured >= limit
		if !inTime && (m.Buried || m.What == report.AppliqueCloth) {
			f.Severity = report.Fault
		}
		f.Message, f.Advice = pauseWords(m, inTime)
		out = append(out, f)
	}
	return append(out, mergedStops(p)...)
}

var mergedFinish = map[report.Finish]string{report.FinishSatin: "satin", report.FinishZigzag: "a zigzag", report.FinishBlanket: "a blanket stitch"}

// mergedStops tells, once a stop, of what may be pieces whose pauses were lost.
func mergedStops(p *Pass) []report.Finding {
	var out []report.Finding
	lines, cut := map[int]int{}, map[int]bool{}
	for _, m := range p.Recognised.Merged {
		cut[m.Stop] = m.Cut && (cut[m.Stop] || lines[m.Stop] == 0)
		lines[m.Stop]++
	}
	for _, m := range p.Recognised.Merged {
		n := lines[m.Stop]
		if n == 0 {
			continue // told already
		}
		delete(lines, m.Stop)
		times := ""
		if n > 1 {
			times = fmt.Sprintf("%d times ", n)
		}
		f := report.Finding{Severity: report.Caution, Stop: m.Stop + 1, AtMM: at(m.Line.Line[0].Times(p.Scale)), Limit: p.Limit("missing-pause"), Unit: "s"}
		between, byHand := "tied off", ""
		if cut[m.Stop] {
			f.Measured, between = p.Settings.TrimSeconds, "cut"
			byHand = ", or stop the machine by hand where it cuts the thread, after the line to lay the cloth and after the second to trim it"
		}
		f.Message = fmt.Sprintf("what may be applique is sewn in stop %d without a pause: %sa line, a second line along it and %s over both, with the thread %s between", m.Stop+1, times, mergedFinish[m.Finish], between)
		f.Advice = "Ask the pattern whether cloth is laid here. If so, the pauses of this file were lost: take another format from the pack" + byHand + "."
		out = append(out, f)
	}
	return out
}

// pauseWords says what lacks a pause, and what a person can do.
func pauseWords(m *applique.MissingPause, inTime bool) (message, advice string) {
	const byHand = "Stop the machine by hand when it cuts the thread between the two"
	ask := "Nobody can stop the machine in time there: the thread runs straight on. Ask the maker for a file with a stop between"
	what, between := string(m.What), "its line and what holds it are both sewn in"
	switch {
	case m.What == report.AppliqueCloth:
		what, between = fmt.Sprintf("cloth of piece %d", m.Piece), "its line and its tack-down are both sewn in"
		if m.Buried {
			between = "what it would hide is also sewn in"
		}
	case m.Turn && m.What == report.Backing:
		between = "batting and backing are both held by"
	case m.Turn:
		between = "what comes before it on the face is also sewn in"
	case m.Buried:
		between = "what it would hide is also sewn in"
	}
	message = fmt.Sprintf("no pause to lay the %s: %s stop %d, and the machine does not wait between", what, between, m.Stop+1)
	if m.Turn {
		message = fmt.Sprintf("no pause to turn the hoop over for the %s: %s stop %d, and the machine does not wait between", what, between, m.Stop+1)
	}
	switch {
	case m.Turn && m.What == report.Backing:
		advice = "Fix batting and backing to the underside together before this stop; the batting is then not trimmed. "
	case m.Turn:
		advice = fmt.Sprintf("Fix the %s to the underside before this stop. ", what)
	case m.Buried:
	case m.What == report.AppliqueCloth:
		if !inTime {
			advice = "Without that, lay the cloth before this stop, larger than usual, over the place where the template shows the piece."
		}
	default:
		advice = fmt.Sprintf("Lay the %s before this stop, over the whole place; no line shows it beforehand. ", what)
	}
	switch {
	case inTime && advice == "":
		return message, byHand + ", and lay it then."
	case inTime:
		return message, advice + "Or stop the machine by hand when it cuts the thread between the two."
	case m.What == report.AppliqueCloth || m.Buried:
		if advice == "" {
			return message, ask + "."
		}
		return message, ask + ". " + advice
	}
	return message, advice
}
