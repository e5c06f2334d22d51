package block

import (
	"math"

	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// spline is the closed or open Catmull-Rom curve through the points.
func spline(closed bool, pts ...st.Point) st.Path {
	n := len(pts)
	at := func(i int) st.Point {
		if closed {
			return pts[(i+n)%n]
		}
		return pts[max(0, min(n-1, i))]
	}
	last := n - 1
	if closed {
		last = n
	}
	const per = 24
	var out st.Path
	for i := range last {
		a, b, c, d := at(i-1), at(i), at(i+1), at(i+2)
		for k := range per {
			t := float64(k) / per
			f := func(a, b, c, d float64) float64 {
				return 0.5 * (2*b + (c-a)*t + (2*a-5*b+4*c-d)*t*t + (3*b-a-3*c+d)*t*t*t)
			}
			out = append(out, st.Point{X: f(a.X, b.X, c.X, d.X), Y: f(a.Y, b.Y, c.Y, d.Y)})
		}
	}
	if closed {
		return append(out, out[0])
	}
	return append(out, pts[n-1])
}

// soften averages a closed curve along itself, so that no bend is tighter than
// the offsets of the cover satin and its lines can follow.
func soften(p st.Path, rounds int) st.Path {
	q := p.Sample(max(40, int(p.Length()/0.5)))
	n := len(q) - 1
	for range rounds {
		r := make(st.Path, n+1)
		for i := range n {
			a, b, c := q[(i+n-1)%n], q[i], q[i+1]
			r[i] = st.Point{X: (a.X + 2*b.X + c.X) / 4, Y: (a.Y + 2*b.Y + c.Y) / 4}
		}
		r[n] = r[0]
		q = r
	}
	return q
}

// leaf is a closed pointed oval from the foot, leaning by angle.
func leaf(foot st.Point, length, width, angle float64) st.Path {
	const n = 24
	sin, cos := math.Sincos(angle)
	var p st.Path
	put := func(t, side float64) {
		x, y := t*length, side*width/2*math.Pow(math.Sin(math.Pi*math.Pow(t, 0.8)), 1.2)
		p = append(p, st.Point{X: foot.X + x*cos - y*sin, Y: foot.Y + x*sin + y*cos})
	}
	for i := range n {
		put(float64(i)/n, -1)
	}
	for i := range n {
		put(1-float64(i)/n, 1)
	}
	return append(p, p[0])
}

// rounded is a closed square about the origin with rounded corners.
func rounded(half, radius float64) st.Path {
	var p st.Path
	for i, c := range []st.Point{{X: 1, Y: -1}, {X: 1, Y: 1}, {X: -1, Y: 1}, {X: -1, Y: -1}} {
		a := -math.Pi/2 + float64(i)*math.Pi/2
		p = append(p, st.Arc(st.Point{X: c.X * (half - radius), Y: c.Y * (half - radius)}, radius, a, a+math.Pi/2)...)
	}
	return append(p, p[0])
}

func inside(p st.Path, q st.Point) bool {
	in := false
	for i := 1; i < len(p); i++ {
		a, b := p[i-1], p[i]
		if (a.Y <= q.Y) != (b.Y <= q.Y) && a.X+(q.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) > q.X {
			in = !in
		}
	}
	return in
}

// echoes gives lines that run round the obstacles at the given first distance
// and spacing, cut off at a square of the given half width.
func echoes(obstacles []st.Path, half, first, spacing float64) []st.Path {
	var dots st.Path
	for _, o := range obstacles {
		dots = append(dots, o.Sample(max(4, int(o.Length()/0.7)))...)
	}
	const n = 160
	cell := 2 * half / n
	var field [n + 1][n + 1]float64
	far := 0.0
	for i := range field {
		for j := range field[i] {
			q := st.Point{X: -half + float64(i)*cell, Y: -half + float64(j)*cell}
			d := math.Inf(1)
			for _, o := range dots {
				d = min(d, math.Hypot(o.X-q.X, o.Y-q.Y))
			}
			for _, o := range obstacles {
				if inside(o, q) {
					d = -d
					break
				}
			}
			field[i][j] = d
			far = max(far, d)
		}
	}
	var out []st.Path
	for level := first; level < far; level += spacing {
		out = append(out, contour(func(i, j int) float64 { return field[i][j] - level }, n, half, cell)...)
	}
	return out
}

// contour follows the zero line of f over an n by n grid (marching squares).
// An edge of the grid has the key i, j, 0 when it runs right from i, j and
// i, j, 1 when it runs up.
func contour(f func(i, j int) float64, n int, half, cell float64) []st.Path {
	type edge struct{ i, j, up int }
	links := map[edge][]edge{}
	var order []edge
	link := func(a, b edge) {
		for _, e := range []edge{a, b} {
			if len(links[e]) == 0 {
				order = append(order, e)
			}
		}
		links[a], links[b] = append(links[a], b), append(links[b], a)
	}
	for i := range n {
		for j := range n {
			v := [4]bool{f(i, j) > 0, f(i+1, j) > 0, f(i+1, j+1) > 0, f(i, j+1) > 0}
			sides := [4]edge{{i, j, 0}, {i + 1, j, 1}, {i, j + 1, 0}, {i, j, 1}}
			var cut []edge
			for k := range 4 {
				if v[k] != v[(k+1)%4] {
					cut = append(cut, sides[k])
				}
			}
			for k := 0; k+1 < len(cut); k += 2 {
				link(cut[k], cut[k+1])
			}
		}
	}
	place := func(e edge) st.Point {
		a, b := f(e.i, e.j), 0.0
		if e.up == 1 {
			b = f(e.i, e.j+1)
		} else {
			b = f(e.i+1, e.j)
		}
		t := a / (a - b)
		p := st.Point{X: -half + float64(e.i)*cell, Y: -half + float64(e.j)*cell}
		if e.up == 1 {
			p.Y += t * cell
		} else {
			p.X += t * cell
		}
		return p
	}
	seen := map[edge]bool{}
	var out []st.Path
	follow := func(e edge) {
		start := e
		var p st.Path
		for {
			seen[e] = true
			p = append(p, place(e))
			next, found := edge{}, false
			for _, l := range links[e] {
				if !seen[l] {
					next, found = l, true
					break
				}
			}
			if !found {
				break
			}
			e = next
		}
		if len(p) > 4 && len(links[start]) == 2 {
			p = append(p, p[0])
		}
		if p.Length() > 8 {
			out = append(out, p)
		}
	}
	// Open lines first, from their ends, or they would start half way.
	for _, want := range []int{1, 2} {
		for _, e := range order {
			if !seen[e] && len(links[e]) == want {
				follow(e)
			}
		}
	}
	return out
}

// thinned is the path without points that lie within step mm of the one before,
// so that no stitch between its corners is too short to sew.
func thinned(p st.Path, step float64) st.Path {
	q := st.Path{p[0]}
	for _, v := range p[1:] {
		last := q[len(q)-1]
		if math.Hypot(v.X-last.X, v.Y-last.Y) >= step {
			q = append(q, v)
		}
	}
	if end := p[len(p)-1]; len(q) > 1 && q[len(q)-1] != end {
		q[len(q)-1] = end
	}
	return q
}
