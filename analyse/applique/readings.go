package applique

import (
	"math"
	"slices"
)

// option is one reading of a chain: its line is a placement line, one of its
// rounds the tack-down, others the cover.
type option struct {
	tack    *round   // nil: cloth cut beforehand, nothing holds it but the cover
	cover   []*round // none: a raw edge
	reverse bool     // the cover is sewn before the tack-down
	score   float64  // log-odds against plain stitching
	fit     float64  // and from how other pieces are made
	lighter bool     // its line is heavy and nothing after it: no raw edge that is meant
	loose   evidence // what of its score speaks against an edge left raw, and not against one to be covered
	bare    bool     // its line is closed, and nothing that may be a cover is sewn along it after the tack-down
	alone   bool     // its line and its tack-down are all that their stops sew; see pairAlone
}

// read lists the readings of a chain that are worth keeping, the best first.
func (p *finder) read(c *chain) {
	c.options = c.options[:0]
	if !p.mayBePiece(c) {
		return
	}
	for _, r := range c.rounds {
		if r.share < 0.5 || r.made == satinMade && !r.sparse || r.noTack {
			continue
		}
		p.offer(c, option{tack: r})
		for _, cover := range c.covers(r) {
			p.offer(c, option{tack: r, cover: cover})
		}
		if before := c.coverBefore(r); before != nil {
			p.offer(c, option{tack: r, cover: before, reverse: true})
		}
	}
	for _, cover := range c.covers(nil) {
		p.offer(c, option{cover: cover})
	}
	slices.SortStableFunc(c.options, func(a, b option) int {
		switch {
		case a.score > b.score:
			return -1
		case a.score < b.score:
			return 1
		}
		return 0
	})
	c.options = c.options[:min(len(c.options), mostOptions)]
}

const (
	mostOptions = 5
	leastScore  = -4.0 // readings less likely are not kept
)

func (p *finder) offer(c *chain, o option) {
	agrees, ok := p.said.admits(c, &o)
	if !ok {
		return
	}
	o.score = float64(p.weigh(c, &o) + evidence(agrees)*saidLikely)
	least := leastScore + float64(o.loose)
	if o.lighter {
		least += float64(rawLighter)
	}
	if o.score > least || agrees > 0 {
		c.options = append(c.options, o)
	}
}

// covers lists the rounds that may be the cover over tack, or over the line itself
// where tack is nil: each with what goes on from it.
func (c *chain) covers(tack *round) [][]*round {
	var out [][]*round
	from, inside := 0, 0.0
	if tack != nil {
		from, inside = slices.Index(c.rounds, tack)+1, tack.middle
	}
	for i := from; i < len(c.rounds); i++ {
		r := c.rounds[i]
		if !r.mayCover(inside) {
			continue
		}
		set, m := []*round{r}, r.mask
		for _, s := range c.rounds[i+1:] {
			more := m.or(s.mask)
			if s.mayCover(inside) && (s.made == r.made) && (more.count() > m.count()+c.samples/12 || s.stop == r.stop) {
				set, m = append(set, s), more
			}
		}
		out = append(out, set)
		if m.count()*10 > 9*c.samples && len(out) > 1 && !underSatin(c.rounds[i:]) {
			break
		}
	}
	return out
}

// mayCover reports whether a round lies over an edge tacked down so far inside the
// line, or beside it by a little.
func (r *round) mayCover(inside float64) bool {
	beside := coverBeside
	if r.farRound() {
		beside = coverFar
	}
	return !r.noCover && !r.made.line() && r.hi > min(0, inside)-beside && r.lo < max(0, inside)+beside
}

// farRound reports whether satin goes evenly all round beside the line: it is the line set
// out or in, as the cover of another size would be.
func (r *round) farRound() bool {
	return r.made == satinMade && r.share >= farShare && (r.hi < 0 || r.lo > 0) && r.width()-(r.q3-r.q1) <= farEven
}

// coverBefore gives the satin that lies under a tack-down, sewn before it. A line that the
// satin's own stop sews first is its underlay, and what follows a line over satin.
func (c *chain) coverBefore(tack *round) []*round {
	var out []*round
	for _, r := range c.rounds {
		if r == tack {
			break
		}
		if r.made == satinMade && !r.noCover && r.stop > c.line.Stop && r.stop < tack.stop && r.lo < tack.middle && r.hi > tack.middle && r.width() >= narrowCover {
			out = append(out, r)
		}
	}
	if c.reached(out) < beforeLeast {
		return nil // it goes on along another edge
	}
	return out
}

// beforeLeast is the share of a line that satin sewn before its tack-down reaches along.
const beforeLeast = 0.5

// weigh sums up what speaks for a reading.
func (p *finder) weigh(c *chain, o *option) evidence {
	e := anyChain + c.lineEvidence()
	e += p.orderEvidence(c, o)
	if o.tack != nil && o.tack.traces[0].rings() >= ringsFewest {
		e += tackRings
	}
	if o.tack != nil && o.cover != nil && c.line.rings() >= ringsFewest {
		e += lineRings
	}
	switch {
	case o.tack == nil:
		e += p.preCutEvidence(c, o)
	case o.cover == nil:
		e += tackEvidence(o.tack) + p.rawEvidence(c, o)
	default:
		e += tackEvidence(o.tack) + c.movedEvidence(o.tack) + tooFar(o.tack)
		if o.tack.far || o.tack.farOut() {
			e += tackFarIn - tooFar(o.tack)
		}
	}
	if o.cover != nil {
		e += c.coverEvidence(o)
		if p.roundEverything(c) {
			e += coverRound
			if made := o.cover[0].made; made != satinMade && made != blanket && o.tack != nil {
				e += rawRound // a zigzag round it all holds batting
			}
		}
	}
	if e < leastScore+o.loose && !o.lighter || e < leastScore+rawLighter+o.loose {
		return e // what lies inside costs most to find out, and never speaks for it
	}
	return e + p.insideEvidence(c, o)
}

func (c *chain) lineEvidence() evidence {
	t := c.line
	var e evidence
	switch c.lineMade() {
	case blanket:
		e += lineBlanket
	case zigzag:
		e += lineZigzag
	case triple:
		e += lineTriple
	case double:
		e += lineDouble
	default:
		e += lineSingle
	}
	if t.Closed {
		e += lineClosed
	} else {
		e += lineOpen
	}
	e += evidence(min(c.ahead, 2)) * lineFollows
	if c.second {
		e += lineSecond
	}
	if c.again {
		e += lineOfTack
	}
	if max(t.Box.Width(), t.Box.Height()) < smallAcross {
		e += smallPiece
	}
	return e
}

// orderEvidence weighs the pauses, and what is sewn between.
func (p *finder) orderEvidence(c *chain, o *option) evidence {
	var e evidence
	line := c.line.Stop
	first, second := o.tack, (*round)(nil)
	if len(o.cover) > 0 {
		second = o.cover[0]
	}
	if o.reverse {
		first, second = second, first
	}
	if first == nil {
		first, second = second, nil
	}
	between := evidence(first.stop-line-1) * stopsBetween
	e += max(between, stopsBetweenMax)
	switch {
	case second == nil && first.stop == line && c.finishLine(first) != nil:
		return e + oneStopBoth // a later stop finishes the raw edge
	case second == nil && first.stop == line:
		return e + oneStopAll
	case second == nil:
	case first.stop == line && second.stop == line:
		return e + oneStopAll
	case first.stop == line:
		e += oneStopBoth + pauseToTrim
		if o.tack == first && p.tiedBetween(c.line, first.traces[0]) {
			e += tiedOff
		}
		switch {
		case o.tack == first && c.zigzagUnderlay(first, second):
			e += underlayTwo
		case o.tack == first && first.made != single && first.made != motif && math.Abs(first.middle) < tackNear:
			e += tackTwice
		case o.tack == first && first.made == single && len(o.cover) > 0 && math.Abs(first.middle) > underlayApart &&
			math.Abs((o.cover[0].lo+o.cover[0].hi)/2-first.middle/2) < centred/2:
			e += underlayTwo
		}
	case second.stop == first.stop:
		e += coverInStop
		if second.made == zigzag && o.tack == first && c.finishLine(first) != nil {
			e += coverBeneath
		}
		switch {
		case o.tack != first:
		case c.edgeRun(first, second) || zigzagBeside(first, second):
			e += underlayTwo
		case second.made != zigzag && p.cutBetween(first.traces[len(first.traces)-1], second.traces[0]):
			e += cutInStop
		}
	default:
		e += threeStops
	}
	if o.reverse {
		e += coverFirst
		if c.line.blanket {
			e += lineBlanket // what it would hold is covered already
		}
		if o.cover[0].sparse {
			e += coverSparse
		}
	}
	last := o.tack
	if len(o.cover) > 0 && !o.reverse {
		last = o.cover[0]
	}
	if c.echo && (o.tack == nil || second != nil && o.tack == first && second.stop == first.stop) {
		e += ringInRing
	}
	for _, r := range c.rounds {
		if r.made != satinMade || r.sparse || r == o.tack || slices.Contains(o.cover, r) {
			continue
		}
		if r.stop == line && r.share > wholeShare {
			e += satinOwn
		} else {
			e += satinUnused
		}
	}
	for _, r := range c.rounds {
		if last == nil || r.first() >= last.first() {
			break
		}
		if r == o.tack || slices.Contains(o.cover, r) {
			continue
		}
		switch {
		case o.tack != nil && r.first() < o.tack.first() && !r.made.line() && !o.reverse:
			e += groundBefore
		case o.reverse && r.stop == o.cover[0].stop:
			// Underlay of the cover.
		case o.tack != nil && r.first() < o.tack.first() && r.stop > line && r.stop < o.tack.stop:
			e += laterLine
		case o.tack != nil && r.stop == o.tack.stop, r.stop == last.stop:
			// A second line of the tack-down, or underlay.
		default:
			e += otherRounds
		}
	}
	return e
}

func tackEvidence(r *round) evidence {
	var e evidence
	switch r.made {
	case single, double:
		e = tackLine
	case triple:
		e = tackTriple
	case zigzag, blanket:
		e = tackZigzag
	case motif:
		e = tackMotif
	case satinMade:
		e = tackSatin
	}
	e += evidence(1-r.share) * tackPartly
	if uneven := r.width() - tackEven; uneven > 0 && r.made.line() {
		e += tackUneven * evidence(uneven)
	}
	return e
}

// movedEvidence puts another weight in the place of tackUneven where a tack-down is the
// line itself moved aside.
func (c *chain) movedEvidence(r *round) evidence {
	if uneven := r.width() - tackEven; uneven > 0 && r.made.line() && c.movedAside(r) {
		return max(0, tackMoved-tackUneven*evidence(uneven))
	}
	return 0
}

// tooFar weighs how far a tack-down lies from its line.
func tooFar(r *round) evidence {
	if far := math.Abs(r.middle) - r.width()/2; far > tackNear {
		return tackFar * evidence(far-tackNear)
	}
	return 0
}

func (c *chain) coverEvidence(o *option) evidence {
	var e evidence
	r := o.cover[0]
	edge := 0.0
	if o.tack != nil {
		edge = o.tack.middle
	}
	off := evidence(max(0, r.lo-edge, edge-r.hi))
	if o.tack != nil && (o.tack.far || o.tack.farOut() || c.line.Stop != o.tack.stop && r.farRound() && o.tack.onLine()) {
		off = min(off, farMissed)
	}
	e += coverOff*off + coverAside*evidence(max(0, r.lo, -r.hi))
	switch r.made {
	case satinMade:
		e += coverSatin
	case zigzag:
		e += coverZigzag
	case blanket:
		e += coverBlank
	case motif:
		e += coverMotif
	}
	if r.width() < narrowCover && r.made == satinMade {
		e += coverThin
	}
	if r.dotted(c.line.Length) {
		e += coverDots
	}
	return e + evidence(1-c.reached(o.cover))*coverPartly
}

// onLine reports whether a line is sewn all along the very line.
func (r *round) onLine() bool {
	return r.made.line() && r.share >= farShare && math.Abs(r.middle) <= sketchEven && r.width() <= farEven
}

// reached is the share of the line that rounds lie along, together.
func (c *chain) reached(rounds []*round) float64 {
	var m mask
	for _, r := range rounds {
		m = m.or(r.mask)
	}
	return float64(m.count()) / float64(c.samples)
}

const placementShare = 0.6 // of a stop's thread that lines which something follows should be
