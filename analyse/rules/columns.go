package rules

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/satin"
)

// judged is what a rule has to say of one satin column.
type judged struct {
	value, limit float64
	length       float64 // mm of the column that are past the limit
	at           geom.Place
}

// worstColumns gives one finding for each stop, for the worst of its columns. judge
// tells of a column whether it is past a limit.
func worstColumns(p *Pass, judge func(*report.SatinColumn) (judged, bool), tell func(s *report.Stop, c *report.SatinColumn, n int, length float64, worst judged) report.Finding) []report.Finding {
	var out []report.Finding
	cols := p.Report.SatinColumns
	for i := 0; i < len(cols); {
		stop := cols[i].Stop
		n, length := 0, 0.0
		var worst judged
		var of *report.SatinColumn
		for ; i < len(cols) && cols[i].Stop == stop; i++ {
			j, bad := judge(&cols[i])
			if !bad {
				continue
			}
			n++
			length += j.length
			if of == nil || math.Abs(j.value-j.limit) > math.Abs(worst.value-worst.limit) {
				worst, of = j, &cols[i]
			}
		}
		if n > 0 {
			f := tell(&p.Report.Stops[stop-1], of, n, length, worst)
			f.Stop, f.Measured, f.Limit = stop, worst.value, worst.limit
			if f.AtMM == nil {
				f.AtMM = &worst.at
			}
			out = append(out, f)
		}
	}
	return out
}

// longEnough reports whether a column is more than a dot or a part of a knot.
func longEnough(p *Pass, c *report.SatinColumn) bool {
	return c.LengthMM/p.Scale >= satin.ShortColumnMM && c.Crossings >= leastJudged
}

const (
	// byArithmetic is what arithmetic may leave, in mm, of a width that is just right: a
	// millimetre at 90 % is 0.9 mm.
	byArithmetic = 1e-9

	// byRoot is more than arithmetic makes of a square, as a share: lengths that differ by
	// more are told apart by their squares, without a root.
	byRoot = 1e-9

	leastJudged = 12 // crossings; satin at usual pitch has so many in 2.4 mm

	narrowOver = 3.0 // mm of a column that must be narrow: at a mitred corner two tips meet, with less between
	evened     = 2   // stations to either side that are averaged, against rounding to 0.1 mm

	// A column that tapers to less than this share of its width at a turn, and widens from
	// there, is mitred: two tips meet, and each lies beside the other (common practice, no
	// single source).
	mitredTo   = 0.15
	mitredTurn = 45 * math.Pi / 180
)

// narrowLook looks for the narrowest of columns. Its room is used again from one to the next.
type narrowLook struct {
	along, widths []float64
	queue         []int
}

// narrowest gives the width that some narrowOver mm of a column stay below, where, and
// how much of the column is narrower than limit. The last of a column is left out, for
// as far as the column is wide: there it may taper to a point. So it may at a mitre.
func (w *narrowLook) narrowest(p *Pass, c *report.SatinColumn, limit float64) (width float64, at geom.Place, length float64) {
	n := len(c.Centre)
	if n < 3 || len(c.Widths) != n {
		return c.Width.Median, c.Width.MinAt, c.LengthMM
	}
	w.along, w.widths = slices.Grow(w.along[:0], n)[:n], slices.Grow(w.widths[:0], n)[:n]
	along, widths := w.along, w.widths
	clear(along)
	clear(widths)
	for k := range n {
		if k > 0 {
			along[k] = along[k-1] + geom.Distance(c.Centre[k-1], c.Centre[k])
		}
		lo, hi := max(0, k-evened), min(n-1, k+evened)
		for j := lo; j <= hi; j++ {
			widths[k] += c.Widths[j] / float64(hi-lo+1)
		}
	}
	all := along[n-1]
	over := min(narrowOver, all/2)
	tip := min(c.Width.P95, all/4)
	first, last := 0, n-1
	for first < last && along[first] < tip {
		first++
	}
	for last > first && all-along[last] < tip {
		last--
	}
	if along[last]-along[first] < over {
		return c.Width.Median, c.Width.MinAt, c.LengthMM
	}
	w.leaveMitres(c, first, last, tip)
	// The least of the widest places of all stretches so long, by a queue whose widths
	// fall: its first is the widest of the stretch.
	width = math.Inf(1)
	w.queue = slices.Grow(w.queue[:0], n) // of each station once
	queue := w.queue
	from := first
	for k := first; k <= last; k++ {
		for len(queue) > 0 && widths[queue[len(queue)-1]] <= widths[k] {
			queue = queue[:len(queue)-1]
		}
		queue = append(queue, k)
		for from < k && along[k]-along[from+1] >= over {
			from++
		}
		for queue[0] < from {
			queue = queue[1:]
		}
		if v := widths[queue[0]]; along[k]-along[from] >= over && v < width {
			width, at = v, c.Centre[(from+k)/2].Place()
		}
	}
	// And the stretches that are below the limit, to the ends of the column.
	for k := 0; k < n; {
		if widths[k] >= limit {
			k++
			continue
		}
		start := k
		for k < n && widths[k] < limit {
			k++
		}
		if l := along[k-1] - along[start]; l >= over/2 {
			length += l
		}
	}
	return width, at, length
}

// leaveMitres leaves out the tips that meet at mitres of a column, between two of its stations.
func (w *narrowLook) leaveMitres(c *report.SatinColumn, first, last int, tip float64) {
	most := mitredTo * c.Width.P95
	for k := first; k <= last; k++ {
		if c.Widths[k] > most {
			continue
		}
		// The narrowest of those that lie together.
		at := k
		for ; k <= last && c.Widths[k] <= most; k++ {
			if c.Widths[k] < c.Widths[at] {
				at = k
			}
		}
		lo, hi := at, at
		for lo > 0 && w.along[at]-w.along[lo] < tip {
			lo--
		}
		for hi < len(w.along)-1 && w.along[hi]-w.along[at] < tip {
			hi++
		}
		u, v := c.Centre[at].Sub(c.Centre[lo]), c.Centre[hi].Sub(c.Centre[at])
		if math.Abs(math.Atan2(u.Cross(v), u.Dot(v))) < mitredTurn {
			continue
		}
		for i := lo; i <= hi; i++ {
			w.widths[i] = math.Inf(1)
		}
	}
}
