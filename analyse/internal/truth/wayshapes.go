package truth

import (
	"math"

	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// wayShape is an outline that pieces are cut to. Lines go counter-clockwise, so
// that their left is the inside; the hole's left is cloth no more.
type wayShape struct {
	name    string
	least   float64 // mm: smaller it is not made
	feature float64 // its narrowest part as a share of its size
	round   bool    // no corner in it
	cornery bool    // a polygon of few corners: its satin is mitred
	outline func(size float64) st.Path
	hole    func(size float64) st.Path // nil for none
}

var wayShapes = []wayShape{
	{"circle", 10, 0.9, true, false, func(s float64) st.Path { return circle(0, 0, s/2) }, nil},
	{"square", 10, 0.9, false, true, func(s float64) st.Path { return rect(0, 0, s*0.8, s*0.8) }, nil},
	{"house", 40, 0.22, false, true, house, nil},
	{"heart", 16, 0.4, false, false, func(s float64) st.Path { return heart(0, 0, s) }, nil},
	{"flower", 24, 0.4, true, false, flower, nil},
	{"star", 40, 0.2, false, true, func(s float64) st.Path { return star(0, 0, s/2, s/4.2, 5) }, nil},
	{"banana", 45, 0.22, true, false, banana, nil},
	{"letter", 50, 0.25, false, false, letterD, letterHole},
	{"blob", 14, 0.6, true, false, func(s float64) st.Path { return blob(0, 0, s/2.3) }, nil},
}

// house has a notch for its door.
func house(s float64) st.Path {
	p := st.Path{{X: -.4, Y: -.5}, {X: -.14, Y: -.5}, {X: -.14, Y: -.2}, {X: .14, Y: -.2}, {X: .14, Y: -.5}, {X: .4, Y: -.5}, {X: .4, Y: .1}, {X: 0, Y: .5}, {X: -.4, Y: .1}, {X: -.4, Y: -.5}}
	return p.Map(func(q st.Point) st.Point { return xy(s*q.X, s*q.Y) })
}

// flower has five round petals.
func flower(s float64) st.Path {
	const n = 300
	p := make(st.Path, n+1)
	for i := range p {
		a := 2 * math.Pi * float64(i%n) / n
		sin, cos := math.Sincos(a)
		r := s / 2 * (0.85 + 0.15*math.Cos(5*a))
		p[i] = xy(r*cos, r*sin)
	}
	return p
}

// banana is a crescent with round ends.
func banana(s float64) st.Path {
	r, half := 0.44*s, 0.12*s
	a0, a1 := math.Pi*1.12, math.Pi*1.88
	end := func(a float64) st.Point { return xy(r*math.Cos(a), r*math.Sin(a)) }
	p := st.Arc(xy(0, 0), r+half, a0, a1)
	p = append(p, st.Arc(end(a1), half, a1, a1+math.Pi)[1:]...)
	p = append(p, st.Arc(xy(0, 0), r-half, a1, a0)[1:]...)
	p = append(p, st.Arc(end(a0), half, a0+math.Pi, a0+2*math.Pi)[1:]...)
	p[len(p)-1] = p[0]
	return p.Map(func(q st.Point) st.Point { return xy(q.X, q.Y+0.3*s) })
}

// letterD is a D with a hole in it.
func letterD(s float64) st.Path {
	p := st.Path{xy(-0.4*s, -0.5*s), xy(-0.1*s, -0.5*s)}
	p = append(p, st.Arc(xy(-0.1*s, 0), 0.5*s, -math.Pi/2, math.Pi/2)[1:]...)
	return append(p, xy(-0.4*s, 0.5*s), p[0])
}

func letterHole(s float64) st.Path {
	p := st.Path{xy(-0.12*s, -0.22*s), xy(-0.1*s, -0.22*s)}
	p = append(p, st.Arc(xy(-0.1*s, 0), 0.22*s, -math.Pi/2, math.Pi/2)[1:]...)
	return append(p, xy(-0.12*s, 0.22*s), p[0])
}

// inset draws a closed line in by d mm (out, where d is negative) as scissors or
// a digitiser would: without the loops that a bend tighter than d would give.
func inset(p st.Path, d float64) st.Path {
	if d == 0 {
		return p
	}
	var dense st.Path
	for i := 1; i < len(p); i++ {
		l := math.Hypot(p[i].X-p[i-1].X, p[i].Y-p[i-1].Y)
		n := max(1, int(l/0.5))
		for k := range n {
			t := float64(k) / float64(n)
			dense = append(dense, xy(p[i-1].X+t*(p[i].X-p[i-1].X), p[i-1].Y+t*(p[i].Y-p[i-1].Y)))
		}
	}
	dense = append(dense, dense[0])
	var out st.Path
	for _, q := range dense.Offset(d) {
		near := math.Inf(1)
		for i := 1; i < len(p) && near >= 0.96*math.Abs(d); i++ {
			near = min(near, toSegment(q, p[i-1], p[i]))
		}
		if near >= 0.96*math.Abs(d) {
			out = append(out, q)
		}
	}
	if len(out) < 4 {
		panic("truth: nothing is left of an outline drawn in")
	}
	if out[0] != out[len(out)-1] {
		out = append(out, out[0])
	}
	return out
}

func toSegment(q, a, b st.Point) float64 {
	ux, uy := b.X-a.X, b.Y-a.Y
	l := ux*ux + uy*uy
	t := 0.0
	if l > 0 {
		t = max(0, min(1, ((q.X-a.X)*ux+(q.Y-a.Y)*uy)/l))
	}
	return math.Hypot(q.X-a.X-t*ux, q.Y-a.Y-t*uy)
}

// startAt lets a closed line begin at another of its points.
func startAt(p st.Path, share float64) st.Path {
	n := len(p) - 1
	k := int(share*float64(n)) % n
	out := append(st.Path{}, p[k:n]...)
	out = append(out, p[:k]...)
	return append(out, p[k])
}
