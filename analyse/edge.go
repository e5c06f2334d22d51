package analyse

import (
	"math"
	"slices"
)

const (
	edgeStep  = 0.25  // mm between places where the cover is measured
	edgeChord = 1.0   // mm to either side that give the direction of the edge
	fanTurn   = 0.35  // radians: corners that turn more are looked at from several sides
	bridgeMM  = 1.2   // mm of edge between two columns that meet at a corner
	leastGap  = 0.5   // mm of edge; shorter gaps are the grain of the stitches
	runsOff   = 0.3   // mm that the satin may leave free inside before it counts as off the cloth
	mostEdge  = 8_000 // places on one edge; 2 m of it
	evenOver  = 3     // samples to either side that are averaged
)

// edgeWork is one edge to be measured.
type edgeWork struct {
	piece  *pieceWork
	admits func(band int32) bool // bands that may cover it
	hidden func(q Point) bool    // whether another piece lies over a place
}

// measureEdge measures how far the satin sewn after the tack-down reaches
// outwards and inwards from it, at every edgeStep mm.
//
// At each place a line is laid square to the tack-down; the stretch of it under
// satin gives the cover to either side. At corners lines fan out, because the
// scissors go round the corner and the satin must too. The edge is covered where
// the outer cover is at least the trim allowance.
func measureEdge(p *Pass, w *edgeWork, out *Piece) {
	line, closed := stitchedEdge(p, w.piece), w.piece.tack.closed
	sign := 1.0 // which side of the line is outward
	area := polygonArea(line)
	if area > 0 {
		sign = -1 // counter-clockwise: the inside is on the left
	}
	if w.piece.hole {
		sign = -sign
	}
	step := edgeStep
	if l := w.piece.tack.length; l/step > mostEdge {
		step = l / mostEdge // a damaged file, not an edge
	}
	pts := resample(line, step)
	if closed && len(pts) > 1 {
		pts = pts[:len(pts)-1]
	}
	n := len(pts)
	reach := max(1, int(edgeChord/step))
	at := func(i int) Point {
		if closed {
			return pts[((i%n)+n)%n]
		}
		return pts[max(0, min(n-1, i))]
	}
	allow := p.Settings.TrimAllowanceMM
	var edge []EdgeSample
	look := func(q, normal Point) {
		s := EdgeSample{At: q, Outward: normal, Outer: math.Inf(-1), Inner: math.Inf(-1)}
		if hit, ok := p.cover.along(q, normal, w.admits); ok {
			s.Outer, s.Inner = hit.hi, -hit.lo
		}
		if w.hidden(q.add(normal.times(allow / 2))) {
			s.State = EdgeHidden
		}
		edge = append(edge, s)
	}
	var last Point
	for i := range n {
		dir := at(i + reach).sub(at(i - reach)).unit()
		// Close to a corner the chord cuts it; the sides on their own do not.
		back, ahead := at(i).sub(at(i-2)).unit(), at(i+2).sub(at(i)).unit()
		normal := dir.left().times(sign)
		if i > 0 || closed {
			turn := math.Atan2(back.cross(ahead), back.dot(ahead))
			if math.Abs(turn) > fanTurn && turn*sign < 0 && math.Abs(turn) < 3 {
				for _, f := range []float64{0.25, 0.5, 0.75} {
					u := lerp(back, ahead, f).unit()
					if u.norm() > 0 {
						look(at(i), u.left().times(sign))
					}
				}
				continue
			}
			if math.Abs(turn) > fanTurn {
				continue // an inner corner: the sides beside it tell all
			}
		}
		if normal.norm() == 0 {
			normal = last
		}
		last = normal
		look(at(i), normal)
	}
	bridged(edge)
	out.Edge = append(out.Edge, evened(edge, allow)...)
}

// stitchedEdge is the outermost line of the tack-down's stitches: the line of a
// run, the outer rail of a zigzag. Scissors go along it.
func stitchedEdge(p *Pass, w *pieceWork) []Point {
	if w.tack.kind != KindOpenZigzag {
		return w.tack.line
	}
	var left, right []Point
	for _, b := range w.tack.bands {
		// The end stations reach past the stitches, and a tie may pull them aside.
		n := len(p.bands[b].Left)
		left, right = append(left, p.bands[b].Left[min(2, n/2):max(n-2, n/2)]...), append(right, p.bands[b].Right[min(2, n/2):max(n-2, n/2)]...)
	}
	if len(left) < 3 {
		return w.tack.line
	}
	if w.tack.closed {
		left, right = append(left, left[0]), append(right, right[0])
	}
	if outer := math.Abs(polygonArea(left)) > math.Abs(polygonArea(right)); outer != w.hole {
		return left
	}
	return right
}

// bridged fills in places where the line fell between two columns that a corner
// parts: a stretch without satin no longer than bridgeMM takes the lesser cover of
// its ends.
func bridged(edge []EdgeSample) {
	for i := 0; i < len(edge); {
		if !math.IsInf(edge[i].Outer, -1) {
			i++
			continue
		}
		from := i
		for i < len(edge) && math.IsInf(edge[i].Outer, -1) {
			i++
		}
		if from > 0 && i < len(edge) && distance(edge[from-1].At, edge[i].At) <= bridgeMM {
			a, b := &edge[from-1], &edge[i]
			for j := from; j < i; j++ {
				edge[j].Outer, edge[j].Inner = min(a.Outer, b.Outer), min(a.Inner, b.Inner)
			}
		}
		for j := from; j < i; j++ {
			edge[j].Outer, edge[j].Inner = max(edge[j].Outer, -CoverReachMM), max(edge[j].Inner, -CoverReachMM)
		}
	}
}

// evened takes the rounding of files to 0.1 mm out of the samples, each with its
// neighbours on the same side of a corner, and judges them.
func evened(edge []EdgeSample, allow float64) []EdgeSample {
	out := slices.Clone(edge)
	for i := range edge {
		s := &out[i]
		if s.State == EdgeHidden {
			continue
		}
		var outer, inner, n float64
		for j := max(0, i-evenOver); j <= min(len(edge)-1, i+evenOver); j++ {
			if e := &edge[j]; e.Outward.dot(s.Outward) > 0.94 && distance(e.At, s.At) < 1 &&
				math.Abs(e.Outer-s.Outer) < 0.4 && math.Abs(e.Inner-s.Inner) < 0.4 {
				outer, inner, n = outer+e.Outer, inner+e.Inner, n+1
			}
		}
		s.Outer, s.Inner = outer/n, inner/n
		if s.Outer < allow-0.02 || s.Inner < -runsOff {
			s.State = EdgeBare
		}
	}
	return out
}

// sumUpEdge fills in the figures that come from the samples.
func sumUpEdge(out *Piece, step, allow float64) {
	var outer, inner []float64
	for i := range out.Edge {
		s := &out.Edge[i]
		out.CutEdge = append(out.CutEdge, s.At.add(s.Outward.times(allow)))
		if s.State == EdgeHidden {
			out.HiddenMM += step
			continue
		}
		outer, inner = append(outer, s.Outer), append(inner, s.Inner)
	}
	if len(outer) > 0 {
		slices.Sort(outer)
		slices.Sort(inner)
		out.OuterCoverMM = MinMedian{outer[0], quantile(outer, 0.5)}
		out.InnerCoverMM = MinMedian{inner[0], quantile(inner, 0.5)}
	}
	bare := func(s *EdgeSample) (bool, float64) {
		if s.Inner < -runsOff {
			return s.State == EdgeBare, s.Inner // the satin begins outside the edge
		}
		return s.State == EdgeBare, s.Outer
	}
	off := func(s *EdgeSample) (bool, float64) { return s.State != EdgeHidden && s.Inner < 0, s.Inner }
	out.Gaps = gaps(out.Edge, step, bare)
	settleGrain(out.Edge, out.Gaps)
	out.OffCloth = gaps(out.Edge, step, off)
	for _, g := range out.Gaps {
		out.UncoveredMM += g.LengthMM
	}
}

// settleGrain counts bare places that no gap is near to as covered: they are the
// grain of the stitches.
func settleGrain(edge []EdgeSample, gaps []Gap) {
	for i := range edge {
		s := &edge[i]
		if s.State != EdgeBare {
			continue
		}
		near := func(g Gap) bool {
			return distance(Point{g.AtMM[0], g.AtMM[1]}, s.At) <= g.LengthMM
		}
		if !slices.ContainsFunc(gaps, near) {
			s.State = EdgeCovered
		}
	}
}

// gaps are the stretches of samples for which in holds; the first and the last
// are joined where both ends of a closed edge belong to one.
func gaps(edge []EdgeSample, step float64, in func(*EdgeSample) (bool, float64)) []Gap {
	out := []Gap{}
	n := len(edge)
	start := 0
	for start < n {
		if ok, _ := in(&edge[start]); !ok {
			break
		}
		start++
	}
	if start == n {
		start = 0 // all of it
	}
	for k := 0; k < n; {
		i := (start + k) % n
		if ok, _ := in(&edge[i]); !ok {
			k++
			continue
		}
		least := math.Inf(1)
		from := k
		for k < n {
			ok, v := in(&edge[(start+k)%n])
			if !ok {
				break
			}
			least = min(least, v)
			k++
		}
		l := 0.0
		for j := from; j < k; j++ {
			if j > from {
				l += distance(edge[(start+j-1)%n].At, edge[(start+j)%n].At)
			}
		}
		l += step
		if l >= leastGap {
			out = append(out, Gap{LengthMM: l, AtMM: edge[(start+(from+k-1)/2)%n].At.place(), LeastMM: least})
		}
	}
	return out
}
