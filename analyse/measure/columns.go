package measure

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/internal/watch"
	"github.com/stopcard/stopcard/analyse/report"
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
	look := underLook{Pass: p}
	for i := range r.SatinColumns {
		c := &r.SatinColumns[i]
		c.UnderThread, c.ThinUnderThread = c.Coverage, c.ThinCoverage
		if p.LookedAtOthers(i) {
			look.columns = append(look.columns, c)
		}
	}
	for _, c := range look.columns {
		look.underThread(c)
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

// pointsOf are the points of the track from the first of a column to its last.
func (p *Pass) pointsOf(c *report.SatinColumn) (first, last int) {
	return p.Sewn.Track.PointAt(c.First), p.Sewn.Track.PointAt(c.Last)
}

// groundWalk goes over the ground of a column from station to station.
type groundWalk struct {
	column *report.SatinColumn
	scale  float64 // at which it was measured
	phase  float64
	places []geom.Point
}

// next gives places on the ground from a station to the next, row by row across it. They
// are the same at every scale, whatever arithmetic leaves, and follow no pattern, as
// threads do. They are good until it is called again.
func (w *groundWalk) next(k int) []geom.Point {
	c := w.column
	right, left := [2]geom.Point{c.Right[k], c.Right[k+1]}, [2]geom.Point{c.Left[k], c.Left[k+1]}
	l := geom.Distance(c.Centre[k], c.Centre[k+1])
	steps := int(min(groundMost, max(1, l/w.scale/groundAlong+0.5+1e-9)))
	w.places = w.places[:0]
	alongRight, alongLeft := right[1].Sub(right[0]), left[1].Sub(left[0])
	for i := range steps {
		for j := range groundAcross {
			if w.phase += goldenPart; w.phase >= 1 {
				w.phase--
			}
			along := (float64(i) + w.phase) / float64(steps)
			w.places = append(w.places, geom.Lerp(right[0].Add(alongRight.Times(along)), left[0].Add(alongLeft.Times(along)), (float64(j)+0.5)/groundAcross))
		}
	}
	return w.places
}
