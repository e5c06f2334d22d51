package stitchtest

import (
	"math"

	"github.com/stopcard/stopcard/stitchfile"
)

// SlantFill sews the inside of a closed, convex outline in rows that lean: each
// row starts where the one before ended, so that no stitch runs along the edge.
// The rows are turned by angle radians, a step of spacing mm apart.
func (b *Builder) SlantFill(outline Path, spacing, length, angle float64) *Builder {
	b.label = Fill
	sin, cos := math.Sincos(-angle)
	o := outline.Map(func(p Point) Point { return Point{p.X*cos - p.Y*sin, p.X*sin + p.Y*cos} })
	back := func(p Point) Point { return Point{p.X*cos + p.Y*sin, -p.X*sin + p.Y*cos} }
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range o {
		lo, hi = min(lo, p.Y), max(hi, p.Y)
	}
	var from Point
	for row, y := 0, lo+spacing/2; y < hi; row, y = row+1, y+spacing {
		x0, x1 := math.Inf(1), math.Inf(-1)
		for i := 1; i < len(o); i++ {
			p, q := o[i-1], o[i]
			if (p.Y <= y) != (q.Y <= y) {
				x := p.X + (y-p.Y)/(q.Y-p.Y)*(q.X-p.X)
				x0, x1 = min(x0, x), max(x1, x)
			}
		}
		to := Point{x0, y}
		if row%2 == 1 {
			to.X = x1
		}
		if row == 0 {
			b.start(back(to))
			b.label = Fill
			from = to
			continue
		}
		// Penetrations of neighbouring rows are staggered by thirds.
		l := to.sub(from).length()
		for d := length * (1 - float64(row%3)/3); d < l-0.3; d += length {
			b.put(stitchfile.Stitch, back(lerp(from, to, d/l)))
		}
		b.put(stitchfile.Stitch, back(to))
		from = to
	}
	return b
}
