package applique

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
)

// course is the way that a line goes, with what is summed up along it once. Its slices
// are used again for the next.
type course struct {
	pts   []geom.Point
	along []float64  // by point: mm from the first
	swept []float64  // by point: twice the area that the way there sweeps round the first
	boxes []geom.Box // around so many segments each, as far as they were asked for
	grid  *geom.Cells
}

const (
	boxed     = 8    // segments in a box
	mostBoxed = 1024 // segments that are looked for in boxes: among more a grid finds them sooner
)

func (c *course) begin(pts []geom.Point) *course {
	c.pts, c.boxes, c.grid = pts, c.boxes[:0], nil
	c.along, c.swept = append(slices.Grow(c.along[:0], len(pts)), 0), c.swept[:0]
	var l float64
	for i := 1; i < len(pts); i++ {
		l += geom.Distance(pts[i-1], pts[i])
		c.along = append(c.along, l)
	}
	return c
}

// length is how far it is from one point to another in mm.
func (c *course) length(from, to int) float64 { return c.along[to] - c.along[from] }

// area is twice the area that the way from one point to another and straight back
// encloses.
func (c *course) area(from, to int) float64 {
	o := c.pts[0]
	if len(c.swept) == 0 {
		c.swept = append(slices.Grow(c.swept, len(c.pts)), 0)
		var area float64
		last := geom.Point{}
		for _, q := range c.pts[1:] {
			q = q.Sub(o)
			area += last.Cross(q)
			c.swept = append(c.swept, area)
			last = q
		}
	}
	return c.swept[to] - c.swept[from] + c.pts[to].Sub(o).Cross(c.pts[from].Sub(o))
}

// box is around boxed segments, the first of which begins at point boxed*k.
func (c *course) box(k int) *geom.Box {
	for i := len(c.boxes); i <= k; i++ {
		c.boxes = append(c.boxes, geom.BoxOf(c.pts[i*boxed:min(len(c.pts), (i+1)*boxed+1)]))
	}
	return &c.boxes[k]
}

// meets is the first of the segments that begin at the points from one to before another
// to which q is nearer than reach, or of the points themselves where it is to be a hole; -1
// for none.
func (c *course) meets(q geom.Point, from, to int, reach float64, hole bool) int {
	near := func(i int) bool {
		if hole {
			return geom.Distance(q, c.pts[i]) < reach
		}
		return geom.DistanceToSegment(q, c.pts[i], c.pts[i+1]) < reach
	}
	if to-from > mostBoxed {
		return c.meetsInGrid(q, from, to, reach, near)
	}
	for first := from / boxed * boxed; first < to; first += boxed {
		b := c.box(first / boxed)
		if q.X < b.Lo.X-reach || q.X > b.Hi.X+reach || q.Y < b.Lo.Y-reach || q.Y > b.Hi.Y+reach {
			continue
		}
		for i := max(from, first); i < min(to, first+boxed); i++ {
			if near(i) {
				return i
			}
		}
	}
	return -1
}

func (c *course) meetsInGrid(q geom.Point, from, to int, reach float64, near func(i int) bool) int {
	if c.grid == nil {
		grid := geom.NewLineCells(2, c.pts)
		c.grid = &grid
	}
	first := to
	c.grid.Each(geom.Box{Lo: q, Hi: q}.Grown(reach), func(i int32) {
		if i := int(i); i >= from && i < first && near(i) {
			first = i
		}
	})
	if first == to {
		return -1
	}
	return first
}

// headsOneWay reports whether the points from one to before another go one way so
// steadily that no loop of them can close: along loopApart they come on by more than
// loopNear, whatever they do.
func (c *course) headsOneWay(from, to int) bool {
	pts := c.pts[from:to]
	way := pts[len(pts)-1].Sub(pts[0]).Unit()
	for i := 1; i < len(pts); i++ {
		v := pts[i].Sub(pts[i-1])
		if on := loopApart * way.Dot(v); on <= 0 || on*on <= loopNear*loopNear*v.Dot(v) {
			return false
		}
	}
	return true
}

// returnsTo finds where a line first comes back to a point of it round a loop, before
// another, or 0.
func (c *course) returnsTo(from, to int) int {
	const near = loopNear * loopNear * (1 + 1e-9) // none is lost to rounding
	q, i := c.pts[from], from+1
	for i < to && c.length(from, i) <= loopApart {
		i++
	}
	for ; i < to; i++ {
		if v := c.pts[i].Sub(q); v.Dot(v) < near && v.Norm() < loopNear && math.Abs(c.area(from, i)) > loopWide*c.length(from, i) {
			return i
		}
	}
	return 0
}
