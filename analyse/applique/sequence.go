package applique

import (
	"math"
	"slices"
)

// hypothesis is a reading of the chains up to one: chosen is an index into its options,
// or -1 for plain stitching.
type hypothesis struct {
	score  float64
	used   []uint64 // two bits a trace: it is a line or a tack-down of some piece, or the own cover of one
	chain  int      // the chain that was read last, of those that have options
	chosen int8
	before *hypothesis // of the chain before
}

func (h *hypothesis) has(t *Trace) bool { return h.bit(2 * t.index) }

func (h *hypothesis) bit(i int32) bool { return h.used[i/64]>>(i%64)&1 == 1 }

// frees reports whether a reading needs no trace that has a purpose already.
func (h *hypothesis) frees(c *chain, o *option) bool {
	if h.has(c.line) {
		return false
	}
	if o.tack != nil {
		for _, t := range o.tack.traces {
			if h.has(t) && !c.scrap(t) {
				return false
			}
		}
	}
	for _, r := range o.cover {
		for _, t := range r.traces {
			if h.has(t) {
				return false
			}
		}
		if r.ownCover(c.line) && h.bit(2*r.traces[0].index+1) {
			return false
		}
	}
	return true
}

// scrap reports whether a trace is so short a part of what follows a line, as from one piece to
// the next, that it may be of two.
func (c *chain) scrap(t *Trace) bool { return t.Length <= tinyStretch*c.line.Length }

// with is the hypothesis that reads the next chain, c, which is at a place among all, by
// its option k, -1 for plain stitching.
func (h *hypothesis) with(c *chain, at int, k int8, score float64) hypothesis {
	n := hypothesis{score: score, used: h.used, chain: at, chosen: k, before: h}
	if k >= 0 {
		n.used = slices.Clone(h.used)
		set := func(i int32) { n.used[i/64] |= 1 << (i % 64) }
		mark := func(t *Trace) { set(2 * t.index) }
		mark(c.line)
		o := &c.options[k]
		if o.tack != nil {
			for _, t := range o.tack.traces {
				if !c.scrap(t) {
					mark(t)
				}
			}
		}
		for _, r := range c.rounds {
			if r.oneWith(c.line, o) {
				for _, t := range r.traces {
					mark(t)
				}
			}
		}
		for _, r := range o.cover {
			if r.ownCover(c.line) {
				set(2*r.traces[0].index + 1)
			}
		}
	}
	return n
}

// oneWith reports whether a round is a line of the same stop all along the line of a reading and
// under its cover: both are of one piece, since one cover finishes the edge of one.
func (r *round) oneWith(line *Trace, o *option) bool {
	return r.stop == line.Stop && r.made.line() && r.share >= wholeShare && len(o.cover) > 0 && o.cover[0].lo < r.middle && r.middle < o.cover[0].hi
}

// best finds the likeliest reading of all chains together: no stitching is the
// line or the tack-down of two pieces. A beam of hypotheses goes through the
// chains in sewing order, so that the work grows with their number. It gives the
// chosen option of each chain, -1 for none.
func (p *finder) best() []int8 {
	beam := append(make([]*hypothesis, 0, beamWidth), &hypothesis{used: make([]uint64, len(p.traces)/32+1)})
	type step struct {
		from  *hypothesis
		k     int8
		score float64
	}
	var next []step
	for at, c := range p.chains {
		if len(c.options) == 0 {
			continue // plain stitching, whatever the others are
		}
		p.watch.Step(beamWidth)
		next = next[:0]
		for _, h := range beam {
			next = append(next, step{h, -1, h.score})
			for k := range c.options {
				if o := &c.options[k]; h.frees(c, o) {
					next = append(next, step{h, int8(k), h.score + (o.score + o.fit)})
				}
			}
		}
		slices.SortStableFunc(next, func(a, b step) int {
			switch {
			case a.score > b.score:
				return -1
			case a.score < b.score:
				return 1
			}
			return 0
		})
		made := make([]hypothesis, min(len(next), beamWidth))
		for i, s := range next[:len(made)] {
			made[i] = s.from.with(c, at, s.k, s.score)
		}
		for _, h := range beam {
			h.used = nil // only its choice is asked for again
		}
		beam = beam[:0]
		for i := range made {
			beam = append(beam, &made[i])
		}
	}
	choice := make([]int8, len(p.chains))
	for i := range choice {
		choice[i] = -1
	}
	for h := beam[0]; h.before != nil; h = h.before {
		choice[h.chain] = h.chosen
	}
	return choice
}

// manner sums up how pieces are made.
type manner struct {
	n, without, tacked, covered int
	lines, tacks, covers        [motif + 1]int
	inside                      [motif + 1]float64 // mm, sum over the tack-downs so made
	stops                       map[[2]int]int     // of line and tack-down
	raw                         map[[2]int]int     // the same, of those that nothing covers
	beside                      map[[2]int]int     // of those, lines beside lines sewn alike that nothing finishes
}

// count adds a piece, or takes it away again. A raw edge that is likely only by what others
// are is no witness for more.
func (m *manner) count(c *chain, o *option, by int) {
	if len(o.cover) == 0 && o.score <= 0 {
		return
	}
	m.n += by
	if o.tack != nil {
		at := [2]int{c.line.Stop, o.tack.stop}
		m.stops[at] += by
		if len(o.cover) == 0 {
			m.raw[at] += by
			if c.alike(o.tack) && c.finishLine(o.tack) == nil {
				m.beside[at] += by
				return // tells nothing of how pieces are made
			}
		}
		m.tacks[o.tack.made] += by
		m.tacked += by
		m.inside[o.tack.made] += float64(by) * o.tack.middle
	} else {
		m.without += by
	}
	m.lines[c.lineMade()] += by
	if len(o.cover) > 0 {
		m.covers[o.cover[0].made] += by
		m.covered += by
	}
}

// styled lets each chain know how the others were read. Chains that share
// stitching are no witnesses for one another.
func (p *finder) styled(choice []int8) {
	all := manner{stops: map[[2]int]int{}, raw: map[[2]int]int{}, beside: map[[2]int]int{}}
	for i, c := range p.chains {
		c.chosen = choice[i]
		if choice[i] >= 0 {
			all.count(c, &c.options[choice[i]], 1)
		}
	}
	kin := map[*chain][]*chain{}
	for _, c := range p.chains {
		for _, r := range c.rounds {
			for _, t := range r.traces {
				if d := t.chain; d != nil && d != c {
					if c.chosen >= 0 {
						kin[d] = append(kin[d], c)
					}
					if d.chosen >= 0 {
						kin[c] = append(kin[c], d)
					}
				}
			}
		}
	}
	for _, c := range p.chains {
		slices.SortFunc(kin[c], func(a, b *chain) int { return int(a.line.index - b.line.index) })
		kin[c] = slices.Compact(kin[c])
		// What is left of the manner of all without this chain and its kin.
		count := func(by int) {
			if c.chosen >= 0 {
				all.count(c, &c.options[c.chosen], by)
			}
			for _, d := range kin[c] {
				all.count(d, &d.options[d.chosen], by)
			}
		}
		inside := all.inside
		count(-1)
		for k := range c.options {
			c.options[k].fit = all.like(c, &c.options[k])
		}
		count(1)
		all.inside = inside // to the last digit
	}
}

// like is what the making of the other pieces says of a reading.
func (m *manner) like(c *chain, o *option) float64 {
	n, mates := m.n, 0
	if o.tack != nil {
		mates = m.stops[[2]int{c.line.Stop, o.tack.stop}]
	}
	if len(o.cover) == 0 {
		// Lines beside lines are a pattern as well, however many there are and in whatever
		// stops: all are applique or none is, and one does not vouch for the next. Nor does
		// other stitching in those very stops.
		at := [2]int{c.line.Stop, o.tack.stop}
		if n == m.raw[at] {
			return 0
		}
		if c.alike(o.tack) {
			mates -= m.beside[at]
			for _, k := range m.beside {
				n -= k
			}
		}
	}
	if n <= 0 || o.tack == nil && o.cover[0].made == zigzag && n == m.without && o.score > zigzagAlone {
		return 0 // a zigzag along a line may hold cloth as well as finish it, and as many others tell no more
	}
	e := styleOthers
	if len(o.cover) > 0 && o.cover[0].made == satinMade && (o.tack == nil || o.tack.stop != c.line.Stop) {
		e += m.likeLine(c, o)
	}
	if mates > 0 {
		e += styleStops
	}
	switch {
	case len(o.cover) > 0:
		if m.covers[o.cover[0].made] > 0 {
			e += styleCover
		}
	case m.covered < n:
	case m.tacked > 0 && o.bare && (mates > 0 || m.tackedAlike(o.tack)):
		e += coverMissing - o.loose
		if o.lighter && (m.lines[triple] > 0 || o.alone) {
			e -= rawLighter // so are theirs, or nobody would see it
		}
	case o.bare && o.alone && m.inTurn(c.line.Stop, o.tack.stop):
		e += coverMissingElse - o.loose
		if o.lighter {
			e -= rawLighter
		}
	default:
		return 0 // a raw edge among covered ones
	}
	if o.tack == nil && c.heldByNone(o.cover[0]) && m.handsBetween(c.line.Stop, o.cover[0].stop) {
		e += preCutAmong
		if made := o.cover[0].made; m.covers[made] > 0 {
			e -= preCutBy(made) // it is the cover of theirs
		}
	}
	switch {
	case o.tack == nil && m.without == 0:
		e += styleNoTack
	case o.tack != nil && m.tacks[o.tack.made] > 0:
		e += styleTack
	}
	return float64(e)
}

// tackedAlike reports whether tack-downs of other pieces are sewn alike and lie as far
// inside their lines.
func (m *manner) tackedAlike(tack *round) bool {
	n := m.tacks[tack.made]
	return n > 0 && math.Abs(tack.middle-m.inside[tack.made]/float64(n)) < tackAlike
}

// inTurn reports whether a line and its tack-down are sewn one after the other, or in such
// stops as those of another piece.
func (m *manner) inTurn(line, tack int) bool {
	for at, n := range m.stops {
		if n > 0 && (tack == line+1 || at[0] == line || at[1] == tack || at[1]-at[0] == tack-line) {
			return true
		}
	}
	return false
}

// handsBetween reports whether pieces with a tack-down have their line in a stop, or
// their tack-down between two.
func (m *manner) handsBetween(line, cover int) bool {
	for at, n := range m.stops {
		if n > 0 && at[0] != at[1] && (at[0] == line || at[1] > line && at[1] < cover) {
			return true
		}
	}
	return false
}

// heldByNone reports whether a line follows no other and no stitching follows it in a
// stop before its cover, nor another that would cover it after: that one may hold the cloth.
func (c *chain) heldByNone(cover *round) bool {
	return c.ahead == 0 && !slices.ContainsFunc(c.rounds, func(r *round) bool {
		return r.stop > c.line.Stop && r.stop < cover.stop || r.stop > cover.stop && r.mayCover(cover.middle)
	})
}

// lead is how much likelier the chosen reading of a chain is than the next, and
// which that is; nil for plain stitching.
func (p *finder) lead(c *chain, chosen int8) (float64, *option) {
	var best float64
	if chosen >= 0 {
		o := &c.options[chosen]
		best = o.score + o.fit
	}
	next, alt := 0.0, (*option)(nil)
	if chosen < 0 {
		next = math.Inf(-1)
	}
	for k := range c.options {
		o := &c.options[k]
		if int8(k) == chosen || chosen >= 0 && sameHands(o, &c.options[chosen]) {
			continue
		}
		if s := o.score + o.fit; s > next {
			next, alt = s, o
		}
	}
	if chosen >= 0 && c.options[chosen].tack != nil {
		// What is the tack-down here may be the line of another chain.
		for _, t := range c.options[chosen].tack.traces {
			if t.chain == nil {
				continue
			}
			for k := range t.chain.options {
				o := &t.chain.options[k]
				if s := o.score + o.fit; s > next {
					next, alt = s, o
				}
			}
		}
	}
	return best - next, alt
}

// sameHands reports whether two readings ask the same of the hands.
func sameHands(a, b *option) bool {
	stop := func(r *round) int {
		if r == nil {
			return -1
		}
		return r.stop
	}
	cover := func(o *option) int {
		if len(o.cover) == 0 {
			return -1
		}
		return o.cover[0].stop
	}
	return stop(a.tack) == stop(b.tack) && cover(a) == cover(b)
}

// confidence turns a lead in log-odds into a probability.
func confidence(lead float64) float64 { return 1 / (1 + math.Exp(-lead)) }
