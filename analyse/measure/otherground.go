package measure

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// otherGround is the ground of a satin column over which other thread lies, place by
// place. As a design grows, thread that stays as wide draws back from the places: what
// one look tells of the design as it is holds for all larger scales.
type otherGround struct {
	places []otherPlace
	first  []int32 // by station: its places are from here to the next one's first
	all    []int32 // by station: places that were looked at
}

// otherPlace is how far in mm the nearest thread of the column itself lies from a place,
// and the nearest other thread.
type otherPlace struct{ own, other float64 }

// only is the share of the ground from a station to the next over which only other thread
// lies, where thread reaches so far to either side of its middle.
func (g *otherGround) only(station int, half float64) float64 {
	n := 0.0
	for _, q := range g.places[g.first[station]:g.first[station+1]] {
		if q.own > half && q.other <= half {
			n++
		}
	}
	return n / float64(g.all[station])
}

// otherGround is that of a column of the whole pass that p is a part of, for a larger
// scale; nil where p is no such part. It is looked at when it is first asked for.
func (p *Pass) otherGround(c *report.SatinColumn) *otherGround {
	if p.part == nil || p.Scale < p.from.Scale || p.Scale > p.from.Scale*report.ResizeTo {
		return nil
	}
	if g := p.from.grounds[c.First]; g != nil {
		return g
	}
	i := slices.IndexFunc(p.from.Report.SatinColumns, func(k report.SatinColumn) bool { return k.First == c.First })
	if i < 0 {
		return nil
	}
	g := p.from.lookAtGround(&p.from.Report.SatinColumns[i])
	if p.from.grounds == nil {
		p.from.grounds = map[int]*otherGround{}
	}
	p.from.grounds[c.First] = g
	return g
}

// lookAtGround looks for the thread over the ground of a column.
func (p *Pass) lookAtGround(c *report.SatinColumn) *otherGround {
	n := len(c.Centre)
	g := &otherGround{first: make([]int32, n+1), all: make([]int32, n)}
	x := p.Thread()
	x.layLines()
	first, last := x.among(p.pointsOf(c))
	walk, lately := groundWalk{column: c, scale: p.Scale}, first
	for k := 1; k+2 < n; k++ {
		p.watch.Step(groundAcross)
		places := walk.next(k)
		g.all[k] = int32(len(places))
		for _, q := range places {
			if own, other := x.nearest(q, first, last, &lately); other <= x.half*x.half {
				g.places = append(g.places, otherPlace{math.Sqrt(own), math.Sqrt(other)})
			}
		}
		g.first[k+1] = int32(len(g.places))
	}
	return g
}

// threadLine is a stitch, as the distance of a place from it is worked out.
type threadLine struct {
	a, v geom.Point
	per  float64 // one over its length squared; 0 where it has none
}

// layLines readies the stitches for nearest.
func (x *Thread) layLines() {
	if x.lines != nil {
		return
	}
	x.lines = make([]threadLine, len(x.stitch))
	for i, k := range x.stitch {
		l := &x.lines[i]
		l.a = x.track.Pts[k-1]
		l.v = x.track.Pts[k].Sub(l.a)
		if n := l.v.Dot(l.v); n > 0 {
			l.per = 1 / n
		}
	}
}

// nearest gives the squares of how far the nearest of the stitches from first to last lies
// from q, last excluded, and the nearest other one; more than half a laid thread where
// none lies over q. Once one lies so near that it hides q at every scale, no nearer one is
// looked for, and of the former no other one: +Inf. Where no other lies there the former are
// not looked for. lately is the one of them that lay so near last.
func (x *Thread) nearest(q geom.Point, first, last int32, lately *int32) (own, other float64) {
	own, other = math.Inf(1), math.Inf(1)
	cell, ok := x.cells.Of(q)
	if !ok {
		return own, other
	}
	items := x.cells.At(cell) // in order
	if n := len(items); n == 0 || items[0] >= first && items[n-1] < last {
		return own, other
	}
	always := x.half / report.ResizeTo * (x.half / report.ResizeTo)
	for _, by := range nextTo {
		if i := *lately + by; i >= first && i < last && x.lines[i].square(q) <= always {
			*lately = i
			return 0, other
		}
	}
	from := 0
	for from < len(items) && items[from] < first {
		from++
	}
	to := from
	for ; to < len(items) && items[to] < last; to++ {
		if own = min(own, x.lines[items[to]].square(q)); own <= always {
			*lately = items[to]
			return own, other
		}
	}
	for _, part := range [2][]int32{items[:from], items[to:]} {
		for _, i := range part {
			if other = min(other, x.lines[i].square(q)); other <= always {
				return own, other
			}
		}
	}
	return own, other
}

// square is the square of the distance of q from a stitch.
func (l *threadLine) square(q geom.Point) float64 {
	x, y := q.X-l.a.X, q.Y-l.a.Y
	t := max(0, min(1, (x*l.v.X+y*l.v.Y)*l.per))
	x, y = x-t*l.v.X, y-t*l.v.Y
	return x*x + y*y
}
