package analyse

import (
	"fmt"
	"math"
)

// Steps turns roles into what the hands do before and after each stop, and lists
// the cloth to cut beforehand. Scissors come near the cloth only with the hoop
// off the machine, and the cloth is never unhooped. It adds the time that the
// hands take to each stop.
//
// How much larger than its line a cloth is cut: Settings.ClothMarginMM (half an
// inch is usual) and Settings.BattingMarginMM (half an inch to an inch past the
// hold-down; common practice, no single source).
var Steps = &Analyser{
	Name:     "steps",
	Doc:      "what the hands do before and after each colour stop, and what to cut beforehand",
	Requires: []*Analyser{Roles, Cost},
	Run:      addSteps,
}

// stepWork adds the steps of one stop.
type stepWork struct {
	p *Pass
	s *Stop
}

func (w stepWork) before(k StepKind, format string, args ...any) {
	w.s.BeforeSteps = append(w.s.BeforeSteps, Step{k, fmt.Sprintf(format, args...)})
}

func (w stepWork) after(k StepKind, format string, args ...any) {
	w.s.AfterSteps = append(w.s.AfterSteps, Step{k, fmt.Sprintf(format, args...)})
}

// lay asks for a cloth of the given size, in whole millimetres.
func (w stepWork) lay(kind string, piece int, width, height float64, format string, args ...any) {
	width, height = math.Ceil(width), math.Ceil(height) // nobody cuts closer, and less would be too small
	w.p.Report.Cloths = append(w.p.Report.Cloths, Cloth{Kind: kind, Piece: piece, Stop: w.s.Number, WidthMM: width, HeightMM: height})
	w.before(StepLay, "%s, at least %.0f x %.0f mm", fmt.Sprintf(format, args...), width, height)
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
		case RoleClothOutline, RolePlacementLine:
			if !advised {
				w.before(StepChangeThread, "wash-away or basting thread will do for lines like this one: it is covered or taken out later")
				advised = true
			}
		case RoleClothHoldDown:
			w.lay("block cloth", 0, width+margin, height+margin, "lay the block cloth over the whole outline, right side up")
		case RoleBattingHoldDown:
			if !mayEnd && w.afterCover() {
				w.before(StepMayEnd, "the block may end here if it will be quilted some other way")
				mayEnd = true
			}
			w.lay("batting", 0, width+wide, height+wide, "lay the batting over the whole outline")
		case RoleBackingHoldDown:
			if !mayEnd {
				w.before(StepMayEnd, "the block may end here if it will be backed some other way")
				mayEnd = true
			}
			if !turned {
				w.before(StepTurnOver, "machine stopped: take the hoop off and turn it over, cloth still in the hoop")
			}
			w.lay("backing", 0, width+wide, height+wide, "fix the backing to the underside, right side out, and past the line on all sides")
			if !turned {
				w.before(StepHoopOn, "turn the hoop back and put it on")
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
	for _, k := range w.p.pieces {
		for _, c := range k.covers {
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
	for _, k := range p.pieces {
		if !k.held && !k.hole && len(k.covers) > 0 && k.covers[0] == i {
			c := p.Report.Pieces[k.number-1].CutSizeMM
			w.lay("applique cloth", k.number, c[0], c[1], "lay piece %d inside its line (stop %d), cut to shape beforehand: no pause to trim follows; cloth to cut it from", k.number, k.place.stop+1)
		}
		if !k.held || k.tack.stop != i {
			continue
		}
		if k.hole {
			holes++
			continue
		}
		tacked++
		c := p.Report.Pieces[k.number-1].CutSizeMM
		w.lay("applique cloth", k.number, c[0], c[1], "lay the cloth of piece %d over its line (stop %d), right side up", k.number, k.place.stop+1)
	}
	if tacked == 0 {
		return
	}
	what := "the cloth"
	if tacked > 1 {
		what = fmt.Sprintf("all %d pieces", tacked)
	}
	w.after(StepHoopOff, "machine stopped: take the hoop off, cloth still in the hoop")
	w.after(StepTrim, "trim %s close outside the stitching, %.3g mm or less; do not cut the stitches", what, p.Settings.TrimAllowanceMM)
	if holes > 0 {
		w.after(StepTrim, "cut the cloth away inside %s too", plural(holes, "inner line", "inner lines"))
	}
	w.after(StepHoopOn, "put the hoop back")
}

// settleSteps fills in the texts and the time of the hand work.
func settleSteps(s *Stop, set *Settings) {
	for _, t := range s.BeforeSteps {
		s.Before = append(s.Before, t.Text)
	}
	for _, t := range s.AfterSteps {
		s.After = append(s.After, t.Text)
	}
	s.Minutes += handMinutes(s, set)
}

// handMinutes is the time that laying and trimming take.
func handMinutes(s *Stop, set *Settings) float64 {
	var seconds float64
	for _, steps := range [][]Step{s.BeforeSteps, s.AfterSteps} {
		for _, t := range steps {
			switch t.Kind {
			case StepLay:
				seconds += set.LaySeconds
			case StepTrim:
				seconds += set.CutSeconds
			}
		}
	}
	return seconds / 60
}
