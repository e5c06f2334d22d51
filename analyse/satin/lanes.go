package satin

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
)

// thread is a thread from hole to hole.
type thread struct {
	u             geom.Point // unit vector
	l             float64
	across, along float64 // of u and its first hole: the vector and the scalar product
}

// beside is how far to the left of the line of a thread q lies, in mm.
func (t *thread) beside(q geom.Point) float64 { return t.u.X*q.Y - t.u.Y*q.X - t.across }

// over is how a thread lies to the lanes of a place: how far to the left of it and how far
// along it the first lane begins, how much further the lane goes, and how all that
// changes from the right rail to the left. Lanes begin on one line and end on
// another, so it is linear in the share of the way across.
type over struct {
	l                                float64
	beside, besideBy, turns, turnsBy float64
	along, alongBy, goes, goesBy     float64
}

// onLane is how a thread lies to one lane.
type onLane struct{ beside, turns, along, goes float64 }

func (t *over) on(f float64) onLane {
	return onLane{t.beside + f*t.besideBy, t.turns + f*t.turnsBy, t.along + f*t.alongBy, t.goes + f*t.goesBy}
}

// outside reports whether all of the lane lies before one place along the thread, or
// all of it past another.
func (q *onLane) outside(least, most float64) bool {
	end := q.along + q.goes
	return q.along < least && end < least || q.along > most && end > most
}

// within reports whether the lane lies between the ends of a thread l mm long.
func (q *onLane) within(l float64) bool {
	end := q.along + q.goes
	return q.along >= 0 && q.along <= l && end >= 0 && end <= l
}

// laneWork is the lanes of a place under thread that lies 2 half mm wide and reaches cap mm
// past its holes.
type laneWork struct {
	half, cap float64
	at        [lanes]lane
}

// lane is what threads hide of a lane, in shares of its length. They mostly come in the order
// in which they cross it; then it is enough to know how far it is hidden so far, and
// how much is bare before that.
type lane struct {
	reach      float64 // hidden up to here, but for what is bare
	bare       float64
	block      float64 // where the stretch that ends at reach begins; -Inf: with the lane
	gap        float64 // where what is bare before it begins
	disordered bool    // a thread begins before that
}

// laneAt is how far across each lane lies.
var laneAt = func() (f [lanes]float64) {
	for i := range f {
		f[i] = (float64(i) + 0.5) / lanes
	}
	return f
}()

// clear begins a place under thread that lies laid mm wide.
func (w *laneWork) clear(laid float64) {
	w.half, w.cap = laid/2, endCap*laid
	for i := range w.at {
		w.at[i] = lane{block: math.Inf(-1)}
	}
}

// under adds what a thread hides of each lane. Mostly the lanes cross it away from its
// ends, all from the same side; then the stretch is in closed form.
func (w *laneWork) under(t *over) {
	first, last := t.on(laneAt[0]), t.on(laneAt[lanes-1])
	least, most := -w.cap, t.l+w.cap
	if first.outside(least, most) && last.outside(least, most) && (first.along < least) == (last.along < least) {
		return
	}
	half := w.half
	if a, b, c, d := first.beside, first.beside+first.turns, last.beside, last.beside+last.turns; a > half && b > half && c > half && d > half ||
		a < -half && b < -half && c < -half && d < -half {
		return
	}
	switch {
	case first.turns > leastTurn && last.turns > leastTurn:
	case first.turns < -leastTurn && last.turns < -leastTurn:
		// As seen from its other side.
		t.beside, t.besideBy, t.turns, t.turnsBy = -t.beside, -t.besideBy, -t.turns, -t.turnsBy
	default:
		for i, f := range laneAt {
			q := t.on(f)
			w.underEnd(i, &q, t.l)
		}
		return
	}
	// Lanes that end before the thread, or begin past it, are the first ones or the last; so
	// are those that reach beyond its ends.
	from, to := 0, lanes
	for from < to && t.passed(from, half) {
		from++
	}
	for from < to && t.passed(to-1, half) {
		to--
	}
	for ; from < to; from++ {
		q := t.on(laneAt[from])
		if q.within(t.l) {
			break
		}
		w.underTurn(from, &q, t.l)
	}
	for ; from < to; to-- {
		q := t.on(laneAt[to-1])
		if q.within(t.l) {
			break
		}
		w.underTurn(to-1, &q, t.l)
	}
	at, shares := w.at[from:to], laneAt[from:to]
	beside, besideBy, turns, turnsBy := t.beside, t.besideBy, t.turns, t.turnsBy
	for i, f := range shares {
		b, per := beside+f*besideBy, 1/(turns+f*turnsBy)
		at[i].hide((-half-b)*per, (half-b)*per)
	}
}

// passed reports whether a lane, which crosses the line of a thread from its right, ends before
// it or begins past it.
func (t *over) passed(lane int, half float64) bool {
	f := laneAt[lane]
	beside := t.beside + f*t.besideBy
	return beside >= half || beside+t.turns+f*t.turnsBy <= -half
}

// underEnd adds what a thread l mm long hides of a lane that may reach beyond its ends.
func (w *laneWork) underEnd(lane int, q *onLane, l float64) {
	if lo, hi := w.stretch(q, l); hi > lo {
		w.at[lane].hide(lo, hi)
	}
}

// underTurn is underEnd of a lane that crosses the line of the thread from its right. Of those
// that are not within its ends half lie outside them.
func (w *laneWork) underTurn(lane int, q *onLane, l float64) {
	if q.outside(-w.cap, l+w.cap) {
		return
	}
	per := 1 / q.turns
	if lo, hi := w.cut(q, (-w.half-q.beside)*per, (w.half-q.beside)*per, l); hi > lo {
		w.at[lane].hide(lo, hi)
	}
}

// stretch is what of a lane lies under a thread l mm long, in shares of the lane, which it
// may reach beyond; from 1 to 0 where none does.
func (w *laneWork) stretch(q *onLane, l float64) (lo, hi float64) {
	half := w.half
	if end := q.beside + q.turns; q.beside < -half && end < -half || q.beside > half && end > half || q.outside(-w.cap, l+w.cap) {
		return 1, 0
	}
	if q.turns > -leastTurn && q.turns < leastTurn {
		return w.span(q, l)
	}
	per := 1 / q.turns
	lo, hi = (-half-q.beside)*per, (half-q.beside)*per
	if lo > hi {
		lo, hi = hi, lo
	}
	return w.cut(q, lo, hi, l)
}

// cut is what a thread l mm long hides of the stretch of a lane that lies beside it.
func (w *laneWork) cut(q *onLane, lo, hi, l float64) (float64, float64) {
	least, most := -w.cap, l+w.cap
	// How far along the thread what it hides begins and ends.
	begin, end := q.along, q.along+q.goes
	if lo > 0 {
		begin = q.along + lo*q.goes
	}
	if hi < 1 {
		end = q.along + hi*q.goes
	}
	switch {
	case begin >= 0 && begin <= l && end >= 0 && end <= l:
		return lo, hi
	case begin < least && end < least || begin > most && end > most:
		return 1, 0
	case begin >= least && begin <= most && end >= least && end <= most: // in its round ends
		if w.passes(q, l) {
			return 1, 0
		}
		return lo, hi
	}
	return w.span(q, l)
}

// hide adds a stretch of a lane.
func (w *lane) hide(lo, hi float64) {
	if lo > w.reach || lo < w.block {
		w.part(lo, hi)
	}
	if hi > w.reach {
		w.reach = hi
	}
}

// part adds a stretch that begins past what is hidden, or before the last gap ends.
func (w *lane) part(lo, hi float64) {
	if lo > w.reach {
		w.bare += lo - w.reach
		w.gap, w.block = w.reach, lo
	} else if !w.fill(lo, hi) {
		w.disordered = true
	}
}

// fill adds a stretch that begins before the last gap ends, and reports whether it could: not
// where it lies amid the gap, or begins before it where more may be bare.
func (w *lane) fill(lo, hi float64) bool {
	switch {
	case lo >= w.gap && hi >= w.block:
		w.bare -= w.block - lo
		w.block = lo
	case lo <= 0 && hi >= w.block:
		w.bare, w.block = 0, math.Inf(-1)
	case w.bare != w.block-w.gap: // not the only one
		return false
	case lo <= w.gap && hi >= w.block:
		w.bare, w.block = 0, math.Inf(-1)
	case lo <= w.gap:
		w.gap = max(w.gap, hi)
		w.bare = w.block - w.gap
	default:
		return false
	}
	return true
}

// leastTurn is how far in mm the end of a lane must lie to the side of its beginning, as
// a thread sees it, to be divided by.
const leastTurn = 1e-6

// whole reports whether all of a lane is hidden.
func (w *lane) whole() bool { return w.reach >= 1 && w.bare == 0 }

// whole reports whether all lanes are hidden from end to end.
func (w *laneWork) whole() bool {
	for i := range w.at {
		if !w.at[i].whole() {
			return false
		}
	}
	return true
}

// span is the stretch of a lane that lies under a thread l mm long, in shares of it;
// from 1 to 0 where none does. The thread may lie in any way.
func (w *laneWork) span(q *onLane, l float64) (lo, hi float64) {
	lo, hi = geom.Clip(q.turns, q.beside, -w.half, w.half)
	lo2, hi2 := geom.Clip(q.goes, q.along, -w.cap, l+w.cap)
	if lo, hi = max(0, lo, lo2), min(1, hi, hi2); hi <= lo || w.passes(q, l) {
		return 1, 0
	}
	return lo, hi
}

// passes reports whether a thread without its round ends lies wholly before a lane,
// past it or beside it, so far that it hides nothing.
func (w *laneWork) passes(q *onLane, l float64) bool {
	length2 := q.turns*q.turns + q.goes*q.goes
	far := w.half * w.half * length2
	away := func(a, b float64) bool { return a < 0 && b < 0 && a*a > far && b*b > far }
	// Its ends along the lane and across it, in mm times the length of the lane.
	a, c := -(q.along*q.goes + q.beside*q.turns), q.along*q.turns-q.beside*q.goes
	b, d := a+l*q.goes, c-l*q.turns
	return away(a, b) || away(length2-a, length2-b) || away(c, d) || away(-c, -d)
}

// hidden is the share of a lane that lies under threads which came in order.
func (w *lane) hidden() float64 {
	if w.reach < 1 {
		return w.reach - w.bare
	}
	return 1 - w.bare
}

// union is stretches of a lane that are hidden, in shares of it, apart from one
// another and in order.
type union struct {
	n      int
	lo, hi [8]float64
}

// hiddenAmid is the share of a lane under threads that come in any order.
func (w *laneWork) hiddenAmid(threads []over, f float64) (share float64) {
	var on union
	for i := 0; i < len(threads) && on.free(); i++ {
		q := threads[i].on(f)
		lo, hi := w.stretch(&q, threads[i].l)
		if lo, hi = max(0, lo), min(1, hi); hi > lo {
			on.hide(lo, hi)
		}
	}
	for i := range on.n {
		share += on.hi[i] - on.lo[i]
	}
	return share
}

// free reports whether any of the lane is not hidden yet.
func (w *union) free() bool {
	return w.n == 0 || w.n < len(w.lo) && (w.n > 1 || w.lo[0] > 0 || w.hi[0] < 1)
}

// hide adds a stretch. Those that it meets become one with it.
func (w *union) hide(lo, hi float64) {
	n, at := 0, -1
	for i := range w.n {
		if w.hi[i] < lo {
			at = n
		} else if w.lo[i] <= hi {
			lo, hi = min(lo, w.lo[i]), max(hi, w.hi[i])
			continue
		}
		w.lo[n], w.hi[n] = w.lo[i], w.hi[i]
		n++
	}
	if n == len(w.lo) {
		return
	}
	for i := n; i > at+1; i-- {
		w.lo[i], w.hi[i] = w.lo[i-1], w.hi[i-1]
	}
	w.lo[at+1], w.hi[at+1] = lo, hi
	w.n = n + 1
}
