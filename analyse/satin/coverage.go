package satin

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// alike is the share by which two stretches or halves may differ and be called equal:
// which is thinnest, or on the outside, must not hang on rounding.
const alike = 1e-9

// leastArea is the ground, in mm2, of which a share is worth telling.
const leastArea = 1.0

const (
	lanes     = 16 // lines along the column its coverage is measured on
	laneReach = 6  // crossings to either side that may reach into a place
)

// endCap is how far, in laid widths, a thread reaches past its hole: its round
// end has the area of a rectangle of pi/8.
const endCap = math.Pi / 8

// cover measures the coverage of a column by area: the share of the cloth
// between its rails that lies under at least one of its threads, each as wide
// as Settings.LaidWidth.
//
// The ground is cut at the stations of the column, and between two of them into
// lanes that keep the same share of the way from rail to rail. On each lane the
// stretches are united that lie under the threads of the crossings nearby, from hole
// to hole, however they lean or stop short. For plain satin of pitch p this sums to
// 1 - (1 - w/p)^2 in the limit of a wide column.
func (w *columnWork) cover(x []crossing, c *report.SatinColumn) {
	n := len(x)
	places := n/2 + 1
	w.area, w.hidden = slices.Grow(w.area[:0], places)[:places], slices.Grow(w.hidden[:0], places)[:places]
	clear(w.area)
	clear(w.hidden)
	w.findFolds(x)
	atOnce := len(x)
	if !w.folds {
		atOnce = placesAtOnce
	}
	var area, hidden [2]float64
	var again repeats
	var here placeGround
	// Station 1+k lies in the middle of crossings 2k and 2k+1; the first and the last
	// stand past the ends.
	for k := 1; k+2 < len(c.Centre); k++ {
		w.watch.Step(lanes)
		if (k-1)%atOnce == 0 {
			w.layThreads(x, 2*k-1-laneReach, 2*(k+atOnce-1)+laneReach)
		}
		if again.at(w, x, c, k) {
			w.begun = 0
		} else {
			at := place{c.Right[k], c.Right[k+1], c.Left[k], c.Left[k+1]}
			w.hideUnder(x, 2*k-1, at)
			here = w.groundOf(&at)
		}
		for half := range area {
			area[half] += here.area[half]
			hidden[half] += here.hidden[half]
			w.area[k] += here.area[half]
			w.hidden[k] += here.hidden[half]
		}
	}
	share := func(h, a float64) float64 {
		if a <= 0 {
			return 1
		}
		return h / a
	}
	c.Coverage = share(hidden[0]+hidden[1], area[0]+area[1])
	outer := 0 // of a straight column, too
	if area[1] > area[0]*(1+alike) {
		outer = 1
	}
	c.CoverageOut, c.CoverageIn = share(hidden[outer], area[outer]), share(hidden[1-outer], area[1-outer])

	// The thinnest stretch: a window of StretchMM moved along the column.
	c.ThinCoverage, c.ThinnestAt = c.Coverage, x[n/2].mid().Place()
	var sa, sh float64
	from := 0
	for j := range x {
		if j%2 == 0 { // where place j/2 ends
			sa += w.area[j/2]
			sh += w.hidden[j/2]
		}
		for from < j && w.along[j]-w.along[from+1] >= StretchMM {
			if from++; from%2 == 0 {
				sa -= w.area[from/2]
				sh -= w.hidden[from/2]
			}
		}
		if w.along[j]-w.along[from] >= StretchMM && sa > leastArea {
			if v := share(sh, sa); v < c.ThinCoverage-alike {
				c.ThinCoverage, c.ThinnestAt = v, x[(from+j)/2].mid().Place()
			}
		}
	}
}

// place is the ground between two stations: where the right rail and the left one
// begin and end.
type place struct{ r0, r1, l0, l1 geom.Point }

// placeGround is the ground of a place and what of it is hidden, mm2, on its right half
// and on its left one.
type placeGround struct{ area, hidden [2]float64 }

// groundOf sums up the lanes of a place, which were put under threads.
func (w *columnWork) groundOf(at *place) (g placeGround) {
	across := geom.Middle(at.l0, at.l1).Sub(geom.Middle(at.r0, at.r1))
	// The ground of a lane is linear in the share of the way across, too.
	right, left := at.r1.Sub(at.r0), at.l1.Sub(at.l0)
	ground, groundBy := right.Cross(across), left.Sub(right).Cross(across)
	for half := range g.area {
		for i := half * lanes / 2; i < (half+1)*lanes/2; i++ {
			ground := math.Abs(ground+laneAt[i]*groundBy) / lanes
			at := &w.lane.at[i]
			share := at.hidden()
			if share < 1 && at.disordered {
				share = w.lane.hiddenAmid(w.over, laneAt[i])
			}
			g.area[half] += ground
			g.hidden[half] += ground * share
		}
	}
	return g
}

// sides is how far to the left of a thread the right and the left end of a station lie.
type sides struct{ right, left float64 }

func (t *thread) sides(right, left geom.Point) sides { return sides{t.beside(right), t.beside(left)} }

// hideUnder puts the lanes of a place under the threads of the crossings near the one
// of index mid, in their order, and notes those that may hide something: not those
// whose whole line passes by on one side. Threads of a fold follow where any of the
// place is bare.
func (w *columnWork) hideUnder(x []crossing, mid int, at place) {
	w.over = w.over[:0]
	w.lane.clear(w.laid)
	from, to := w.threadsOf[max(0, mid-laneReach)-w.base], w.threadsOf[min(len(x), mid+laneReach+1)-w.base]
	side := w.side()
	for i := from; i < to; i++ {
		t := &w.threads[i]
		begin := w.begin[i] // where the place before ended, as the thread sees it
		if i >= w.begun {
			begin = t.sides(at.r0, at.l0)
		}
		end := t.sides(at.r1, at.l1)
		w.begin[i] = end
		if !begin.passes(end, side) {
			w.threadOver(t, begin, end, &at)
		}
	}
	w.begun = max(w.begun, to)
	for i := range w.over {
		w.lane.under(&w.over[i])
	}
	if !w.folds || w.lane.whole() {
		return
	}
	near := len(w.over)
	w.near.Until(geom.BoxOf([]geom.Point{at.r0, at.r1, at.l0, at.l1}).Grown(w.laid/2), func(i int32) bool {
		w.watch.Step(1)
		j := int(i)
		if d := j - mid; d >= -laneReach && d <= laneReach || w.met[j] == int32(mid)+1 {
			return false
		}
		w.met[j] = int32(mid) + 1
		for i := w.threadsOf[j]; i < w.threadsOf[j+1]; i++ {
			t := &w.threads[i]
			if begin, end := t.sides(at.r0, at.l0), t.sides(at.r1, at.l1); !begin.passes(end, side) {
				w.threadOver(t, begin, end, &at)
			}
		}
		return len(w.over) > mostOver
	})
	for i := near; i < len(w.over); i++ {
		w.lane.under(&w.over[i])
	}
}

// side is how far to the side of its line a thread may hide something, in mm.
func (w *columnWork) side() float64 { return w.laid / 2 * (1 + 1e-9) } // none is lost to rounding

// passes reports whether two stations lie on one side of a thread, further than side.
func (s sides) passes(t sides, side float64) bool {
	if s.right > side {
		return s.left > side && t.right > side && t.left > side
	}
	return s.right < -side && s.left < -side && t.right < -side && t.left < -side
}

// threadOver notes a thread and how the stations at both ends of a place lie to it.
func (w *columnWork) threadOver(t *thread, begin, end sides, at *place) {
	n := len(w.over)
	w.over = slices.Grow(w.over, 1)[:n+1]
	o := &w.over[n]
	o.l, o.beside, o.besideBy, o.turns = t.l, begin.right, begin.left-begin.right, end.right-begin.right
	o.turnsBy = end.left - begin.left - o.turns
	o.along, o.alongBy, o.goes = t.u.Dot(at.r0)-t.along, t.u.Dot(at.l0.Sub(at.r0)), t.u.Dot(at.r1.Sub(at.r0))
	o.goesBy = t.u.Dot(at.l1.Sub(at.l0)) - o.goes
}

// mostOver bounds the threads that are looked at over one place of a column. More lie
// there only where it goes over itself a dozen times.
const mostOver = 64

// placesAtOnce is for how many places of a column its threads are laid in one go, so that
// they stay near at hand; of a column that lies over itself it is for all.
const placesAtOnce = 128

// layThreads lists the threads of the crossings from one to another, each with the steps
// that led to it.
func (w *columnWork) layThreads(x []crossing, from, to int) {
	from, to = max(0, from), min(len(x), to)
	w.base = from
	w.threads, w.threadsOf = slices.Grow(w.threads[:0], to-from), append(slices.Grow(w.threadsOf[:0], to-from+1), 0)
	add := func(a, b geom.Point) {
		v := b.Sub(a)
		if l := v.Norm(); l > 0 {
			u := v.Times(1 / l)
			w.threads = append(w.threads, thread{u, l, u.Cross(a), u.Dot(a)})
		}
	}
	for j := from; j < to; j++ {
		k := &x[j]
		if w.pts == nil {
			add(k.a, k.b)
		} else {
			from := k.first
			if j > 0 && k.first-x[j-1].last <= mostSteps {
				from = x[j-1].last
			}
			for i := from + 1; i <= k.last; i++ {
				add(w.pts[i-1], w.pts[i])
			}
		}
		w.threadsOf = append(w.threadsOf, int32(len(w.threads)))
	}
	w.begin, w.begun = slices.Grow(w.begin[:0], len(w.threads))[:len(w.threads)], 0
}

// mostSteps bounds the stitches from one crossing to the next that belong to a column.
const mostSteps = 4
