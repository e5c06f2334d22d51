package measure

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/report"
)

// Hands puts into words what the rehearsal of the hoop asks of the hands before and
// after each stop, lists the cloth to cut beforehand, and adds the time that it
// takes. Scissors come near the cloth only with the hoop off the machine, and the
// cloth is never unhooped.
//
// How much larger than its line a cloth is cut: Settings.ClothMarginMM (half an
// inch is usual) and Settings.BattingMarginMM (half an inch to an inch past the
// hold-down; common practice, no single source). Cloth that nothing tacks down is
// cut to its line.
var Hands = &Step{
	Name:     "steps",
	Doc:      "what the hands do before and after each colour stop, what lies in the hoop, and what to cut beforehand",
	Requires: []*Step{Roles, Cost},
	Run:      addSteps,
}

func addSteps(p *Pass) {
	stops := p.Report.Stops
	for i := range p.Recognised.Rehearsal.Steps {
		h := &p.Recognised.Rehearsal.Steps[i]
		s := &stops[h.Stop]
		step := report.Step{Kind: h.Kind, What: h.What, Pieces: h.Pieces, Text: p.stepText(h)}
		if h.Kind == report.StepLay {
			p.addCloth(h)
		}
		if h.After {
			s.AfterSteps, s.After = append(s.AfterSteps, step), append(s.After, step.Text)
		} else {
			s.BeforeSteps, s.Before = append(s.BeforeSteps, step), append(s.Before, step.Text)
		}
		minutes := handMinutes(h, &p.Settings)
		s.Minutes += minutes
		p.Report.Minutes += minutes
		p.Report.HandMin += minutes
	}
	for i, lies := range p.Recognised.Rehearsal.Lies {
		if len(lies) > 0 {
			stops[i].LiesInHoop = slices.Clip(lies) // stops at which nothing changes share one list
		}
	}
}

// clothSize is how large a layer is cut, in whole millimetres.
func (p *Pass) clothSize(h *applique.HandStep) (width, height float64) {
	if len(h.Pieces) == 1 && h.What == report.AppliqueCloth {
		c := p.Report.Piece(h.Pieces[0]).CutSizeMM
		return math.Ceil(c[0]), math.Ceil(c[1])
	}
	margin := 2 * p.Settings.BattingMarginMM
	if h.What == report.BlockCloth {
		margin = 2 * p.Settings.ClothMarginMM
	}
	b := h.Line.Box
	return math.Ceil(p.Scale*b.Width() + margin), math.Ceil(p.Scale*b.Height() + margin) // nobody cuts closer, and less would be too small
}

// addCloth lists a layer among what is cut beforehand.
func (p *Pass) addCloth(h *applique.HandStep) {
	c := report.Cloth{Kind: string(h.What), Stop: h.Stop + 1}
	if len(h.Pieces) == 1 {
		c.Piece = h.Pieces[0]
	}
	c.WidthMM, c.HeightMM = p.clothSize(h)
	p.Report.Cloths = append(p.Report.Cloths, c)
}

// handMinutes is the time that laying and trimming take: trimming a piece with the
// hoop taken off and put back, or cutting round a layer.
func handMinutes(h *applique.HandStep, set *report.Settings) float64 {
	switch {
	case h.Kind == report.StepLay:
		return set.LaySeconds / 60
	case h.Kind == report.StepTrim && h.Manner != applique.AtLatest: // that one is not done twice
		return set.CutSeconds / 60 * float64(max(1, len(h.Pieces)))
	}
	return 0
}
