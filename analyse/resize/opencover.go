package resize

import (
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/rules"
)

// openCover is the share of an edge's ground under thread, over the barest stretch, below
// which its cover is open: the limit of thin-cover-stretch as it is when nobody sets it.
//
// In an open cover a slot between threads is a gap at one percent and none at the next,
// as the cover beside it counts for closed or for open; and where the outline turns it
// may be wider on a smaller design. No law leads to where that fails, so every percent is
// looked at: such a design is faulty as it is, and to be right matters more than to be
// quick. In a closed cover slots go evenly.
var openCover = func() float64 { s := report.DefaultSettings(); return s.Limit("thin-cover-stretch") }()

// ajar lists the spots of which it is not known that their cover is closed at a percent.
func (s *search) ajar(percent int) []spot {
	var out []spot
	for _, at := range s.spots {
		if at.piece > 0 && !s.closed(at, percent) {
			out = append(out, at)
		}
	}
	return out
}

// closed reports whether the cover of a piece is known to be closed at a percent: what is
// closed on a design is so on a smaller one. What is open on the design as it is stays in
// doubt at all sizes.
func (s *search) closed(at spot, percent int) bool {
	if s.thin(at) {
		return false
	}
	if s.c.way == report.Shrinking {
		return true
	}
	scale := float64(percent) / 100
	for i := range s.known[at] {
		f := &s.known[at][i]
		if f.least >= openCover && (f.scale >= scale || scale <= f.scale*thinnestHolds(f.least, openCover)) {
			return true
		}
	}
	return false
}

// thin reports whether the cover of a piece is open on the design as it is, or is
// already told to be.
func (s *search) thin(at spot) bool {
	c := s.base.Report.Piece(at.piece)
	if c == nil {
		return false
	}
	was := s.now(&thinNow)
	_, stop := was[key{stop: c.CoverStop}]
	_, piece := was[key{c.CoverStop, c.Number}]
	return stop || piece || c.CoverShare.Median > 0 && c.CoverShare.Min < openCover
}

// thinNow asks for what is told to be thin on the design as it is.
var thinNow = check{rule: &rules.ThinCoverRule}

// eachPercent looks at the spots whose cover may be open at every percent up to one, and
// gives the first at which one of them fails; 0 for none. The percents from the nearest
// limit on are looked at only for what is open on the design as it is.
func (s *search) eachPercent(to int, l line) int {
	near := percentOf(s.nearest(s.c.way))
	for q := 100 + l.step; !l.beyond(q, to); q += l.step {
		var look []spot
		for _, at := range s.ajar(q) {
			if !l.beyond(q, near) || s.thin(at) {
				look = append(look, at)
			}
		}
		if len(look) > 0 && s.look(q, look) {
			return q
		}
	}
	return 0
}
