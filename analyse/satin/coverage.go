package satin

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/stitches"
)

// alike is the share by which two stretches may differ and be called equal: which is
// thinnest must not hang on rounding.
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
	w.area, w.hidden = w.area[:0], w.hidden[:0]
	for range x {
		w.area, w.hidden = append(w.area, 0), append(w.hidden, 0)
	}
	w.findFolds(x)
	var area, hidden [2]float64
	// Station 1+k lies in the middle of crossings 2k and 2k+1; the first and the last
	// stand past the ends.
	for k := 1; k+2 < len(c.Centre); k++ {
		w.watch.Step(lanes)
		r0, r1, l0, l1 := c.Right[k], c.Right[k+1], c.Left[k], c.Left[k+1]
		across := geom.Middle(l0, l1).Sub(geom.Middle(r0, r1))
		w.threadsOver(x, 2*k-1, [4]geom.Point{r0, r1, l0, l1})
		// Lanes begin on one line and end on another, so all that tells how a thread
		// lies to a lane is linear in the share of the way across.
		side, first := l0.Sub(r0), r1.Sub(r0)
		widens := l1.Sub(l0).Sub(first)
		for i := range w.over {
			w.over[i].lay(r0, side, first, widens)
		}
		j := min(2*k, n-1)
		for i := range lanes {
			f := (float64(i) + 0.5) / lanes
			from := geom.Lerp(r0, l0, f)
			along := geom.Lerp(r1, l1, f).Sub(from)
			ground := math.Abs(along.Cross(across)) / lanes
			if ground == 0 {
				continue
			}
			thread := ground * w.hiddenOn(f, from, along)
			w.area[j] += ground
			w.hidden[j] += thread
			area[i*2/lanes] += ground
			hidden[i*2/lanes] += thread
		}
	}
	share := func(h, a float64) float64 {
		if a <= 0 {
			return 1
		}
		return h / a
	}
	c.Coverage = share(hidden[0]+hidden[1], area[0]+area[1])
	outer := 0
	if area[1] > area[0] {
		outer = 1
	}
	c.CoverageOut, c.CoverageIn = share(hidden[outer], area[outer]), share(hidden[1-outer], area[1-outer])

	// The thinnest stretch: a window of StretchMM moved along the column.
	c.ThinCoverage, c.ThinnestAt = c.Coverage, x[n/2].mid().Place()
	var sa, sh float64
	from := 0
	for j := range x {
		sa += w.area[j]
		sh += w.hidden[j]
		for from < j && w.along[j]-w.along[from+1] >= StretchMM {
			from++
			sa -= w.area[from]
			sh -= w.hidden[from]
		}
		if w.along[j]-w.along[from] >= StretchMM && sa > leastArea {
			if v := share(sh, sa); v < c.ThinCoverage-alike {
				c.ThinCoverage, c.ThinnestAt = v, x[(from+j)/2].mid().Place()
			}
		}
	}
}

// threadsOver notes, nearest first, the threads of the crossings near the one of
// index mid that may hide something between four corners: not those whose whole line
// passes by on one side. Those of a fold follow.
func (w *columnWork) threadsOver(x []crossing, mid int, corners [4]geom.Point) {
	w.over = w.over[:0]
	for d := 0; d <= 2*laneReach; d++ {
		j := mid + (d+1)/2*(1-d%2*2) // mid, and then on either side in turn
		if j >= 0 && j < len(x) {
			w.threadOver(x, j, &corners)
		}
	}
	if !w.folds {
		return
	}
	w.near.Until(geom.BoxOf(corners[:]).Grown(w.laid/2), func(i int32) bool {
		w.watch.Step(1)
		j := int(i)
		if d := j - mid; d >= -laneReach && d <= laneReach || w.met[j] == int32(mid)+1 {
			return false
		}
		w.met[j] = int32(mid) + 1
		w.threadOver(x, j, &corners)
		return len(w.over) > mostOver
	})
}

// mostOver bounds the threads that are looked at over one place of a column. More lie
// there only where it goes over itself a dozen times.
const mostOver = 64

// threadOver notes the thread of crossing j and the steps that led to it.
func (w *columnWork) threadOver(x []crossing, j int, corners *[4]geom.Point) {
	k := &x[j]
	if w.pts == nil {
		w.noteOver(k.a, k.b, corners)
		return
	}
	from := k.first
	if j > 0 && k.first-x[j-1].last <= mostSteps {
		from = x[j-1].last
	}
	for i := from + 1; i <= k.last; i++ {
		w.noteOver(w.pts[i-1], w.pts[i], corners)
	}
}

func (w *columnWork) noteOver(a, b geom.Point, corners *[4]geom.Point) {
	v := b.Sub(a)
	l := v.Norm()
	if l == 0 {
		return
	}
	side := w.laid / 2 * l * (1 + 1e-9) // none is lost to rounding
	above, below := false, false
	for _, c := range corners {
		away := v.Cross(c.Sub(a))
		above, below = above || away <= side, below || away >= -side
	}
	if above && below {
		w.over = append(w.over, over{a: a, u: v.Times(1 / l), l: l})
	}
}

// hiddenOn is the share of a piece of a lane, which lies the share f of the way across,
// that lies under the threads over it.
func (w *columnWork) hiddenOn(f float64, from, along geom.Point) float64 {
	on := &w.lane
	on.from, on.along, on.length2, on.length, on.half, on.cap, on.n = from, along, along.Dot(along), 0, w.laid/2, endCap*w.laid, 0
	for i := 0; i < len(w.over) && on.free(); i++ {
		on.under(&w.over[i], f)
	}
	return on.hidden()
}

// mostSteps bounds the stitches from one crossing to the next that belong to a column.
const mostSteps = 4

// foldCell is the side of the squares in mm, on the design as it is, in which a column
// that comes back over itself meets its own crossings again.
const foldCell = 1.0

// findFolds finds out whether a column lies over itself anywhere, and if so where its
// crossings are.
func (w *columnWork) findFolds(x []crossing) {
	w.folds = false
	// To clear a map that was large once costs as if it still were.
	if most := max(len(x), 64); w.seen == nil || w.mostSeen > 8*most {
		w.seen, w.mostSeen = make(map[[2]int32]int), 0
	}
	clear(w.seen)
	// The same cells at every scale, whatever arithmetic leaves: what lies over itself does
	// so however large it is sewn.
	cell := func(v float64) int32 { return int32(math.Floor(v/(foldCell*w.scale) + 1e-9)) }
	var here [2]int32
	for j := range x {
		m := x[j].mid()
		at := [2]int32{cell(m.X), cell(m.Y)}
		if j > 0 && at == here {
			continue
		}
		if j > 0 {
			w.seen[here] = j - 1
		}
		if last, ok := w.seen[at]; ok && j-last > 2*laneReach {
			w.folds = true
			break
		}
		here = at
	}
	w.mostSeen = max(w.mostSeen, len(w.seen))
	if w.folds {
		w.met = append(w.met[:0], make([]int32, len(x))...)
		w.near = geom.NewCells(foldCell, len(x), func(j int) geom.Box { return geom.BoxOf([]geom.Point{x[j].a, x[j].b}) })
	}
}

// over is a thread from hole to hole, and how it lies to the lanes of a place: how far
// to the side of it and how far along it the first lane begins, how much further the
// lane goes, and how both change from the first lane to the last.
type over struct {
	a, u geom.Point // u is a unit vector
	l    float64

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

// underlay lists the kinds of stitching that lie under the column and were sewn
// before it in the same thread path.
func underlay(s *stitches.Sewn, passage int, c *report.SatinColumn) []report.Kind {
	const looked, samples, reach = 6, 8, 200
	out := []report.Kind{}
	pts := s.Track.Pts
	g := &s.Passages[passage]
	step := 1 + len(c.Centre)/reach
	slack := 0.3 + float64(step-1)*c.Pitch.Median/2
	for k := passage - 1; k >= 0 && k >= passage-looked; k-- {
		u := &s.Passages[k]
		if u.Stop != g.Stop {
			break
		}
		if u.Kind == report.KindTie || u.Kind == report.KindTravel || u.LengthMM < 0.5*c.LengthMM {
			continue
		}
		under := 0
		for i := range samples {
			q := pts[u.From+(u.To-1-u.From)*i/(samples-1)]
			for j := 0; j < len(c.Centre); j += step {
				if geom.Distance(q, c.Centre[j]) <= geom.Distance(c.Left[j], c.Right[j])/2+slack {
					under++
					break
				}
			}
		}
		if 2*under > samples {
			out = append(out, u.Kind)
		}
	}
	return out
}
