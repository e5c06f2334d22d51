package measure

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/satin"
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
	piece  *applique.Piece
	admits func(band int32) bool   // bands that may cover it
	hidden func(q geom.Point) bool // whether another piece lies over a place
}

// measureEdge measures how far the satin sewn after the tack-down reaches
// outwards and inwards from it, at every edgeStep mm.
//
// At each place a line is laid square to the tack-down; the stretch of it under
// satin gives the cover to either side. At corners lines fan out, because the
// scissors go round the corner and the satin must too. The edge is covered where
// the outer cover is at least the trim allowance.
func measureEdge(p *Pass, w *edgeWork, out *report.Piece) {
	line, closed := stitchedEdge(p, w.piece), w.piece.Tack.Closed
	sign := 1.0 // which side of the line is outward
	area := geom.PolygonArea(line)
	if area > 0 {
		sign = -1 // counter-clockwise: the inside is on the left
	}
	if w.piece.Hole {
		sign = -sign
	}
	step := edgeStep
	if l := w.piece.Tack.Length; l/step > mostEdge {
		step = l / mostEdge // a damaged file, not an edge
	}
	pts := geom.Resample(line, step)
	if closed && len(pts) > 1 {
		pts = pts[:len(pts)-1]
	}
	n := len(pts)
	reach := max(1, int(edgeChord/step))
	at := func(i int) geom.Point {
		if closed {
			return pts[((i%n)+n)%n]
		}
		return pts[max(0, min(n-1, i))]
	}
	allow := p.Settings.TrimAllowanceMM
	var edge []report.EdgeSample
	look := func(q, normal geom.Point) {
		p.watch.Step(16)
		s := report.EdgeSample{At: q, Outward: normal, Outer: math.Inf(-1), Inner: math.Inf(-1)}
		if hit, ok := p.cover.Along(q, normal, w.admits); ok {
			s.Outer, s.Inner = hit.Hi, -hit.Lo
		}
		if w.hidden(q.Add(normal.Times(allow / 2))) {
			s.State = report.EdgeHidden
		}
		edge = append(edge, s)
	}
	var last geom.Point
	for i := range n {
		dir := at(i + reach).Sub(at(i - reach)).Unit()
		// Close to a corner the chord cuts it; the sides on their own do not.
		back, ahead := at(i).Sub(at(i-2)).Unit(), at(i+2).Sub(at(i)).Unit()
		normal := dir.Left().Times(sign)
		if i > 0 || closed {
			turn := math.Atan2(back.Cross(ahead), back.Dot(ahead))
			if math.Abs(turn) > fanTurn && turn*sign < 0 && math.Abs(turn) < 3 {
				for _, f := range []float64{0.25, 0.5, 0.75} {
					u := geom.Lerp(back, ahead, f).Unit()
					if u.Norm() > 0 {
						look(at(i), u.Left().Times(sign))
					}
				}
				continue
			}
			if math.Abs(turn) > fanTurn {
				continue // an inner corner: the sides beside it tell all
			}
		}
		if normal.Norm() == 0 {
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
func stitchedEdge(p *Pass, w *applique.Piece) []geom.Point {
	if w.Tack.Kind != report.KindOpenZigzag {
		return w.Tack.Line
	}
	var left, right []geom.Point
	for _, b := range w.Tack.Bands {
		// The end stations reach past the stitches, and a tie may pull them aside.
		n := len(p.bands[b].Left)
		left, right = append(left, p.bands[b].Left[min(2, n/2):max(n-2, n/2)]...), append(right, p.bands[b].Right[min(2, n/2):max(n-2, n/2)]...)
	}
	if len(left) < 3 {
		return w.Tack.Line
	}
	if w.Tack.Closed {
		left, right = append(left, left[0]), append(right, right[0])
	}
	if outer := math.Abs(geom.PolygonArea(left)) > math.Abs(geom.PolygonArea(right)); outer != w.Hole {
		return left
	}
	return right
}

// bridged fills in places where the line fell between two columns that a corner
// parts: a stretch without satin no longer than bridgeMM takes the lesser cover of
// its ends.
func bridged(edge []report.EdgeSample) {
	for i := 0; i < len(edge); {
		if !math.IsInf(edge[i].Outer, -1) {
			i++
			continue
		}
		from := i
		for i < len(edge) && math.IsInf(edge[i].Outer, -1) {
			i++
		}
		if from > 0 && i < len(edge) && geom.Distance(edge[from-1].At, edge[i].At) <= bridgeMM {
			a, b := &edge[from-1], &edge[i]
			for j := from; j < i; j++ {
				edge[j].Outer, edge[j].Inner = min(a.Outer, b.Outer), min(a.Inner, b.Inner)
			}
		}
		for j := from; j < i; j++ {
			edge[j].Outer, edge[j].Inner = max(edge[j].Outer, -satin.CoverReachMM), max(edge[j].Inner, -satin.CoverReachMM)
		}
	}
}

// evened takes the rounding of files to 0.1 mm out of the samples, each with its
// neighbours on the same side of a corner, and judges them.
func evened(edge []report.EdgeSample, allow float64) []report.EdgeSample {
	out := slices.Clone(edge)
	for i := range edge {
		s := &out[i]
		if s.State == report.EdgeHidden {
			continue
		}
		var outer, inner, n float64
		for j := max(0, i-evenOver); j <= min(len(edge)-1, i+evenOver); j++ {
			if e := &edge[j]; e.Outward.Dot(s.Outward) > 0.94 && geom.Distance(e.At, s.At) < 1 &&
				math.Abs(e.Outer-s.Outer) < 0.4 && math.Abs(e.Inner-s.Inner) < 0.4 {
				outer, inner, n = outer+e.Outer, inner+e.Inner, n+1
			}
		}
		s.Outer, s.Inner = outer/n, inner/n
		if s.Outer < allow-0.02 || s.Inner < -runsOff {
			s.State = report.EdgeBare
		}
	}
	return out
}

// sumUpEdge fills in the figures that come from the samples.
func sumUpEdge(out *report.Piece, step, allow float64) {
	var outer, inner []float64
	for i := range out.Edge {
		s := &out.Edge[i]
		out.CutEdge = append(out.CutEdge, s.At.Add(s.Outward.Times(allow)))
		if s.State == report.EdgeHidden {
			out.HiddenMM += step
			continue
		}
		outer, inner = append(outer, s.Outer), append(inner, s.Inner)
	}
	if len(outer) > 0 {
		slices.Sort(outer)
		slices.Sort(inner)
		out.OuterCoverMM = report.MinMedian{Min: outer[0], Median: geom.Quantile(outer, 0.5)}
		out.InnerCoverMM = report.MinMedian{Min: inner[0], Median: geom.Quantile(inner, 0.5)}
	}
	bare := func(s *report.EdgeSample) (bool, float64) {
		if s.Inner < -runsOff {
			return s.State == report.EdgeBare, s.Inner // the satin begins outside the edge
		}
		return s.State == report.EdgeBare, s.Outer
	}
	off := func(s *report.EdgeSample) (bool, float64) {
		return s.State != report.EdgeHidden && s.Inner < 0, s.Inner
	}
	out.Gaps = gaps(out.Edge, step, bare)
	settleGrain(out.Edge, out.Gaps)
	out.OffCloth = gaps(out.Edge, step, off)
	for _, g := range out.Gaps {
		out.UncoveredMM += g.LengthMM
	}
}

// settleGrain counts bare places that no gap is near to as covered: they are the
// grain of the stitches.
func settleGrain(edge []report.EdgeSample, gaps []report.Gap) {
	for i := range edge {
		s := &edge[i]
		if s.State != report.EdgeBare {
			continue
		}
		near := func(g report.Gap) bool {
			return geom.Distance(geom.Point{X: g.AtMM[0], Y: g.AtMM[1]}, s.At) <= g.LengthMM
		}
		if !slices.ContainsFunc(gaps, near) {
			s.State = report.EdgeCovered
		}
	}
}

// gaps are the stretches of samples for which in holds; the first and the last
// are joined where both ends of a closed edge belong to one.
func gaps(edge []report.EdgeSample, step float64, in func(*report.EdgeSample) (bool, float64)) []report.Gap {
	out := []report.Gap{}
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
				l += geom.Distance(edge[(start+j-1)%n].At, edge[(start+j)%n].At)
			}
		}
		l += step
		if l >= leastGap {
			out = append(out, report.Gap{LengthMM: l, AtMM: edge[(start+(from+k-1)/2)%n].At.Place(), LeastMM: least})
		}
	}
	return out
}
