package applique

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
)

// cut is one line of a way that is cut into loops and what lies between them.
type cut struct {
	line     []geom.Point // may lie in the track: not to be changed
	from, to int          // points of the way that are sewn along it
	times    int
	whole    bool // a loop, or what lies between loops
}

// cutLoops cuts a way into loops, each with how often it was sewn round, and what lies
// before, between and after them. Where it goes is told by pts, which are the points of
// sewn or the middle of their teeth. So many lines as were found before count as well.
func (p *finder) cutLoops(before int, sewn, pts []geom.Point) []cut {
	var out []cut
	at := 0
	put := func(line []geom.Point, n, times int, whole bool) {
		if len(line) > 1 {
			out = append(out, cut{line, at, at + n, times, whole})
		}
	}
	way := p.way.begin(pts)
	for len(pts) > 1 {
		p.watch.Step(len(pts))
		from, to := 0, 0
		if before+len(out) < mostLoops {
			if from, to = way.firstLoop(at); to > 0 {
				from, to = from-at, to-at
			}
		}
		if to == 0 {
			n, times := oneWay(pts)
			put(sewn[:n:n], len(pts), times, before+len(out) > 0)
			break
		}
		if lead := sewn[:from+1]; geom.PathLength(lead) > joinsWithin {
			put(slices.Clip(lead), from+1, 1, true)
		}
		rest := pts[to:]
		loop := closed(pts[from:to])
		times, again := roundAgain(loop, rest)
		if &pts[0] != &sewn[0] {
			loop = closed(sewn[from:to])
		}
		at += from
		put(loop, to-from+again, times, true)
		pts, sewn = rest[again:], sewn[to+again:]
		at += to - from + again
		if len(pts) == 0 || way.length(at, len(way.pts)-1) < 4*closesWithin {
			break // the end goes a little way past where the loop closed
		}
	}
	return out
}

// closed is a line with its first point once more at its end.
func closed(line []geom.Point) []geom.Point {
	return append(append(make([]geom.Point, 0, len(line)+1), line...), line[0])
}
