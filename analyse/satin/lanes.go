package satin

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
)

// thread is a thread from hole to hole.
type thread struct {
	a, u geom.Point // u is a unit vector
	l    float64
}

// over is a thread and how it lies to the lanes of a place: how far to the side of it
// and how far along it the first lane begins, how much further the lane goes, and how
// both change from the first lane to the last.
type over struct {
	thread

	beside, besideBy, turns, turnsBy float64
	along, alongBy, goes, goesBy     float64
}

// lay works out how a thread lies to lanes whose first begins at from; side leads to
// the beginning of the last, first along the first, and widens is by what the last one
// is longer.
func (t *over) lay(from, side, first, widens geom.Point) {
	v := from.Sub(t.a)
	t.beside, t.besideBy, t.turns, t.turnsBy = t.u.Cross(v), t.u.Cross(side), t.u.Cross(first), t.u.Cross(widens)
	t.along, t.alongBy, t.goes, t.goesBy = t.u.Dot(v), t.u.Dot(side), t.u.Dot(first), t.u.Dot(widens)
}

// laneWork is a piece of a lane with the stretches of it that threads hide, as shares of
// it, apart from one another and in order.
type laneWork struct {
	from, along     geom.Point
	length, length2 float64 // mm, 0 before it is asked for, and mm2
	half, cap       float64
	n               int
	lo, hi          [8]float64
}

// free reports whether any of it is not hidden yet.
func (w *laneWork) free() bool {
	return w.n == 0 || w.n < len(w.lo) && (w.n > 1 || w.lo[0] > 0 || w.hi[0] < 1)
}

func (w *laneWork) hidden() (share float64) {
	for i := range w.n {
		share += w.hi[i] - w.lo[i]
	}
	return share
}

// under adds what a thread hides, on the lane the share f of the way across. Mostly the
// lane crosses the thread about one place, away from its ends; then it is in closed form.
func (w *laneWork) under(t *over, f float64) {
	beside, turns := t.beside+f*t.besideBy, t.turns+f*t.turnsBy
	if turns*turns <= 1e-18*w.length2 {
		w.underEnds(t)
		return
	}
	per := 1 / turns
	mid, wide := -beside*per, w.half*math.Abs(per)
	lo, hi := mid-wide, mid+wide
	if hi <= 0 || lo >= 1 {
		return
	}
	goes := t.goes + f*t.goesBy
	at, reach := t.along+f*t.alongBy+mid*goes, wide*math.Abs(goes)
	if at-reach < -w.cap || at+reach > t.l+w.cap || lo < 0 && w.before(t) || hi > 1 && w.after(t) {
		w.underEnds(t)
		return
	}
	w.hide(max(0, lo), min(1, hi))
}

// before and after report whether a thread lies wholly before or after the lane.
func (w *laneWork) before(t *over) bool {
	a, u := t.a.Sub(w.from).Dot(w.along), t.u.Dot(w.along)
	end := -w.half * w.mm()
	return a < end && a+t.l*u < end
}

func (w *laneWork) after(t *over) bool {
	a, u := t.a.Sub(w.from).Dot(w.along), t.u.Dot(w.along)
	end := w.length2 + w.half*w.mm()
	return a > end && a+t.l*u > end
}

// mm is the length of the lane.
func (w *laneWork) mm() float64 {
	if w.length == 0 {
		w.length = math.Sqrt(w.length2)
	}
	return w.length
}

// underEnds is under for any thread.
func (w *laneWork) underEnds(t *over) {
	// Along the lane and across it.
	u := w.along.Times(1 / w.mm())
	a := t.a.Sub(w.from)
	ax, ay, vx, vy := a.Dot(u), u.Cross(a), t.u.Dot(u), u.Cross(t.u)
	bx, by := ax+t.l*vx, ay+t.l*vy
	if far := w.length + w.half; ax < -w.half && bx < -w.half || ax > far && bx > far || ay < -w.half && by < -w.half || ay > w.half && by > w.half {
		return
	}
	// Places x past ax with -cap <= x vx - ay vy <= l + cap and |x vy + ay vx| <= half.
	lo, hi := geom.Clip(vx, -ay*vy, -w.cap, t.l+w.cap)
	lo2, hi2 := geom.Clip(vy, ay*vx, -w.half, w.half)
	lo, hi = max(0, max(lo, lo2)+ax), min(w.length, min(hi, hi2)+ax)
	if hi > lo {
		w.hide(lo/w.length, hi/w.length)
	}
}

// hide adds a stretch. Those that it meets become one with it.
func (w *laneWork) hide(lo, hi float64) {
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
