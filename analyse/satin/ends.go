package satin

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
)

const (
	columnBend    = 0.643 // cosine of 50 degrees from one crossing to the next but one
	leastBend     = 0.6   // mm
	reversalSpan  = 8     // crossings over which a column turns back; short stitches make fewer uneven
	reversed      = -0.5  // cosine of 120 degrees
	leastReversal = 0.4   // mm in so many crossings; less is standing still
	alikecrossing = 0.8   // cosine of the angle between crossings that lie over one another
	mostLeads     = 2     // stitches that lead into a column
	mostUnderlay  = 8     // crossings of an underlay that may be taken for the column's own
	leadShare     = 0.15  // share of the width by which a lead misses a rail
	leadOff       = 0.35  // mm; less may be rounding of three places, 0.07 mm each
)

// columnEnd is one past the last crossing of the column that begins at from. A
// mitred corner, where crossings shrink to a tip, does not end a column; a jump
// or crossings that all at once run another way do, and so does a turn back over
// the column itself.
func (w *columnWork) columnEnd(from int) int {
	for j := from + 1; j < len(w.cross); j++ {
		if r := w.reversal(from, j); r > 0 {
			return r
		}
		b := &w.cross[j]
		a := &w.cross[j-1]
		step, across := b.mid().Sub(a.mid()), a.b.Sub(a.a)
		if j-2 >= from && bends(&w.cross[j-2], b) || // every second one leans the same way
			step.Dot(step) > max(3*3, across.Dot(across)) {
			return j
		}
	}
	return len(w.cross)
}

// bends reports whether two crossings run so differently that they are not of one
// column; short ones do not tell.
func bends(x, y *crossing) bool {
	u, v := x.b.Sub(x.a), y.b.Sub(y.a)
	cos, uu, vv := u.Dot(v), u.Dot(u), v.Dot(v) // the cosine times both lengths
	return cos*cos < columnBend*columnBend*uu*vv && uu > leastBend*leastBend && vv > leastBend*leastBend
}

// reversal is one past the crossing at which a column turns and comes back over
// itself, as where a zigzag leads out and satin comes back on it; 0 if it does not by
// crossing j. Round a hairpin the crossings turn too, so there it is not.
func (w *columnWork) reversal(from, j int) int {
	if j-2*reversalSpan < from {
		return 0
	}
	a, m, b := &w.cross[j-2*reversalSpan], &w.cross[j-reversalSpan], &w.cross[j]
	out, back := m.mid().Sub(a.mid()), b.mid().Sub(m.mid())
	if out.Dot(back) >= 0 { // it goes on, as mostly
		return 0
	}
	if geom.CosBetween(out, back) > reversed || out.Norm() < leastReversal || back.Norm() < leastReversal {
		return 0
	}
	turn, far := j-reversalSpan, math.Inf(-1)
	for k := j - 2*reversalSpan; k <= j; k++ {
		if d := w.cross[k].mid().Sub(a.mid()).Dot(out); d > far {
			turn, far = k, d
		}
	}
	x, v := &w.cross[turn], b.b.Sub(b.a)
	if math.Abs(geom.CosBetween(x.b.Sub(x.a), v)) < alikecrossing || math.Abs(geom.CosBetween(a.b.Sub(a.a), v)) < alikecrossing {
		return 0
	}
	return turn + 1
}

// withoutLeads leaves out the stitches at either end of a column that lead to or
// from it: from the middle of its end, from its underlay, or the last of an underlay
// itself. It leaves at least leastColumn crossings.
func withoutLeads(x []crossing, from, to int) (int, int) {
	from += leads(to-from, func(i int) *crossing { return &x[from+i] })
	return from, to - leads(to-from, func(i int) *crossing { return &x[to-1-i] })
}

// leads counts the first of n crossings that are no part of the column.
func leads(n int, x func(int) *crossing) int {
	first := 0
	// What runs against the column's own way is the end of an underlay.
	if n > mostUnderlay+axisReach+leastColumn {
		u := x(mostUnderlay + axisReach).mid().Sub(x(mostUnderlay).mid()).Unit()
		for k := 1; k <= mostUnderlay; k++ {
			if x(k).mid().Sub(x(k-1).mid()).Dot(u) < -leadOff {
				first = k
			}
		}
	}
	for k, end := first, first+mostLeads; k < end && n-k >= leastColumn+3; k++ {
		if isLead(x(k), x(k+1), x(k+2), x(k+3), x(k+4)) {
			first = k + 1
		}
	}
	return first
}

// isLead reports whether x, which comes before a to d, is no crossing of their
// column: it does not lie one step further along it, or does not reach from rail to
// rail. Of the next crossings those that lean its way are looked at, both, because
// short stitches take turns.
func isLead(x, a, b, c, d *crossing) bool {
	u := a.mid().Add(b.mid()).Sub(c.mid()).Sub(d.mid()).Unit() // out of the column
	step := b.mid().Sub(d.mid()).Dot(u)
	if math.Abs(x.mid().Sub(b.mid()).Dot(u)-step) > max(leadOff, step) {
		return true
	}
	miss := func(p, q, r geom.Point) float64 {
		return min(math.Abs(u.Cross(p.Sub(q))), math.Abs(u.Cross(p.Sub(r))))
	}
	return max(miss(x.a, b.a, d.a), miss(x.b, b.b, d.b)) > max(leadOff, leadShare*max(a.length(), b.length(), c.length()))
}
