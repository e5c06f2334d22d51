package applique

import (
	"context"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/internal/watch"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/satin"
	"github.com/stopcard/stopcard/analyse/stitches"
	"github.com/stopcard/stopcard/stitchfile"
)

// Recognised says what each stitch, stop and piece of a design is. It is made
// once, from the design as it is, holds no length that depends on a scale, and is
// not changed afterwards: the same design has the same pieces and roles at every
// size.
type Recognised struct {
	Sewn  *stitches.Sewn
	Satin *satin.Satin

	Traces []Trace
	Pieces []*Piece   // holes too
	Roles  []StopRole // by stop
	Round  []*Trace   // lines round the whole block, in sewing order, the first outline first

	// Rehearsal is what lies in the hoop and what the hands do, stop by stop.
	Rehearsal Rehearsal
}

// StopRole is what one colour stop is for.
type StopRole struct {
	Role       string
	Confidence float64
	Reason     string
	Parts      []report.Part // what it does, where that is more than one thing
}

// Recognise works out what the stitching of d is. The only error is that of a context
// that ended.
func Recognise(ctx context.Context, d *stitchfile.Design) (rec *Recognised, err error) {
	defer watch.Catch(&err)
	sewn, err := stitches.Sew(ctx, d)
	if err != nil {
		return nil, err
	}
	found, err := satin.Find(ctx, sewn)
	if err != nil {
		return nil, err
	}
	p := &finder{sewn: sewn, satin: found, watch: watch.New(ctx), sewnMM: make([]float64, len(sewn.Stops))}
	for i := range p.sewnMM {
		sewn.Track.EachSewn(i, func(_ int, from, to geom.Point) { p.sewnMM[i] += geom.Distance(from, to) })
	}
	p.findPieces()
	p.findRoles()
	return &Recognised{Sewn: sewn, Satin: p.satin, Traces: p.traces, Pieces: p.work, Roles: p.roles, Round: p.round, Rehearsal: p.rehearse()}, nil
}

// finder is what the steps of Recognise share.
type finder struct {
	watch              *watch.Watch
	sewn               *stitches.Sewn
	satin              *satin.Satin
	cover              *satin.BandIndex
	sewsSatin          []bool // by stop
	traces             []Trace
	work               []*Piece
	looks, filledLooks int                         // what the search for pieces has cost
	sewnBy             [][report.KindCount]float64 // mm of thread by stop and kind
	sewnMM             []float64                   // mm of thread by stop
	roles              []StopRole
	round              []*Trace
	layers             []layerLine // lines round the whole block, in the order of w.before and w.after
}
