package applique

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/report"
)

func (r *rehearsing) step(s HandStep) { r.Steps = append(r.Steps, s) }

// laidBefore are the layers that are laid before stop i.
func (r *rehearsing) laidBefore(i int, side report.HoopSide) []*layer {
	var out []*layer
	for _, l := range r.layers {
		if l.hold.Stop == i && l.side == side {
			out = append(out, l)
		}
	}
	return out
}

// before adds what the hands do before stop i.
func (r *rehearsing) before(i int) {
	r.outOfOrder(i)
	if !r.advised && r.drawsLine(i) {
		r.advised = true
		r.step(HandStep{Kind: report.StepChangeThread, Stop: i})
	}
	below, above := r.laidBefore(i, report.Underside), r.laidBefore(i, report.Face)
	if len(below) > 0 {
		r.mayEnd(i, below[0])
		r.hoopOff(i, false)
		r.turnOver(i, false)
		for _, l := range below {
			r.lay(i, l)
		}
		r.hoopOn(i, false)
	}
	for _, l := range above {
		r.lay(i, l)
	}
	r.trimAtLatest(i)
}

// outOfOrder warns, before a stop, that it covers pieces that are not laid yet.
func (r *rehearsing) outOfOrder(i int) {
	for _, l := range r.layers {
		if l.late && l.piece.Covers[0] == i {
			r.step(HandStep{Kind: report.StepNote, What: l.what, Pieces: []int{l.piece.Number}, Stop: i, Manner: AfterCover, Other: l.hold.Stop})
		}
	}
}

// drawsLine reports whether a stop sews a line that shows where cloth lies, and that
// is covered or taken out later.
func (r *rehearsing) drawsLine(i int) bool {
	for _, l := range r.layers {
		if l.mark != nil && l.mark.Stop == i && l.hold.Stop != i && (l.piece == nil || len(l.piece.Covers) > 0) {
			return true
		}
	}
	return false
}

// mayEnd tells, once, that a block may end before its batting, or before a backing
// without batting. A badge may not.
func (r *rehearsing) mayEnd(i int, l *layer) {
	if r.ended || l.badge || l.unsure {
		return
	}
	r.ended = true
	r.step(HandStep{Kind: report.StepMayEnd, What: l.what, Stop: i})
}

// lay adds the laying of one layer.
func (r *rehearsing) lay(i int, l *layer) {
	s := HandStep{Kind: report.StepLay, What: l.what, Stop: i, Line: l.hold, Other: -1}
	if l.mark != nil {
		s.Other = l.mark.Stop
	}
	batting := slices.ContainsFunc(r.layers, func(o *layer) bool { return o.what == report.Batting && o.state != "" && o.side == report.Face })
	switch {
	case l.noPause != Usually:
		s.Manner = l.noPause
	case l.faceDown:
		s.Manner, s.Gap = OnFront, l.gap
	case l.unsure && l.envelope:
		s.Manner = PerhapsEnvelope
	case l.unsure:
		s.Manner = PerhapsNot
	case l.envelope:
		s.Manner = OrEnvelope
	case l.side == report.Underside:
		s.Manner = OnUnderside
	case l.late:
		s.Manner = AfterCover
	case l.piece != nil && l.piece.PreCut:
		s.Manner, s.Line = ToShape, l.piece.Place
	case l.piece != nil && l.piece.TackCover:
		s.Manner = NoTrim
	case l.what == report.BlockCloth && batting:
		s.Manner = OverBatting
	}
	if l.piece != nil {
		s.Pieces = []int{l.piece.Number}
		s.Ask = l.piece.mayBePlain
	} else if !l.unsure {
		s.Ask = r.allMayBePlain()
	}
	r.step(s)
	r.laid++
	l.state, l.since = report.Laid, r.laid
}

// allMayBePlain reports whether each piece may be plain stitching, and with them what lines round
// them are read as: there may be no block either.
func (r *rehearsing) allMayBePlain() bool {
	pieces := 0
	for _, l := range r.layers {
		if l.piece != nil {
			if !l.piece.mayBePlain {
				return false
			}
			pieces++
		}
	}
	return pieces > 0
}

// trimAtLatest adds the trimming of what could wait until now.
func (r *rehearsing) trimAtLatest(i int) {
	var pieces []int
	for _, l := range r.layers {
		if l.latest == i {
			pieces = append(pieces, l.piece.Number)
		}
	}
	if len(pieces) > 0 {
		r.step(HandStep{Kind: report.StepTrim, What: report.AppliqueCloth, Pieces: pieces, Stop: i, Manner: AtLatest})
	}
}

// after adds what the hands do after stop i: trimming, first on the face, then with
// the hoop turned over.
func (r *rehearsing) after(i int) {
	r.trimPieces(i)
	for _, side := range []report.HoopSide{report.Face, report.Underside} {
		for _, l := range r.layers {
			if l.trim != i || l.piece != nil || l.side != side || l.badge {
				continue
			}
			r.hoopOff(i, true)
			s := HandStep{Kind: report.StepTrim, What: l.what, Stop: i, After: true, Line: l.hold, Ask: r.allMayBePlain()}
			if side == report.Underside {
				r.turnOver(i, true)
				s.Manner = OnUnderside
			}
			r.step(s)
			l.state = report.Trimmed
		}
	}
	r.trimBadge(i)
	r.turnOut(i)
	// Where the next stop wants the hoop off as well, it stays off.
	late := slices.ContainsFunc(r.layers, func(l *layer) bool { return l.late && l.hold.Stop == i })
	if late || i+1 < len(r.sewn.Stops) && len(r.laidBefore(i+1, report.Underside)) == 0 {
		r.hoopOn(i, true)
	}
	for _, l := range r.layers {
		if l.late && l.hold.Stop == i {
			r.step(HandStep{Kind: report.StepNote, What: l.what, Pieces: []int{l.piece.Number}, Stop: i, After: true, Manner: AfterCover, Other: l.piece.Covers[0]})
		}
	}
}

// trimPieces adds the trimming of the pieces that stop i tacks down. Where cloth is
// laid only if the pattern says so, it is trimmed only then.
func (r *rehearsing) trimPieces(i int) {
	for _, ask := range []bool{false, true} {
		for _, manner := range []Manner{Usually, MayWait, LeaveEdge, UnderCover, AskHowClose} {
			s := HandStep{Kind: report.StepTrim, What: report.AppliqueCloth, Stop: i, After: true, Manner: manner, Ask: ask}
			for _, l := range r.layers {
				if l.piece == nil || l.trim != i || l.trimming() != manner || l.piece.mayBePlain != ask {
					continue
				}
				switch {
				case l.latest >= 0 && (len(s.Pieces) == 0 || l.latest < s.Other):
					s.Other = l.latest
				case manner == UnderCover:
					s.Other = l.piece.Place.Stop
				}
				s.Pieces = append(s.Pieces, l.piece.Number)
				s.Line = l.hold
				s.Holes += len(l.piece.Holes)
				l.state = report.Trimmed
			}
			if len(s.Pieces) > 0 {
				r.hoopOff(i, true)
				r.step(s)
			}
		}
	}
}

// trimming is how a piece is trimmed.
func (l *layer) trimming() Manner {
	if l.latest >= 0 && l.edge != UnderCover {
		return MayWait
	}
	return l.edge
}

// trimBadge adds the cutting of a badge's face and backing together.
func (r *rehearsing) trimBadge(i int) {
	for _, l := range r.layers {
		if !l.badge || l.trim != i {
			continue
		}
		s := HandStep{Kind: report.StepTrim, Stop: i, After: true, Manner: BothSides, Line: l.hold}
		for _, o := range r.layers {
			if o.piece != nil && o.hold.Stop < i && o.trim < 0 && !o.piece.PreCut && !o.piece.TackCover {
				s.Pieces = append(s.Pieces, o.piece.Number)
				o.state = report.Trimmed
			}
		}
		r.hoopOff(i, true)
		r.step(s)
		l.state = report.Trimmed
	}
}

// turnOut adds the turning of a block whose backing was laid face down.
func (r *rehearsing) turnOut(i int) {
	for _, l := range r.layers {
		if !l.faceDown || l.hold.Stop != i {
			continue
		}
		r.hoopOff(i, true)
		r.step(HandStep{Kind: report.StepTrim, Stop: i, After: true, Manner: OnFront, Line: l.hold})
		r.step(HandStep{Kind: report.StepTurnOut, Stop: i, After: true, Gap: l.gap})
	}
}

func (r *rehearsing) hoopOff(i int, after bool) {
	if !r.off {
		r.off = true
		r.step(HandStep{Kind: report.StepHoopOff, Stop: i, After: after})
	}
}

func (r *rehearsing) turnOver(i int, after bool) {
	if !r.turned {
		r.turned = true
		r.step(HandStep{Kind: report.StepTurnOver, Stop: i, After: after})
	}
}

func (r *rehearsing) hoopOn(i int, after bool) {
	if !r.off {
		return
	}
	s := HandStep{Kind: report.StepHoopOn, Stop: i, After: after}
	if r.turned {
		s.Manner = TurnedBack
	}
	r.off, r.turned = false, false
	r.step(s)
}
