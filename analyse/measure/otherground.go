package measure

import (
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
	first, last := p.pointsOf(c)
	walk := groundWalk{column: c, scale: p.Scale}
	always := x.half / report.ResizeTo // thread so near hides a place at every scale
	for k := 1; k+2 < n; k++ {
		p.watch.Step(groundAcross)
		g.all[k] = int32(walk.each(k, func(q geom.Point) {
			own := x.nearest(q, first, last, always)
			if own <= always {
				return
			}
			if other := x.nearestOther(q, first, last, always); other <= x.half {
				g.places = append(g.places, otherPlace{own, other})
			}
		}))
		g.first[k+1] = int32(len(g.places))
	}
	return g
}
