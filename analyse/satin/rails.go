package satin

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
)

// findRails works out how far short stitches stay away from the rail. On inner
// curves some crossings end early so that needle holes do not crowd; the rail is
// where their neighbours end.
func (w *columnWork) findRails(x []crossing) {
	w.full = w.full[:0]
	for j := range x {
		x[j].ra, x[j].rb = 0, 0
		w.full = append(w.full, math.Abs(w.axis[j].Cross(x[j].b.Sub(x[j].a))))
	}
	full := w.full
	for j := range x {
		lo, hi := max(0, j-3), min(len(x)-1, j+3)
		var widest float64
		for _, l := range full[lo : hi+1] {
			widest = max(widest, l)
		}
		least := (1 - shortInset) * widest
		if full[j] > least {
			continue
		}
		before, after := -1, -1
		for k := j - 1; k >= lo && before < 0; k-- {
			if full[k] > least {
				before = k
			}
		}
		for k := j + 1; k <= hi && after < 0; k++ {
			if full[k] > least {
				after = k
			}
		}
		if before < 0 || after < 0 {
			continue // a taper, not a short stitch
		}
		u := x[j].b.Sub(x[j].a).Unit()
		if d := insetFrom(x[j].a, x[before].a, x[after].a, u); d > 0.1*widest {
			x[j].ra = d
		}
		if d := insetFrom(x[j].b, x[before].b, x[after].b, u.Times(-1)); d > 0.1*widest {
			x[j].rb = d
		}
	}
}

// insetFrom is how far q lies from the middle of a and b in the direction u.
func insetFrom(q, a, b, u geom.Point) float64 { return q.Sub(geom.Middle(a, b)).Dot(u) }
