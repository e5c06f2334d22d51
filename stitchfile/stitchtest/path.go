package stitchtest

import "math"

// Point is a place in millimetres, X to the right and Y up.
type Point struct{ X, Y float64 }

func (p Point) add(q Point) Point      { return Point{p.X + q.X, p.Y + q.Y} }
func (p Point) sub(q Point) Point      { return Point{p.X - q.X, p.Y - q.Y} }
func (p Point) scale(s float64) Point  { return Point{p.X * s, p.Y * s} }
func (p Point) length() float64        { return math.Hypot(p.X, p.Y) }
func (p Point) left() Point            { return Point{-p.Y, p.X} }
func lerp(p, q Point, t float64) Point { return p.add(q.sub(p).scale(t)) }
func (p Point) unit() Point {
	if l := p.length(); l > 0 {
		return p.scale(1 / l)
	}
	return Point{1, 0}
}

// Path is a polyline in millimetres. It is closed when its last point repeats
// its first.
type Path []Point

// Line is the straight path from a to b.
func Line(a, b Point) Path { return Path{a, b} }

// Arc is the part of a circle from angle a0 to a1, in radians, counter-clockwise
// where a1 > a0, as a polyline whose sag is below 0.002 mm.
func Arc(centre Point, radius, a0, a1 float64) Path {
	step := 2 * math.Acos(1-min(1, 0.002/max(radius, 0.01)))
	n := max(2, int(math.Ceil(math.Abs(a1-a0)/step)))
	p := make(Path, n+1)
	for i := range p {
		s, c := math.Sincos(a0 + (a1-a0)*float64(i)/float64(n))
		p[i] = Point{centre.X + radius*c, centre.Y + radius*s}
	}
	return p
}

// Circle is a closed circle, counter-clockwise from the right.
func Circle(centre Point, radius float64) Path {
	p := Arc(centre, radius, 0, 2*math.Pi)
	p[len(p)-1] = p[0]
	return p
}

// Polygon is the closed path through the corners.
func Polygon(corners ...Point) Path {
	return append(append(Path{}, corners...), corners[0])
}

// Rect is a closed rectangle of the given size, counter-clockwise from its lower
// left corner.
func Rect(centre Point, width, height float64) Path {
	w, h := width/2, height/2
	return Polygon(
		Point{centre.X - w, centre.Y - h}, Point{centre.X + w, centre.Y - h},
		Point{centre.X + w, centre.Y + h}, Point{centre.X - w, centre.Y + h})
}

// Closed reports whether the path ends where it starts.
func (p Path) Closed() bool {
	return len(p) > 2 && p[0].sub(p[len(p)-1]).length() < 1e-9
}

// Length is the length of the path.
func (p Path) Length() float64 {
	var l float64
	for i := 1; i < len(p); i++ {
		l += p[i].sub(p[i-1]).length()
	}
	return l
}

// Reverse is the path run the other way.
func (p Path) Reverse() Path {
	q := make(Path, len(p))
	for i, v := range p {
		q[len(p)-1-i] = v
	}
	return q
}

// Map applies f to each point.
func (p Path) Map(f func(Point) Point) Path {
	q := make(Path, len(p))
	for i, v := range p {
		q[i] = f(v)
	}
	return q
}

// Offset is the path moved to its left by d, mitred at corners (to at most four
// times d). On a counter-clockwise path the left is the inside. It does not
// remove loops, so d must stay below the radius of the bends.
func (p Path) Offset(d float64) Path {
	n := len(p)
	closed := p.Closed()
	q := make(Path, n)
	for i := range p {
		before, after := i-1, i+1
		if i == 0 {
			before = 0
			if closed {
				before = n - 2
			}
		}
		if i == n-1 {
			after = n - 1
			if closed {
				after = 1
			}
		}
		in, out := p[i].sub(p[before]), p[after].sub(p[i])
		if in.length() == 0 {
			in = out
		}
		if out.length() == 0 {
			out = in
		}
		u, v := in.unit().left(), out.unit().left()
		m := u.add(v).unit()
		cos := max(0.25, m.X*u.X+m.Y*u.Y)
		q[i] = p[i].add(m.scale(d / cos))
	}
	return q
}

// At is the point at distance s along the path, with the unit direction there.
func (p Path) At(s float64) (pt, dir Point) {
	for i := 1; i < len(p); i++ {
		seg := p[i].sub(p[i-1])
		l := seg.length()
		if s <= l || i == len(p)-1 {
			if l == 0 {
				return p[i], Point{1, 0}
			}
			return p[i-1].add(seg.scale(min(1, s/l))), seg.scale(1 / l)
		}
		s -= l
	}
	if len(p) == 0 {
		return Point{}, Point{1, 0}
	}
	return p[0], Point{1, 0}
}

// walker gives points at rising distances along a path without starting over.
type walker struct {
	p    Path
	i    int // segment p[i-1]..p[i]
	done float64
}

func (w *walker) at(s float64) (pt, dir Point) {
	if w.i == 0 {
		w.i = 1
	}
	for w.i < len(w.p)-1 {
		l := w.p[w.i].sub(w.p[w.i-1]).length()
		if s <= w.done+l {
			break
		}
		w.done += l
		w.i++
	}
	return Path(w.p[w.i-1 : w.i+1]).At(s - w.done)
}

// Sample gives n+1 points evenly spaced along the path, ends included.
func (p Path) Sample(n int) Path {
	w := walker{p: p}
	l := p.Length()
	q := make(Path, n+1)
	for i := range q {
		q[i], _ = w.at(l * float64(i) / float64(n))
	}
	return q
}
