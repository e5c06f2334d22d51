package rules

import (
	"fmt"
	"slices"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

// AstrayRule is the rule tack-down-astray.
var AstrayRule = Rule{
	ID:       "tack-down-astray",
	Doc:      "a tack-down does not follow its placement line",
	Severity: report.Caution,
	Limits:   limits("tack-down-astray"),
	Requires: []*measure.Step{measure.Pieces},
	Check:    astray,
}

const (
	strayStep = 0.5    // mm between the places where a tack-down is looked at
	strayMost = 10_000 // such places on one line; 5 m of it
	strayOver = 5.0    // mm of tack-down that must lie so far off: a place is no stretch
)

// A tack-down that lies inside its line by the same width all round is meant to: the
// cloth lies over the line, so that it is caught there too.
const (
	evenMost    = 2.5 // mm inside that tack-downs are drawn (common practice, no single source)
	farther     = 1.2 // times as far as nearly all of a tack-down lies from its line: its corners too
	evenSamples = 400 // places looked at for it, and points of the line they are held against
)

func astray(p *Pass) []report.Finding {
	limit := p.Limit("tack-down-astray")
	var out []report.Finding
	for _, w := range p.Pieces {
		if !w.Held || w.Tack == w.Place || w.Finish == report.FinishRaw {
			continue // a raw edge is held well inside its line, so that it shows
		}
		if w.Aside > 0 && w.Aside > limit {
			is, most := p.units().StitchPast(w.Aside, limit)
			which := "the tack-down (stop %d) and its cover lie"
			if w.AsideAlone {
				which = "the tack-down (stop %d) lies"
			}
			which = fmt.Sprintf(which, w.Tack.Stop+1)
			out = append(out, report.Finding{Severity: report.Caution, Stop: w.Tack.Stop + 1, Piece: w.Number, AtMM: at(w.Tack.Line[0]), Measured: w.Aside, Limit: limit, Unit: "mm",
				Message: fmt.Sprintf("piece %d: %s %s off its placement line (stop %d), and %s is the most", w.Number, which, is, w.Place.Stop+1, most),
				Advice:  "Cloth laid by the line alone is missed on one side, and the line stays in sight. Lay cloth that reaches far past the line on all sides, see that the tack-down caught it everywhere before you trim, and ask the maker of the design for a mended file."})
			continue
		}
		s := newStrayWork(p, w)
		if s.follows(limit) {
			continue
		}
		off, in, q := s.strays(p, w)
		if off <= limit {
			continue
		}
		if in >= evenMost*p.Scale {
			is, most := p.units().StitchPast(off+in, limit+in)
			out = append(out, report.Finding{Severity: report.Caution, Stop: w.Tack.Stop + 1, Piece: w.Number, AtMM: at(q), Measured: off, Limit: limit, Unit: "mm",
				Message: fmt.Sprintf("piece %d: the tack-down (stop %d) lies %s inside its placement line (stop %d), and %s is the most", w.Number, w.Tack.Stop+1, is, w.Place.Stop+1, most),
				Advice:  "Sew a trial piece: the placement line may stay in sight outside the cover. Ask the maker of the design for a tack-down near its line."})
			continue
		}
		is, most := p.units().StitchPast(off, limit)
		out = append(out, report.Finding{Severity: report.Caution, Stop: w.Tack.Stop + 1, Piece: w.Number, AtMM: at(q), Measured: off, Limit: limit, Unit: "mm",
			Message: fmt.Sprintf("piece %d: the tack-down (stop %d) lies %s off its placement line (stop %d) along a stretch, and %s is the most", w.Number, w.Tack.Stop+1, is, w.Place.Stop+1, most),
			Advice:  "Lay the cloth with more to spare on all sides, and check that the tack-down caught it everywhere before you trim."})
	}
	return out
}

// strayWork holds a tack-down against its placement line. Where the placement stop sews
// several lines the nearest is the one.
type strayWork struct {
	lines *geom.LineGrid
	half  float64 // mm of a zigzag, whose line is its middle, to either side
	reach float64 // mm
	step  float64 // mm from one place to the next
	over  int     // places of a stretch, less one
	pts   []geom.Point
}

func newStrayWork(p *Pass, w *applique.Piece) strayWork {
	s := strayWork{lines: p.Lines(w.Place.Stop), reach: applique.FollowWithin * p.Scale, step: max(strayStep*p.Scale, w.Tack.Length/strayMost)}
	for _, b := range w.Tack.Bands {
		s.half = max(s.half, p.Recognised.Satin.Bands[b].Width/2*p.Scale)
	}
	if w.Like.Most > s.reach {
		s.reach = farther * w.Like.Most // it lies too far inside all round
	}
	s.over = int(min(strayOver*p.Scale, w.Tack.Length/2) / s.step)
	s.pts = geom.Resample(w.Tack.Line, s.step)
	return s
}

// off is how far a place of the tack-down lies off.
func (s *strayWork) off(q geom.Point) float64 {
	d := s.lines.Nearest(q, s.reach)
	if d > s.reach {
		return 0 // there the piece has no placement line: another lies over it
	}
	return max(0, d-s.half)
}

// follows reports whether the tack-down lies further off than a limit along no stretch: on
// each of them one place is looked at.
func (s *strayWork) follows(limit float64) bool {
	for i := s.over; i < len(s.pts); i += s.over + 1 {
		if !s.lines.Within(s.pts[i], limit+s.half) && s.off(s.pts[i]) > limit {
			return false
		}
	}
	return true
}

// strays is how far a tack-down lies off its placement line along the worst stretch of
// strayOver mm, the least within the stretch, beyond what it lies inside as a rule; how
// far that is, and where the stretch is.
func (s *strayWork) strays(p *Pass, w *applique.Piece) (off, in float64, where geom.Point) {
	away := make([]float64, len(s.pts))
	for i, q := range s.pts {
		away[i] = s.off(q)
	}
	even := evenInside(p, w, s.pts, away)
	for i, q := range s.pts {
		if away[i] > 0 && even.in > 0 && even.inside(q) {
			away[i] = max(0, away[i]-even.in)
		}
	}
	where = s.pts[0]
	for i := 0; i+s.over < len(away); i++ {
		if least := slices.Min(away[i : i+s.over+1]); least > off {
			off, where = least, s.pts[i+s.over/2]
		}
	}
	return off, even.in, where
}

// evenInset is how far a tack-down lies inside its placement line as a rule.
type evenInset struct {
	line *geom.Region // within the placement line
	hole bool
	in   float64 // mm
}

// inside reports whether a place lies on the cloth's side of the placement line.
func (e *evenInset) inside(q geom.Point) bool { return e.line.Has(q) != e.hole }

// evenInside finds it from places of the tack-down and how far each lies off the line.
func evenInside(p *Pass, w *applique.Piece, pts []geom.Point, off []float64) evenInset {
	if !w.Place.Closed {
		return evenInset{}
	}
	e := evenInset{line: geom.NewRegion(geom.Resample(w.Place.Line, max(p.Scale, w.Place.Length/evenSamples))), hole: w.Hole}
	var in []float64
	for i := 0; i < len(pts); i += 1 + len(pts)/evenSamples {
		d := off[i]
		if !e.inside(pts[i]) {
			d = -d
		}
		in = append(in, d)
	}
	e.in = max(0, geom.QuantileOf(in, 0.5))
	if !w.Missed { // that the cover misses its edge is told as such
		e.in = min(e.in, evenMost*p.Scale)
	}
	return e
}
