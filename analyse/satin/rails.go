package satin

import "github.com/stopcard/stopcard/analyse/geom"

// findRails works out how far short stitches stay away from the rail, and widens the
// column to the rails there. On inner curves some crossings end early so that needle holes
// do not crowd; the rail is where their neighbours end.
func (w *columnWork) findRails(x []crossing) {
	full := w.width
	var most float64
	for j := range x {
		x[j].ra, x[j].rb = 0, 0
		if full[j] > most {
			most = full[j]
		}
	}
	found := false
	for j := range x {
		if full[j] > (1-shortInset)*most {
			continue
		}
		lo, hi := max(0, j-3), min(len(x)-1, j+3)
		var widest float64
		for _, l := range full[lo : hi+1] {
			if l > widest {
				widest = l
			}
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
			x[j].ra, found = d, true
		}
		if d := insetFrom(x[j].b, x[before].b, x[after].b, u.Times(-1)); d > 0.1*widest {
			x[j].rb, found = d, true
		}
	}
	for j := 0; found && j < len(x); j++ {
		full[j] = full[j] + x[j].ra + x[j].rb
	}
}

// insetFrom is how far q lies from the middle of a and b in the direction u.
func insetFrom(q, a, b, u geom.Point) float64 { return q.Sub(geom.Middle(a, b)).Dot(u) }
