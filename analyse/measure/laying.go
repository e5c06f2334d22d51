package measure

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
)

// laying lays thread on the cells of a grid.
type laying struct {
	cellFinder
	cell   float64 // mm
	nx     int
	laid   float32 // layers in a cell for each mm of thread
	layers []float32
}

// lay lays the thread from a to b, which lie in the cells from and to, walking from border
// to border of the cells that it crosses.
func (w *laying) lay(a, b geom.Point, from, to cellPlace) {
	v := b.Sub(a)
	l := v.Norm()
	cell := from.y*w.nx + from.x
	if from == to {
		w.layers[cell] += w.laid * float32(l)
		return
	}
	x := crossings(a.X-w.x, v.X, w.cell, from.x, to.x)
	y := crossings(a.Y-w.y, v.Y, w.cell, from.y, to.y)
	y.step *= w.nx
	done := 0.0
	for left := x.left + y.left; left > 0; left-- {
		here, next := cell, x.next
		if next < y.next {
			cell += x.step
			x.next += x.each
			if x.left--; x.left == 0 {
				x.next = math.Inf(1)
			}
		} else {
			next = y.next
			cell += y.step
			y.next += y.each
			if y.left--; y.left == 0 {
				y.next = math.Inf(1)
			}
		}
		if next > 1 {
			next = 1
		}
		w.layers[here] += w.laid * float32((next-done)*l)
		done = next
	}
	w.layers[cell] += w.laid * float32((1-done)*l)
}

// axis is the borders between cells that a line crosses along one axis.
type axis struct {
	step, left int     // from cell to cell; borders that are left
	next, each float64 // the share of the line up to the next border, and from one to the next
}

// crossings are those of a line that goes from at by v, both in mm.
func crossings(at, v, cell float64, from, to int) axis {
	switch per := 1 / v; {
	case to > from:
		return axis{1, to - from, (float64(from+1)*cell - at) * per, cell * per}
	case to < from:
		return axis{-1, from - to, (float64(from)*cell - at) * per, -cell * per}
	}
	return axis{next: math.Inf(1)}
}
