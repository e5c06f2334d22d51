package measure

import (
	"fmt"
	"math"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// Hands turns roles into what the hands do before and after each stop, and lists
// the cloth to cut beforehand. Scissors come near the cloth only with the hoop
// off the machine, and the cloth is never unhooped. It adds the time that the
// hands take to each stop.
//
// How much larger than its line a cloth is cut: Settings.ClothMarginMM (half an
// inch is usual) and Settings.BattingMarginMM (half an inch to an inch past the
// hold-down; common practice, no single source).
var Hands = &Step{
	Name:     "steps",
	Doc:      "what the hands do before and after each colour stop, and what to cut beforehand",
	Requires: []*Step{Roles, Cost},
	Run:      addSteps,
}

// stepWork adds the steps of one stop.
type stepWork struct {
	p *Pass
	s *report.Stop
}

func (w stepWork) before(k report.StepKind, format string, args ...any) {
	w.s.BeforeSteps = append(w.s.BeforeSteps, report.Step{Kind: k, Text: fmt.Sprintf(format, args...)})
}

func (w stepWork) after(k report.StepKind, format string, args ...any) {
	w.s.AfterSteps = append(w.s.AfterSteps, report.Step{Kind: k, Text: fmt.Sprintf(format, args...)})
}

// lay asks for a cloth of the given size, in whole millimetres.
func (w stepWork) lay(kind string, piece int, width, height float64, format string, args ...any) {
	width, height = math.Ceil(width), math.Ceil(height) // nobody cuts closer, and less would be too small
	w.p.Report.Cloths = append(w.p.Report.Cloths, report.Cloth{Kind: kind, Piece: piece, Stop: w.s.Number, WidthMM: width, HeightMM: height})
	w.before(report.StepLay, "%s, at least %.0f x %.0f mm", fmt.Sprintf(format, args...), width, height)
}

func addSteps(p *Pass) {
	stops := p.Report.Stops
	turned, mayEnd, advised := false, false, false
	for i := range stops {
		s := &stops[i]
		w := stepWork{p, s}
		width, height := s.BoundsMM[2]-s.BoundsMM[0], s.BoundsMM[3]-s.BoundsMM[1]
		margin, wide := 2*p.Settings.ClothMarginMM, 2*p.Settings.BattingMarginMM
		switch s.Role {
		case report.RoleClothOutline, report.RolePlacementLine:
			if !advised {
				w.before(report.StepChangeThread, "wash-away or basting thread will do for lines like this one: it is covered or taken out later")
				advised = true
			}
		case report.RoleClothHoldDown:
			w.lay("block cloth", 0, width+margin, height+margin, "lay the block cloth over the whole outline, right side up")
		case report.RoleBattingHoldDown:
			if !mayEnd && w.afterCover() {
				w.before(report.StepMayEnd, "the block may end here if it will be quilted some other way")
				mayEnd = true
			}
			w.lay("batting", 0, width+wide, height+wide, "lay the batting over the whole outline")
		case report.RoleBackingHoldDown:
			if !mayEnd {
				w.before(report.StepMayEnd, "the block may end here if it will be backed some other way")
				mayEnd = true
			}
			if !turned {
				w.before(report.StepTurnOver, "machine stopped: take the hoop off and turn it over, cloth still in the hoop")
			}
			w.lay("backing", 0, width+wide, height+wide, "fix the backing to the underside, right side out, and past the line on all sides")
			if !turned {
				w.before(report.StepHoopOn, "turn the hoop back and put it on")
				turned = true
			}
		}
		w.pieces(i)
		settleSteps(s, &p.Settings)
		p.Report.Minutes += handMinutes(s, &p.Settings)
	}
}

// afterCover reports whether a cover has been sewn before this stop.
func (w stepWork) afterCover() bool {
	for _, k := range w.p.Pieces {
		for _, c := range k.Covers {
			if c < w.s.Number-1 {
				return true
			}
		}
	}
	return false
}

// pieces adds laying and trimming for the pieces that stop i tacks down, or that
// it covers without a tack-down.
func (w stepWork) pieces(i int) {
	p := w.p
	tacked, holes := 0, 0
	for _, k := range p.Pieces {
		if !k.Held && !k.Hole && len(k.Covers) > 0 && k.Covers[0] == i {
			c := p.Report.Pieces[k.Number-1].CutSizeMM
			w.lay("applique cloth", k.Number, c[0], c[1], "lay piece %d inside its line (stop %d), cut to shape beforehand: no pause to trim follows; cloth to cut it from", k.Number, k.Place.Stop+1)
		}
		if !k.Held || k.Tack.Stop != i {
			continue
		}
		if k.Hole {
			holes++
			continue
		}
		tacked++
		c := p.Report.Pieces[k.Number-1].CutSizeMM
		w.lay("applique cloth", k.Number, c[0], c[1], "lay the cloth of piece %d over its line (stop %d), right side up", k.Number, k.Place.Stop+1)
	}
	if tacked == 0 {
		return
	}
	what := "the cloth"
	if tacked > 1 {
		what = fmt.Sprintf("all %d pieces", tacked)
	}
	w.after(report.StepHoopOff, "machine stopped: take the hoop off, cloth still in the hoop")
	w.after(report.StepTrim, "trim %s close outside the stitching, %.3g mm or less; do not cut the stitches", what, p.Settings.TrimAllowanceMM)
	if holes > 0 {
		w.after(report.StepTrim, "cut the cloth away inside %s too", words.Plural(holes, "inner line", "inner lines"))
	}
	w.after(report.StepHoopOn, "put the hoop back")
}

// settleSteps fills in the texts and the time of the hand work.
func settleSteps(s *report.Stop, set *report.Settings) {
	for _, t := range s.BeforeSteps {
		s.Before = append(s.Before, t.Text)
	}
	for _, t := range s.AfterSteps {
		s.After = append(s.After, t.Text)
	}
	s.Minutes += handMinutes(s, set)
}

// handMinutes is the time that laying and trimming take.
func handMinutes(s *report.Stop, set *report.Settings) float64 {
	var seconds float64
	for _, steps := range [][]report.Step{s.BeforeSteps, s.AfterSteps} {
		for _, t := range steps {
			switch t.Kind {
			case report.StepLay:
				seconds += set.LaySeconds
			case report.StepTrim:
				seconds += set.CutSeconds
			}
		}
	}
	return seconds / 60
}
