package geom

import (
	"math"
	"slices"
	"sort"
)

// Corners says how an outline that is pushed out turns at a corner.
type Corners uint8

const (
	SharpCorners Corners = iota // both sides go on until they meet, as scissors cut
	RoundCorners                // all of it equally far from the outline
)

const (
	// tipMost is how many times further out than the sides a sharp corner may
	// stand. Corners of 60 degrees stand out twice as far, which is where polygon
	// libraries commonly stop; a little more bears the rounding of files. The points
	// of narrower ones are snipped off square, no further out than the sides (common
	// practice, no single source: a needle of cloth is held by nothing).
	tipMost = 2.05

	leastTurn   = 0.2  // radians: corners that turn less are the same, round or sharp
	offsetGrain = 0.02 // mm by which outlines are simplified before they are pushed out
	mostCorners = 8192 // of an outline; more cost precision, not time
	fieldCell   = 0.25 // mm between the places where distances are worked out
	cellShare   = 8    // of the offset that a cell may be
	mostNodes   = 1 << 21
	mostSteps   = 1 << 23 // distances looked at before an outline is given up: no cloth has an edge of 80 m
)

var cosLeastTurn = math.Cos(leastTurn)

// Offset gives the outlines of all that lies no further than d mm from closed
// lines or inside them; with a negative d, of what lies inside them and further
// than -d from them. What is outlined lies to the left: outer outlines run
// counter-clockwise, those of pockets clockwise. Each repeats its first point; the
// largest is first.
//
// It is the contour of a field of distances, so lines may cross themselves, run
// over themselves and run either way round. They are right to 0.02 mm
// where two sides or a corner make them. Nil is given for lines that enclose nothing and for ones too long to be worked out.
func Offset(lines [][]Point, d float64, c Corners) [][]Point {
	if d == 0 {
		return asTheyAre(lines)
	}
	f := newField(lines, d)
	if f == nil {
		return nil
	}
	defer f.done()
	var out [][]Point
	f.contour(d, func(loop []contourPoint) {
		loop = f.creased(loop)
		if c == SharpCorners {
			loop = f.sharpened(loop, d)
		}
		pts := slices.Grow(f.pts[:0], len(loop)+1)
		for i := range loop {
			pts = append(pts, loop[i].at)
		}
		pts = append(pts, pts[0])
		f.pts = pts
		ring := Simplify(pts, 0.01)
		if len(ring) == len(pts) {
			ring = slices.Clone(ring) // it may be those points themselves
		}
		if len(ring) > 3 {
			out = append(out, ring)
		}
	})
	sort.SliceStable(out, func(i, j int) bool { return PolygonArea(out[j]) < PolygonArea(out[i]) })
	return out
}

// asTheyAre are the lines that enclose something, closed and run counter-clockwise.
func asTheyAre(lines [][]Point) [][]Point {
	var out [][]Point
	for _, l := range lines {
		if len(l) < 3 || PolygonArea(l) == 0 {
			continue
		}
		l = slices.Clone(l)
		if l[0] != l[len(l)-1] {
			l = append(l, l[0])
		}
		if PolygonArea(l) < 0 {
			slices.Reverse(l)
		}
		out = append(out, l)
	}
	return out
}

// creased puts the place where two sides meet between the last point of one and the
// first of the other: the grid cuts across it.
func (f *field) creased(loop []contourPoint) []contourPoint {
	out := slices.Grow(f.creases[:0], len(loop)+8)
	for i := range loop {
		p, q := &loop[i], &loop[(i+1)%len(loop)]
		out = append(out, *p)
		if p.corner || q.corner || p.side == q.side {
			continue
		}
		a, b := f.sides[p.side].b.Sub(f.sides[p.side].a).Unit(), f.sides[q.side].b.Sub(f.sides[q.side].a).Unit()
		if cos := a.Dot(b); math.Abs(cos) > cosLeastTurn {
			continue
		}
		at := p.at.Add(a.Times(q.at.Sub(p.at).Cross(b) / a.Cross(b)))
		if slack := 4 * f.cell; Distance(at, p.at) < slack && Distance(at, q.at) < slack {
			out = append(out, contourPoint{at, p.side, false})
		}
	}
	f.creases = out
	return out
}

// sharpened puts a tip in the place of each arc round a corner.
func (f *field) sharpened(loop []contourPoint, d float64) []contourPoint {
	n := len(loop)
	same := func(a, b *contourPoint) bool { return a.corner && b.corner && a.side == b.side }
	start := 0
	for start < n && same(&loop[start], &loop[(start+n-1)%n]) {
		start++
	}
	if start == n {
		return loop // a circle round one place
	}
	out := slices.Grow(f.loop[:0], n+8) // where the points before creased them were
	for k := 0; k < n; {
		p := &loop[(start+k)%n]
		from := k
		for k++; k < n && same(p, &loop[(start+k)%n]); k++ {
		}
		if tip := f.tip(p.side, math.Abs(d), p.at, loop[(start+k-1)%n].at); p.corner && tip != nil {
			for _, q := range tip {
				out = append(out, contourPoint{q, p.side, true})
			}
			continue
		}
		for j := from; j < k; j++ {
			out = append(out, loop[(start+j)%n])
		}
	}
	f.loop = out
	return out
}

// tip is the sharp corner at the beginning of a side, where a contour goes round it
// at distance d from first to last; nil where it is none.
func (f *field) tip(side int32, d float64, first, last Point) []Point {
	s := &f.sides[side]
	v := s.a
	n1, n2 := v.Sub(f.sides[s.prev].a).Unit().Left(), s.b.Sub(v).Unit().Left()
	if m := n1.Add(n2); m.Dot(first.Add(last).Sub(v.Times(2))) < 0 {
		n1, n2 = n1.Times(-1), n2.Times(-1)
	}
	cos := n1.Dot(n2)
	if cos > cosLeastTurn || cos < -0.9999 {
		return nil
	}
	if n1.Cross(n2)*first.Sub(v).Cross(last.Sub(v)) < 0 {
		n1, n2 = n2, n1
	}
	a, b := v.Add(n1.Times(d)), v.Add(n2.Times(d))
	if slack := 2.5 * f.cell; Distance(a, first) > slack || Distance(b, last) > slack {
		return nil // something else lies in the way
	}
	m := n1.Add(n2)
	t := v.Add(m.Times(d / (1 + cos)))
	if out := Distance(t, v); out > tipMost*d {
		k := (out - d) / (out - m.Norm()/2*d)
		return []Point{Lerp(t, a, k), Lerp(t, b, k)}
	}
	return []Point{t}
}
