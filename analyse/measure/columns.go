package measure

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/internal/watch"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/satin"
)

// Columns measures every satin column: see Satin.Measure. Where a column's own
// thread leaves cloth bare, it looks what other thread hides there: a fill under it,
// a second layer over it, a neighbour.
var Columns = &Step{
	Name:     "columns",
	Doc:      "satin columns: rails, width, pitch, length, coverage, underlay",
	Requires: []*Step{Sizes},
	Run:      measureColumns,
}

func measureColumns(p *Pass) {
	r := p.Report
	var err error
	r.SatinColumns, p.bands, err = p.Recognised.Satin.Measure(p.ctx, p.Sewn, p.Settings.LaidWidth(), p.coversBand())
	watch.Raise(err)
	for i := range r.Passages {
		r.Passages[i].Column = int(p.Recognised.Satin.ColumnOf[i])
	}
	for i := range r.SatinColumns {
		c := &r.SatinColumns[i]
		c.UnderThread, c.ThinUnderThread = c.Coverage, c.ThinCoverage
		if p.LookedAtOthers(i) {
			p.underThread(c)
		}
	}
}

// LookedAtOthers reports whether it was looked at what other thread hides of the ground of
// a column, by its index in Report.SatinColumns: where enough lies under its own, that may
// not matter.
func (p *Pass) LookedAtOthers(i int) bool {
	c := &p.Report.SatinColumns[i]
	if p.part == nil {
		return c.Coverage < ownWhole || c.ThinCoverage < ownStretch
	}
	if !p.coversColumn(i) || p.part.OwnOnly != nil && p.part.OwnOnly(i) {
		return false
	}
	return p.part.Others || c.Coverage < p.Settings.Limit("thin-cover") || c.ThinCoverage < p.Settings.Limit("thin-cover-stretch")
}

const (
	// What a column hides by itself, all of it and along its thinnest stretch, above
	// which nobody calls it thin: a little more than the usual limits.
	ownWhole, ownStretch = 0.90, 0.80

	groundAcross  = 8   // places looked at across a column
	groundAlong   = 0.2 // mm between them along it, on the design as it is
	goldenPart    = math.Phi - 1
	groundMost    = 40  // and so many between two stations at most; a damaged file, not a column
	stretchGround = 1.0 // mm2 of which a share is worth telling
)

// underThread finds the share of a column's ground that lies under any thread: what
// its own hides, and to it what other thread hides besides. Ground is the
// quadrilaterals between its stations, end caps apart.
func (p *Pass) underThread(c *report.SatinColumn) {
	n := len(c.Centre)
	type part struct{ along, area, extra float64 }
	parts := make([]part, 0, n)
	var along, area, extra float64
	onlyOther := p.onlyOther(c)
	for k := 1; k+2 < n; k++ {
		l := geom.Distance(c.Centre[k], c.Centre[k+1])
		q := part{area: l * (c.Widths[k] + c.Widths[k+1]) / 2}
		q.extra = onlyOther(k) * q.area
		along += l
		q.along = along
		area, extra = area+q.area, extra+q.extra
		parts = append(parts, q)
	}
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

// onlyOther gives for the ground from one station of a column to the next, taken in
// order, the share of it that lies under other thread and not under the column's own.
func (p *Pass) onlyOther(c *report.SatinColumn) func(station int) float64 {
	if g := p.otherGround(c); g != nil {
		half := p.Settings.LaidWidth() / 2 * p.from.Scale / p.Scale
		return func(station int) float64 { return g.only(station, half) }
	}
	other := p.Thread().besides(p.pointsOf(c))
	walk := groundWalk{column: c, scale: p.Scale}
	return func(station int) float64 {
		p.watch.Step(groundAcross)
		n := 0.0
		all := walk.each(station, func(q geom.Point) {
			if other.alone(q) {
				n++
			}
		})
		return n / float64(all)
	}
}

// pointsOf are the points of the track from the first of a column to its last.
func (p *Pass) pointsOf(c *report.SatinColumn) (first, last int) {
	first, _ = slices.BinarySearch(p.Sewn.Track.Move, int32(c.First))
	last, _ = slices.BinarySearch(p.Sewn.Track.Move, int32(c.Last))
	return first, last
}

// groundWalk goes over the ground of a column from station to station.
type groundWalk struct {
	column *report.SatinColumn
	scale  float64 // at which it was measured
	phase  float64
}

// each calls f for places on the ground from a station to the next, and gives their
// number. They are the same at every scale, whatever arithmetic leaves, and follow no
// pattern, as threads do.
func (w *groundWalk) each(k int, f func(geom.Point)) int {
	c := w.column
	l := geom.Distance(c.Centre[k], c.Centre[k+1])
	steps := int(min(groundMost, max(1, l/w.scale/groundAlong+0.5+1e-9)))
	for i := range steps {
		for j := range groundAcross {
			if w.phase += goldenPart; w.phase >= 1 {
				w.phase--
			}
			along := (float64(i) + w.phase) / float64(steps)
			f(geom.Lerp(geom.Lerp(c.Right[k], c.Right[k+1], along), geom.Lerp(c.Left[k], c.Left[k+1], along), (float64(j)+0.5)/groundAcross))
		}
	}
	return steps * groundAcross
}
