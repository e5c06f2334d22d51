package resize

import (
	"iter"
	"maps"
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/internal/watch"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/rules"
)

// mostForetold is how often a spot is looked at where it is foretold to fail before what
// is left is halved.
const mostForetold = 6

// line counts whole percents outwards from 100 in the direction of a check.
type line struct{ step, end int }

func (c *check) line() line {
	l := line{1, int(math.Round(100 * c.way.End()))}
	if c.way == report.Shrinking {
		l.step = -1
	}
	return l
}

// beyond reports whether percent a lies further out than b.
func (l line) beyond(a, b int) bool { return (a-b)*l.step > 0 }

// nearer is the percent that lies less far out.
func (l line) nearer(a, b int) int {
	if l.beyond(a, b) {
		return b
	}
	return a
}

// bySpots finds the last whole percent that passes and the first that fails, or 0 where
// none does, of a check each of whose spots goes evenly with the scale.
//
// The spot that is foretold to fail first is followed until it is known where it does.
// Of all the others it must only be known that they pass right before.
func (s *search) bySpots() (in, fail float64) {
	l := s.c.line()
	if found, ok := s.found[s.c.rule.ID]; ok && len(s.c.mute) > 0 {
		// Another limit of the rule was met: only what lies nearer is worth telling.
		l.end = report.WholePercent(found, s.c.way)
	}
	near := percentOf(s.nearest(s.c.way))
	if s.c.stride > 0 {
		l.end = l.nearer(l.end, near+l.step*further)
	}
	best := l.end + l.step // the first that fails, as far as is known
	// Above openCover what is open fails as it is.
	if limit := s.c.limitIn(s.base); s.c.columns && s.c.pieces && limit > 0 && limit < openCover {
		if q := s.eachPercent(l.end, l); q != 0 {
			best = q
		}
	}
	for {
		open := s.open(best - l.step)
		if len(open) == 0 {
			q := best
			if best != l.end+l.step && !l.beyond(best, near) {
				q = s.ripple(best, l)
			}
			if q == best {
				break
			}
			best = q
			continue
		}
		lead, first := open[0], 0.0
		for _, at := range open {
			if x := s.foretoldOf(at); first == 0 || x != 0 && s.c.way.Beyond(first, x) {
				lead, first = at, x
			}
		}
		best = s.follow(lead, best, l)
		if best == 100+l.step {
			break
		}
		if open = s.open(best - l.step); len(open) > 0 && s.look(best-l.step, open) {
			best -= l.step
			if best == 100+l.step {
				break
			}
		}
	}
	if best == l.end+l.step {
		return float64(l.end) / 100, 0
	}
	return float64(best-l.step) / 100, float64(best) / 100
}

// ripple looks at the percents right before one that fails, where windows along the edge
// of a piece come and go a little, and gives one of them that fails, or the one given.
func (s *search) ripple(best int, l line) int {
	if s.c.stride == 0 {
		return best
	}
	for n := 1; n <= behind; n++ {
		q := best - n*l.step
		if !l.beyond(q, 100) {
			break
		}
		var open []spot
		for _, at := range s.spots {
			if _, known := s.verdict(at, q); at.piece > 0 && !known && !s.holds(at, float64(q)/100) && !s.clear(at, float64(q)/100) {
				open = append(open, at)
			}
		}
		if len(open) > 0 && s.look(q, open) {
			return q
		}
	}
	return best
}

// clear reports whether a spot passes further out than a scale with something to spare.
func (s *search) clear(at spot, scale float64) bool {
	for i := range s.known[at] {
		f := &s.known[at][i]
		if s.c.way.Beyond(f.scale, scale) && s.c.outlook(&s.settings, f).sure > 1 {
			return true
		}
	}
	return false
}

// open are the spots of which it is not known that they pass at a percent.
func (s *search) open(percent int) []spot {
	var out []spot
	for _, at := range s.spots {
		if percent != 100 && !s.passes(at, percent) {
			out = append(out, at)
		}
	}
	return out
}

// passes reports whether it is known that a spot passes at a percent: by what was found
// there, or further out, or by what surely holds.
func (s *search) passes(at spot, percent int) bool {
	scale := float64(percent) / 100
	in, _ := s.between(at)
	return in != 0 && !s.c.line().beyond(percent, in) || s.holds(at, scale)
}

// between gives the furthest percent at which a spot was found to pass, and the first at
// which it was found to fail; 0 for none.
func (s *search) between(at spot) (in, out int) {
	l := s.c.line()
	in = 100
	for p, failed := range s.verdicts(at) {
		switch {
		case failed && (out == 0 || l.beyond(out, p)):
			out = p
		case !failed && l.beyond(p, in):
			in = p
		}
	}
	return in, out
}

// verdicts are whether a spot fails at each percent it was measured at. Of cover its
// figures tell.
func (s *search) verdicts(at spot) iter.Seq2[int, bool] {
	if !s.c.columns {
		return maps.All(s.failed[at])
	}
	return func(yield func(int, bool) bool) {
		for i := range s.known[at] {
			f := &s.known[at][i]
			if !yield(percentOf(f.scale), s.c.outlook(&s.settings, f).sure == 0) {
				return
			}
		}
	}
}

// verdict is what verdicts has of a percent.
func (s *search) verdict(at spot, percent int) (failed, known bool) {
	for p, f := range s.verdicts(at) {
		if p == percent {
			return f, true
		}
	}
	return false, false
}

func percentOf(scale float64) int { return int(math.Round(100 * scale)) }

// astray reports whether a spot that passes at a percent does so by something else than
// the figures that foretell where it fails.
func (s *search) astray(at spot, percent int) bool {
	for i := range s.known[at] {
		if f := &s.known[at][i]; percentOf(f.scale) == percent {
			o := s.c.outlook(&s.settings, f)
			return o.sure == 0 && (o.foretold == 0 || !s.c.way.Beyond(o.foretold, 1))
		}
	}
	return false
}

// follow finds the first percent before best at which a spot fails, or gives best.
func (s *search) follow(at spot, best int, l line) int {
	for n := 0; !s.passes(at, best-l.step); n++ {
		in, out := s.between(at)
		known := out != 0 && !l.beyond(out, best)
		if !known {
			out = best
		}
		if out-l.step == in {
			return out
		}
		x := s.foretoldOf(at)
		next := (in + out) / 2
		if s.astray(at, in) {
			n = mostForetold // it should have failed
			if !known {
				next = out - l.step
			}
		}
		if far := report.WholePercent(x, s.c.way); n < mostForetold && x != 0 && l.beyond(far+l.step, in) {
			next = far
			if !known || far == in {
				next += l.step // where it should fail
			}
		} else if n == 0 {
			next = out - l.step
		}
		next = l.nearer(next, out-l.step)
		if !l.beyond(next, in) {
			next = in + l.step
		}
		s.lookAt(next, []spot{at}, true)
		best = l.nearer(best, out)
	}
	return best
}

// look measures spots at a percent and reports whether any fails.
func (s *search) look(percent int, spots []spot) (any bool) { return s.lookAt(percent, spots, false) }

// lookAt is look, and may look at all thread over the spots where their own would do.
func (s *search) lookAt(percent int, spots []spot, others bool) (any bool) {
	p := s.measured(float64(percent)/100, spots, others)
	if s.c.columns {
		for _, at := range spots {
			failed, _ := s.verdict(at, percent)
			any = any || failed
		}
		return any
	}
	found := s.c.ask(p, false)
	for _, at := range spots {
		failed := false
		if piece := p.Report.Piece(at.piece); piece != nil {
			_, failed = found[key{piece.CoverStop, at.piece}]
		}
		if s.failed[at] == nil {
			s.failed[at] = map[int]bool{}
		}
		s.failed[at][percent] = failed
		any = any || failed
	}
	return any
}

// measured measures spots at a scale, and notes their figures in the order of the spots.
func (s *search) measured(scale float64, spots []spot, others bool) *measure.Pass {
	part := &measure.Part{Others: others}
	columns, pieces := map[int]bool{}, map[int]bool{}
	for _, at := range spots {
		if at.piece > 0 {
			pieces[at.piece] = true
		} else {
			columns[at.column] = true
		}
	}
	part.Columns = func(i int) bool { return columns[i] }
	part.OwnOnly = func(i int) bool { return rules.OwnOnly(s.base, i, s.covers[s.base.Report.SatinColumns[i].Stop]) }
	part.Pieces = func(number int) bool { return pieces[number] }
	if s.c.grid != nil {
		s.c.grid(part, s.c.limitIn(s.base))
		part.Down = scale * lookDown
	}
	p, err := s.base.PartAt(scale, part)
	watch.Raise(err)
	watch.Raise(p.Do(s.c.needs))
	for _, at := range spots {
		s.note(p, at, s.covers)
	}
	s.keep(scale, p, spots)
	return p
}

// keep holds the passes that were made last.
func (s *search) keep(scale float64, p *measure.Pass, spots []spot) {
	if s.kept = append(s.kept, madePass{scale, p, spots}); len(s.kept) > keptPasses {
		s.kept[0].pass.Done()
		s.kept = slices.Delete(s.kept, 0, 1)
	}
}

// done lets go of the passes that are held.
func (s *search) done() {
	for _, m := range s.kept {
		m.pass.Done()
	}
	s.kept = nil
}
