package satin

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
)

// What threads hide of the lanes of a place must be what lies under them point by point,
// whether they come in order or not, cross the lanes, end amid them or run along them.
func TestLanesPointByPoint(t *testing.T) {
	const laid, samples = 0.3, 500
	rnd := rand.New(rand.NewPCG(3, 5))
	near := func(x, y, by float64) geom.Point {
		return geom.Point{X: x + by*(rnd.Float64()-0.5), Y: y + by*(rnd.Float64()-0.5)}
	}
	type seg struct{ a, b geom.Point }
	looked, disordered := 0, 0
	for try := range 500 {
		width := 0.5 + 4*rnd.Float64()
		at := place{near(0, 0, 0.1), near(0.4, 0, 0.1), near(0, width, 0.1), near(0.4, width, 0.1)}
		var x []crossing
		var segs []seg
		for s := -0.4; s < 0.9 && len(x) < 2*laneReach; s += 0.1 + 0.2*rnd.Float64() {
			a, b := near(s, 0, 0.2), near(s+0.1, width, 0.2)
			switch try % 5 {
			case 1:
				b = geom.Lerp(a, b, rnd.Float64()) // it stops short
			case 2:
				a, b = near(0.2, width/2, 1), near(0.2, width/2, 1) // it lies anyhow
			case 4:
				a = near(-0.3+rnd.Float64(), width*rnd.Float64(), 0.2) // a short one
				b = near(a.X, a.Y, 0.5)
			}
			if rnd.IntN(2) == 0 {
				a, b = b, a
			}
			x, segs = append(x, crossing{a: a, b: b}), append(segs, seg{a, b})
		}
		if try%5 == 3 {
			rnd.Shuffle(len(x), func(i, j int) { x[i], x[j] = x[j], x[i] })
		}
		w := columnWork{laid: laid, scale: 1}
		w.layThreads(x, 0, len(x))
		w.hideUnder(x, len(x)/2, at)
		looked += len(w.over)
		for i, f := range laneAt {
			from, to := geom.Lerp(at.r0, at.l0, f), geom.Lerp(at.r1, at.l1, f)
			under := 0
			for k := range samples {
				q := geom.Lerp(from, to, (float64(k)+0.5)/samples)
				for _, s := range segs {
					if liesUnder(q, s.a, s.b, from, to, laid) {
						under++
						break
					}
				}
			}
			got := w.lane.at[i].hidden()
			if got < 1 && w.lane.at[i].disordered {
				disordered++
				got = w.lane.hiddenAmid(w.over, f)
			}
			if want := float64(under) / samples; math.Abs(got-want) > 0.006 {
				t.Fatalf("try %d, lane %d: %.4f hidden, want %.4f", try, i, got, want)
			}
		}
	}
	if looked == 0 || disordered == 0 {
		t.Errorf("%d threads, %d lanes with threads in no order: both must be looked at", looked, disordered)
	}
}

// liesUnder reports whether a point of a lane lies under a thread from a to b: beside it by
// no more than half of what it lies wide, or in its round end, which counts as a
// rectangle. A thread that without its ends lies further off on one side of the lane, or
// before it or past it, hides nothing of it.
func liesUnder(q, a, b, from, to geom.Point, laid float64) bool {
	half, round := laid/2, math.Pi/8*laid
	u, lane := b.Sub(a).Unit(), to.Sub(from).Unit()
	along := q.Sub(a).Dot(u)
	if math.Abs(u.Cross(q.Sub(a))) > half || along < -round || along > geom.Distance(a, b)+round {
		return false
	}
	out := func(v, w float64) bool { return v < -half && w < -half || v > half && w > half }
	if out(lane.Cross(a.Sub(from)), lane.Cross(b.Sub(from))) {
		return false
	}
	before := a.Sub(from).Dot(lane) < -half && b.Sub(from).Dot(lane) < -half
	past := a.Sub(to).Dot(lane) > half && b.Sub(to).Dot(lane) > half
	return !before && !past
}
