package satin

import (
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// mostParted bounds the values that quantiles are taken from, so that the cost
// stays linear; columns of real designs have fewer.
const mostParted = 4096

// sameSize is by how much in mm values may differ that are the same but for what arithmetic
// leaves, as along a straight column.
const sameSize = 1e-10

// spread sums up values, of which it changes the order, with places for the least and the
// greatest.
func spread(v []float64, at func(int) geom.Point) report.Spread {
	if len(v) == 0 {
		return report.Spread{}
	}
	lo, hi := 0, 0
	for j, f := range v {
		if f < v[lo] {
			lo = j
		}
		if f > v[hi] {
			hi = j
		}
	}
	out := report.Spread{Min: v[lo], Max: v[hi], MinAt: at(lo).Place(), MaxAt: at(hi).Place()}
	if v[hi]-v[lo] <= sameSize {
		out.P5, out.Median, out.P95 = v[lo], v[lo], v[lo]
		return out
	}
	if n := len(v); n > mostParted {
		for k := range mostParted {
			v[k] = v[k*n/mostParted] // which is not before k
		}
		v = v[:mostParted]
	}
	q := [...]float64{0.05, 0.5, 0.95}
	geom.QuantilesOf(v, q[:])
	out.P5, out.Median, out.P95 = q[0], q[1], q[2]
	return out
}
