package geom

import (
	"math"
	"slices"
)

// Point is a place in mm.
type Point struct{ X, Y float64 }

// Place is a point in mm, as JSON writes it.
type Place = [2]float64

// Add is a + b.
func (a Point) Add(b Point) Point { return Point{a.X + b.X, a.Y + b.Y} }

// Sub is a - b: the vector from b to a.
func (a Point) Sub(b Point) Point { return Point{a.X - b.X, a.Y - b.Y} }

// Times is a with both coordinates multiplied by k.
func (a Point) Times(k float64) Point { return Point{a.X * k, a.Y * k} }

// Dot is the scalar product.
func (a Point) Dot(b Point) float64 { return a.X*b.X + a.Y*b.Y }

// Cross is the Z part of the vector product: positive where b lies to the left of a.
func (a Point) Cross(b Point) float64 { return a.X*b.Y - a.Y*b.X }

// Norm is the length of a vector.
func (a Point) Norm() float64 { return math.Sqrt(a.X*a.X + a.Y*a.Y) }

// Left is a turned a quarter to the left.
func (a Point) Left() Point { return Point{-a.Y, a.X} }

// Place is the point as JSON writes it.
func (a Point) Place() Place { return Place{a.X, a.Y} }

// Lerp is the point that lies the share t of the way from a to b.
func Lerp(a, b Point, t float64) Point { return Point{a.X + (b.X-a.X)*t, a.Y + (b.Y-a.Y)*t} }

// Distance is that between two points.
func Distance(a, b Point) float64 { return a.Sub(b).Norm() }

// Middle is the point half way between a and b.
func Middle(a, b Point) Point { return Point{(a.X + b.X) / 2, (a.Y + b.Y) / 2} }

// DistanceToSegment is the distance from q to the straight line from a to b.
func DistanceToSegment(q, a, b Point) float64 { return math.Sqrt(squareToSegment(q, a, b)) }

func squareToSegment(q, a, b Point) float64 {
	vx, vy, x, y := b.X-a.X, b.Y-a.Y, q.X-a.X, q.Y-a.Y
	if along := x*vx + y*vy; along > 0 {
		t := 1.0
		if l := vx*vx + vy*vy; along < l {
			t = along / l
		}
		x, y = x-t*vx, y-t*vy
	}
	return x*x + y*y
}

// Unit is a scaled to length 1; the zero vector stays.
func (a Point) Unit() Point {
	if n := a.Norm(); n > 0 {
		return a.Times(1 / n)
	}
	return a
}

// CosBetween is the cosine of the angle between two vectors, 0 if one is zero.
func CosBetween(a, b Point) float64 {
	n := a.Norm() * b.Norm()
	if n == 0 {
		return 0
	}
	return a.Dot(b) / n
}

// PathLength is the length of a polyline.
func PathLength(line []Point) float64 {
	var l float64
	for i := 1; i < len(line); i++ {
		l += Distance(line[i-1], line[i])
	}
	return l
}

// PolygonArea is the area inside a closed line by the shoelace formula, positive
// when it runs counter-clockwise. The closing side may be left out.
func PolygonArea(line []Point) float64 {
	if len(line) < 3 {
		return 0
	}
	var a float64
	prev := line[len(line)-1]
	for _, q := range line {
		a += prev.Cross(q)
		prev = q
	}
	return a / 2
}

// InsidePolygon reports whether q lies inside the closed line, by the even-odd
// rule.
func InsidePolygon(q Point, line []Point) bool {
	in := false
	prev := line[len(line)-1]
	for _, p := range line {
		if (p.Y > q.Y) != (prev.Y > q.Y) && q.X < p.X+(q.Y-p.Y)/(prev.Y-p.Y)*(prev.X-p.X) {
			in = !in
		}
		prev = p
	}
	return in
}

// Resample gives points along a polyline, evenly spaced and at most step mm
// apart, its ends included.
func Resample(line []Point, step float64) []Point {
	l := PathLength(line)
	if len(line) < 2 || l == 0 {
		return slices.Clone(line)
	}
	n := max(1, int(math.Ceil(l/step)))
	out := make([]Point, 0, n+1)
	out = append(out, line[0])
	gap := l / float64(n)
	next, done := gap, 0.0
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		d := Distance(a, b)
		for len(out) < n && next <= done+d {
			out = append(out, Lerp(a, b, (next-done)/d))
			next += gap
		}
		done += d
	}
	return append(out, line[len(line)-1])
}

// Box is a rectangle around points.
type Box struct{ Lo, Hi Point }

// BoxOf is the box around points; the zero Box for none.
func BoxOf(line []Point) Box {
	if len(line) == 0 {
		return Box{}
	}
	b := Box{line[0], line[0]}
	for _, q := range line[1:] {
		// Few points reach further than those before: mostly nothing is to be done.
		if q.X < b.Lo.X {
			b.Lo.X = q.X
		} else if q.X > b.Hi.X {
			b.Hi.X = q.X
		}
		if q.Y < b.Lo.Y {
			b.Lo.Y = q.Y
		} else if q.Y > b.Hi.Y {
			b.Hi.Y = q.Y
		}
	}
	return b
}

// Width is the extent along X.
func (b Box) Width() float64 { return b.Hi.X - b.Lo.X }

// Height is the extent along Y.
func (b Box) Height() float64 { return b.Hi.Y - b.Lo.Y }

// Middle is the middle of the box.
func (b Box) Middle() Point { return Middle(b.Lo, b.Hi) }

// With is the box around b and c.
func (b Box) With(c Box) Box {
	if c.Lo.X < b.Lo.X {
		b.Lo.X = c.Lo.X
	}
	if c.Lo.Y < b.Lo.Y {
		b.Lo.Y = c.Lo.Y
	}
	if c.Hi.X > b.Hi.X {
		b.Hi.X = c.Hi.X
	}
	if c.Hi.Y > b.Hi.Y {
		b.Hi.Y = c.Hi.Y
	}
	return b
}

// BoxAround is the box of a width and height around its middle.
func BoxAround(middle Point, w, h float64) Box {
	return Box{Point{middle.X - w/2, middle.Y - h/2}, Point{middle.X + w/2, middle.Y + h/2}}
}

// Corners are the corners of the box, the way round that a plane has.
func (b Box) Corners() []Point {
	return []Point{b.Lo, {b.Hi.X, b.Lo.Y}, b.Hi, {b.Lo.X, b.Hi.Y}}
}

// Grown is the box with each side moved out by d.
func (b Box) Grown(d float64) Box {
	return Box{Point{b.Lo.X - d, b.Lo.Y - d}, Point{b.Hi.X + d, b.Hi.Y + d}}
}

// Holds reports whether q lies in the box, or on its border.
func (b Box) Holds(q Point) bool {
	return q.X >= b.Lo.X && q.X <= b.Hi.X && q.Y >= b.Lo.Y && q.Y <= b.Hi.Y
}

// Meets reports whether two boxes share a point.
func (b Box) Meets(c Box) bool {
	return b.Lo.X <= c.Hi.X && c.Lo.X <= b.Hi.X && b.Lo.Y <= c.Hi.Y && c.Lo.Y <= b.Hi.Y
}
