package measure

import (
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/satin"
)

// underLook looks at the ground of columns, one after another, for the thread that lies
// over it. Its buffers are used again from column to column.
type underLook struct {
	*Pass
	columns []*report.SatinColumn // those that are looked at
	parts   []groundPart

	// Of the column that is looked at:
	ground *otherGround // what is known of it; nil: its places are looked at
	half   float64      // mm of thread to either side, as ground has it
	other  otherThread
	walk   groundWalk
}

// groundPart is the ground from one station to the next.
type groundPart struct{ along, area, extra float64 } // mm from the first; mm2; mm2 that only other thread hides

// underThread finds the share of a column's ground that lies under any thread: what
// its own hides, and to it what other thread hides besides. Ground is the
// quadrilaterals between its stations, end caps apart.
func (w *underLook) underThread(c *report.SatinColumn) {
	n := len(c.Centre)
	parts := w.parts[:0]
	var along, area, extra float64
	w.begin(c)
	for k := 1; k+2 < n; k++ {
		l := geom.Distance(c.Centre[k], c.Centre[k+1])
		q := groundPart{area: l * (c.Widths[k] + c.Widths[k+1]) / 2}
		q.extra = w.onlyOther(k) * q.area
		along += l
		q.along = along
		area, extra = area+q.area, extra+q.extra
		parts = append(parts, q)
	}
	w.parts = parts
	if area < stretchGround || extra == 0 {
		return
	}
	c.UnderThread = min(1, c.Coverage+extra/area)
	// Along the thinnest stretch, what other thread hides least of any stretch so long.
	least := extra / area
	var sa, se float64
	from := 0
	for k := range parts {
		sa, se = sa+parts[k].area, se+parts[k].extra
		for from < k && parts[k].along-parts[from].along >= satin.StretchMM {
			sa, se = sa-parts[from].area, se-parts[from].extra
			from++
		}
		if parts[k].along-parts[from].along >= satin.StretchMM-1 && sa > stretchGround {
			least = min(least, se/sa)
		}
	}
	c.ThinUnderThread = min(1, c.ThinCoverage+least)
}

// begin readies w for the ground of a column.
func (w *underLook) begin(c *report.SatinColumn) {
	if w.ground = w.otherGround(c); w.ground != nil {
		w.half = w.Settings.LaidWidth() / 2 * w.from.Scale / w.Scale
		return
	}
	if w.other.Thread == nil {
		w.other.Thread = w.threadNear(w.eachGround)
	}
	w.other.besides(w.pointsOf(c))
	w.walk = groundWalk{column: c, scale: w.Scale, places: w.walk.places}
}

// eachGround gives the boxes around the ground of all columns from station to station.
func (w *underLook) eachGround(place func(geom.Box)) {
	for _, c := range w.columns {
		for k := 1; k+2 < len(c.Centre); k++ {
			place(geom.BoxOf([]geom.Point{c.Left[k], c.Right[k], c.Left[k+1], c.Right[k+1]}))
		}
	}
}

// onlyOther is the share of the ground from a station to the next that lies under other
// thread and not under the column's own. Stations are taken in order.
func (w *underLook) onlyOther(station int) float64 {
	if w.ground != nil {
		return w.ground.only(station, w.half)
	}
	w.watch.Step(groundAcross)
	places := w.walk.next(station)
	n := 0
	for _, q := range places {
		if w.other.alone(q) {
			n++
		}
	}
	return float64(n) / float64(len(places))
}
