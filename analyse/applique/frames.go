package applique

import (
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// withoutFrames leaves out of the lines round a block, in sewing order, those that one stop
// sews side by side for their looks: a frame, or quilting in echoes. What holds two layers is
// sewn in two stops, or nearly in one place where the pause between them was lost; and three
// in one stop hold nothing. On a block that has its outline two lines may be for batting a
// seam's width inside and for the backing, unless both are bean lines; and where there is no
// outline, bean lines side by side are a frame in two colours as well (common practice, no
// single source).
func withoutFrames(lines []*Trace, outlined bool) []*Trace {
	var out []*Trace
	for len(lines) > 0 {
		n, apart := 1, false
		heavy := lines[0].Kind == report.KindTripleRun
		for n < len(lines) {
			bean := lines[n].Kind == report.KindTripleRun
			if lines[n].Stop != lines[0].Stop && (outlined || !heavy || !bean) {
				break
			}
			apart, heavy = apart || sideBySide(lines[n-1], lines[n]), heavy && bean
			n++
		}
		if !apart || n == 2 && outlined && !heavy {
			out = append(out, lines[:n]...)
		}
		lines = lines[n:]
	}
	return out
}

// sideBySide reports whether a line goes along another at a distance that shows.
func sideBySide(a, b *Trace) bool {
	d, near := distances(b.Line, a, roundSlack)
	return near < 0.5 || geom.QuantileOf(d, 0.5) >= frameApart
}

const frameApart = 1.5 // mm between lines side by side at least: nearer ones look like one
