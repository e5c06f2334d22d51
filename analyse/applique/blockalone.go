package applique

import "github.com/stopcard/stopcard/analyse/geom"

// worked are the colour stops that sew what lies on a block, and the box around it.
type worked struct {
	first, last int // stops; -1 for none
	inner       geom.Box
}

// worked tells what lies on the block: its pieces, or else what else is sewn between the
// lines of a whole block. Where there is neither, nothing is asked of the hands.
func (p *finder) worked() (worked, bool) {
	if len(p.work) == 0 {
		return p.blockAlone()
	}
	w := worked{first: len(p.sewn.Stops), last: -1, inner: p.work[0].Tack.Box}
	for _, k := range p.work {
		w.first = min(w.first, k.Place.Stop)
		w.last = max(w.last, k.Tack.Stop)
		for _, s := range k.Covers {
			w.last = max(w.last, s)
		}
		w.inner = joined(w.inner, k.Tack.Box)
	}
	return w, true
}

// ofBlock reports whether a line is one of those that hold the layers of a whole block.
func (p *finder) ofBlock(t *Trace) bool {
	if p.block == nil {
		w, found := p.blockAlone()
		if !found {
			w = worked{first: -1, last: len(p.sewn.Stops)}
		}
		p.block = &w
	}
	return t.Stop < p.block.first || t.Stop > p.block.last
}

// blockAlone finds a block on which no applique was found: redwork, or pieces that could
// not be told. Two lines round everything, each in a stop of its own, come before all
// else, and two more one after the other when it is done: cloth, batting and backing. So
// many are no frame (common practice, no single source).
func (p *finder) blockAlone() (worked, bool) {
	n := len(p.sewn.Stops)
	round, mm := make([]*Trace, n), make([]float64, n)
	for i := range p.traces {
		t := &p.traces[i]
		if isLine(t) && t.Closed && encloses(t.Box, p.all, roundSlack) {
			mm[t.Stop] += t.sewn
			if round[t.Stop] == nil {
				round[t.Stop] = t
			}
		}
	}
	alone := func(stop int) bool { return stop >= 0 && stop < n && mm[stop] > aloneShare*p.sewnMM[stop] }
	goes := func(stop int) bool {
		return alone(stop) && p.mayCompare() && alike(round[0], round[stop], seamInside)
	}
	w := worked{first: 2, last: -1}
	if n < 5 || !alone(0) || !goes(1) || alone(2) {
		return w, false
	}
	for i := w.first + 1; i+1 < n; i++ {
		if goes(i) && goes(i+1) {
			w.last = i - 1
			break
		}
	}
	if w.last < 0 {
		return w, false
	}
	for stop := w.first; stop <= w.last; stop++ {
		m := p.sewn.Stops[stop].BoundsMM
		b := geom.Box{Lo: geom.Point{X: m[0], Y: m[1]}, Hi: geom.Point{X: m[2], Y: m[3]}}
		if w.inner == (geom.Box{}) {
			w.inner = b
		}
		w.inner = joined(w.inner, b)
	}
	return w, encloses(round[0].Box, w.inner, roundAll)
}

const aloneShare = 0.9 // of a stop's thread that its line round the block has: a frame is seldom alone in its colour
