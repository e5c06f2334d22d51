package applique

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/report"
)

// expectCovers tells a finish that is missing from a raw edge that is meant: other
// pieces of the design have one. So is a blanket stitch no finish where another piece is
// covered after it is tacked down with one; and where others have it over a tack-down, that is
// what is missing. A raw edge is meant where something else finishes it that covered pieces
// do not have besides their cover, or where its tack-down is one to be seen.
func (p *finder) expectCovers() {
	covered, blankets, finished, lined := false, false, false, false
	for _, w := range p.work {
		if len(w.Covers) > 0 && w.Held && w.Aside == 0 {
			covered, blankets = true, blankets || w.tacked == blanket
			finished = finished || w.tacked != blanket && w.Finish == report.FinishBlanket
			lined = lined || w.lineAfter(beforeLeast)
		}
	}
	for _, w := range p.work {
		w.TackLost = finished && !blankets && w.Finish == report.FinishBlanket && len(w.Covers) == 0
		if len(w.Covers) > 0 || w.Under {
			continue
		}
		raw := w.Finish == report.FinishRaw && covered && (lined || !w.lineAfter(wholeShare)) && !p.tackShows(w)
		if raw || w.Finish == report.FinishBlanket && blankets {
			w.Finish = report.FinishMissing
		}
	}
}

// lineAfter reports whether a line of a stop after the tack-down, and none that sews a cover,
// goes along so much of the edge of a piece, on it or inside. One of two lines on either side
// of the edge is an edge run: the satin between them is what is missing.
func (w *Piece) lineAfter(share float64) bool {
	c := w.Place.chain
	if c == nil {
		return false
	}
	return slices.ContainsFunc(c.rounds, func(r *round) bool {
		return r.stop > w.Tack.Stop && (r.made.line() || r.made == motif) && r.share >= share && r.middle > outsideLine && !slices.Contains(w.Covers, r.stop) &&
			!slices.ContainsFunc(c.rounds, func(o *round) bool {
				return o.stop == r.stop && o.made.line() && o.share >= share && o.middle < outsideLine
			})
	})
}

// tackShows reports whether the tack-down of a raw edge is one to be seen: a heavy line
// well inside its line, where the cut edge is left outside it, and where no covered piece is
// tacked down so.
func (p *finder) tackShows(w *Piece) bool {
	in, ok := w.tackedIn()
	if !ok || w.tacked != double && w.tacked != triple || in < rawLeast || in > rawMost {
		return false
	}
	p.watch.Step(len(p.work))
	return !slices.ContainsFunc(p.work, func(v *Piece) bool {
		d, ok := v.tackedIn()
		return ok && len(v.Covers) > 0 && v.tacked == w.tacked && math.Abs(d-in) < tackAlike
	})
}

// tackedIn is how far inside its line a piece is tacked down, in mm.
func (w *Piece) tackedIn() (mm float64, ok bool) {
	if c := w.Place.chain; c != nil {
		for _, r := range c.rounds {
			if r.stop == w.Tack.Stop && r.made == w.tacked {
				return r.middle, true
			}
		}
	}
	return 0, false
}
