package analyse

import (
	"math"
	"slices"
)

// Point is a place in mm.
type Point struct{ X, Y float64 }

// Place is a point in mm, as JSON writes it.
type Place = [2]float64

func (a Point) add(b Point) Point      { return Point{a.X + b.X, a.Y + b.Y} }
func (a Point) sub(b Point) Point      { return Point{a.X - b.X, a.Y - b.Y} }
func (a Point) times(k float64) Point  { return Point{a.X * k, a.Y * k} }
func (a Point) dot(b Point) float64    { return a.X*b.X + a.Y*b.Y }
func (a Point) cross(b Point) float64  { return a.X*b.Y - a.Y*b.X }
func (a Point) norm() float64          { return math.Sqrt(a.X*a.X + a.Y*a.Y) }
func (a Point) left() Point            { return Point{-a.Y, a.X} }
func (a Point) place() Place           { return Place{a.X, a.Y} }
func lerp(a, b Point, t float64) Point { return Point{a.X + (b.X-a.X)*t, a.Y + (b.Y-a.Y)*t} }
func distance(a, b Point) float64      { return a.sub(b).norm() }
func middle(a, b Point) Point          { return Point{(a.X + b.X) / 2, (a.Y + b.Y) / 2} }

// distanceToSegment is the distance from q to the straight line from a to b.
func distanceToSegment(q, a, b Point) float64 {
	v := b.sub(a)
	n := v.dot(v)
	if n == 0 {
		return distance(q, a)
	}
	return distance(q, a.add(v.times(max(0, min(1, q.sub(a).dot(v)/n)))))
}

// unit is a scaled to length 1; the zero vector stays.
func (a Point) unit() Point {
	if n := a.norm(); n > 0 {
		return a.times(1 / n)
	}
	return a
}

// cosBetween is the cosine of the angle between two vectors, 0 if one is zero.
func cosBetween(a, b Point) float64 {
	n := a.norm() * b.norm()
	if n == 0 {
		return 0
	}
	return a.dot(b) / n
}

// pathLength is the length of a polyline.
func pathLength(line []Point) float64 {
	var l float64
	for i := 1; i < len(line); i++ {
		l += distance(line[i-1], line[i])
	}
	return l
}

// polygonArea is the area inside a closed line by the shoelace formula, positive
// when it runs counter-clockwise. The closing side may be left out.
func polygonArea(line []Point) float64 {
	if len(line) < 3 {
		return 0
	}
	var a float64
	prev := line[len(line)-1]
	for _, q := range line {
		a += prev.cross(q)
		prev = q
	}
	return a / 2
}

// insidePolygon reports whether q lies inside the closed line, by the even-odd
// rule.
func insidePolygon(q Point, line []Point) bool {
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

// resample gives points along a polyline, evenly spaced and at most step mm
// apart, its ends included.
func resample(line []Point, step float64) []Point {
	l := pathLength(line)
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
		d := distance(a, b)
		for len(out) < n && next <= done+d {
			out = append(out, lerp(a, b, (next-done)/d))
			next += gap
		}
		done += d
	}
	return append(out, line[len(line)-1])
}

// box is a rectangle around points.
type box struct{ lo, hi Point }

func boxOf(line []Point) box {
	if len(line) == 0 {
		return box{}
	}
	b := box{line[0], line[0]}
	for _, q := range line[1:] {
		b.lo.X, b.hi.X = min(b.lo.X, q.X), max(b.hi.X, q.X)
		b.lo.Y, b.hi.Y = min(b.lo.Y, q.Y), max(b.hi.Y, q.Y)
	}
	return b
}

func (b box) width() float64  { return b.hi.X - b.lo.X }
func (b box) height() float64 { return b.hi.Y - b.lo.Y }

// grown is the box with each side moved out by d.
func (b box) grown(d float64) box {
	return box{Point{b.lo.X - d, b.lo.Y - d}, Point{b.hi.X + d, b.hi.Y + d}}
}

func (b box) meets(c box) bool {
	return b.lo.X <= c.hi.X && c.lo.X <= b.hi.X && b.lo.Y <= c.hi.Y && c.lo.Y <= b.hi.Y
}

// quantile is the value below which the share q of the sorted values lies, by
// linear interpolation between order statistics (Hyndman and Fan, American
// Statistician 50, 1996, definition 7).
func quantile(sorted []float64, q float64) float64 {
	if len(sorted) == 0 {
		return 0
	}
	at := q * float64(len(sorted)-1)
	i := int(at)
	if i >= len(sorted)-1 {
		return sorted[len(sorted)-1]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}

// quantileOf is quantile of unsorted values; it sorts them.
func quantileOf(v []float64, q float64) float64 {
	slices.Sort(v)
	return quantile(v, q)
}
