package satin

import (
	"context"
	"slices"
	"sync"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/internal/watch"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/stitches"
)

// columnWork holds what is used again from column to column, and from
// design to design.
type columnWork struct {
	pts          []geom.Point // needle points of the track, nil where crossings are all there is
	folds        bool         // the column lies over itself; near finds its crossings then
	near         geom.Cells
	met          []int32 // by crossing: one more than the place that last met it there
	visits       []visit
	last         []int32   // a table of visits, see comesBack
	odd          [2]uint64 // what it goes by
	lane         laneWork
	threads      []thread // of the crossings from base on; threadsOf gives where those of each begin
	threadsOf    []int32
	base         int
	begin        []sides // by thread: of the station where the place begins, for those before begun
	begun        int32
	over         []over // the threads near the place that is measured
	watch        *watch.Watch
	ground       ground
	laid         float64
	scale        float64 // of the points; 1 is the design as it is
	cross        []crossing
	found        []report.SatinColumn // of one passage, with their strips
	strips       []strip
	along, width []float64  // by crossing, of the column that is measured
	back, ahead  geom.Point // unit vectors out of its ends
	area, hidden []float64  // mm2 by place: its ground, and what of it is hidden
	parted       []float64
}

// mostFound bounds the columns of one passage whose room is kept.
const mostFound = 1024

var columnPool = sync.Pool{New: func() any { return new(columnWork) }}

func newColumnWork(ctx context.Context, s *stitches.Sewn, laid float64) *columnWork {
	w := columnPool.Get().(*columnWork)
	w.pts, w.laid, w.scale, w.watch = s.Track.Pts, laid, s.Scale, watch.New(ctx)
	return w
}

// room makes room for columns of n crossings at once: to find that out from one to the next
// takes twice as much.
func (w *columnWork) room(n int) {
	w.cross = slices.Grow(w.cross[:0], n)
	w.along, w.width, w.parted = slices.Grow(w.along[:0], n), slices.Grow(w.width[:0], n), slices.Grow(w.parted[:0], n)
	w.area, w.hidden = slices.Grow(w.area[:0], n/2+1), slices.Grow(w.hidden[:0], n/2+1)
}

// done gives the buffers back.
func (w *columnWork) done() {
	w.pts, w.watch, w.near, w.folds = nil, nil, geom.Cells{}, false
	if cap(w.found) > mostFound {
		w.found, w.strips = nil, nil
	}
	clear(w.found[:cap(w.found)])
	clear(w.strips[:cap(w.strips)])
	columnPool.Put(w)
}
