package applique

import (
	"context"
	"fmt"
	"slices"

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
	Merged []Merged   // what may be pieces whose pauses were lost
	Unseen []string   // what was not looked at because a bound was reached, in words

	// Rehearsal is what lies in the hoop and what the hands do, stop by stop.
	Rehearsal Rehearsal

	chains []*chain
}

// StopRole is what one colour stop is for.
type StopRole struct {
	Role       string
	Confidence float64
	Reason     string
	Parts      []report.Part // what it does, where that is more than one thing
	Next       string        // the reading next to it, where that is near
}

// Recognise works out what the stitching of d is. The only error is that of a context
// that ended.
func Recognise(ctx context.Context, d *stitchfile.Design) (*Recognised, error) {
	return recognise(ctx, d, nil)
}

func recognise(ctx context.Context, d *stitchfile.Design, said *Said) (rec *Recognised, err error) {
	defer watch.Catch(&err)
	sewn, err := stitches.Sew(ctx, d)
	if err != nil {
		return nil, err
	}
	found, err := satin.Find(ctx, sewn)
	if err != nil {
		return nil, err
	}
	p := &finder{said: said, sewn: sewn, satin: found, watch: watch.New(ctx), sewnMM: make([]float64, len(sewn.Stops))}
	for i := range sewn.Passages {
		g := &sewn.Passages[i]
		p.sewnMM[g.Stop-1] += g.LengthMM
	}
	p.findPieces()
	if err := p.strike(); err != nil {
		return nil, err
	}
	p.findRoles()
	p.heed()
	return &Recognised{Sewn: sewn, Satin: p.satin, Traces: p.traces, Pieces: p.work, Roles: p.roles, Round: p.round, Merged: p.findMerged(), Unseen: p.unseen, chains: p.chains, Rehearsal: p.rehearse()}, nil
}

// finder is what the steps of Recognise share.
type finder struct {
	said     *Said // nil: nothing
	watch    *watch.Watch
	sewn     *stitches.Sewn
	satin    *satin.Satin
	cover    *satin.BandIndex
	traces   []Trace
	chains   []*chain
	followed map[int32][]*chain // by trace: the chains that it follows the line of
	work     []*Piece
	looks    int                         // what the search for pieces has cost
	compared int                         // lines that were held against edges
	trims    []int32                     // by segment of the track: trims before it
	sewnBy   [][report.KindCount]float64 // mm of thread by stop and kind
	sewnMM   []float64                   // mm of thread by stop
	lineMM   []float64                   // and of that, of lines that something follows
	followMM []float64                   // and of what follows lines of earlier stops
	maybe    []string                    // by stop: why it may be applique all the same
	roles    []StopRole
	round    []*Trace
	layers   []layerLine // lines round the whole block, in the order of w.before and w.after
	unseen   []string    // what was not looked at

	block       *worked    // what lies between the lines of a whole block; made when first asked for
	all         geom.Box   // around all stitching
	ground      ground     // where traces run
	firstOf     []int32    // by stop: its first trace, and one more
	stripped    []strip    // see strips; made when first asked for
	listed      []int32    // see holesIn
	parts       []Trace    // see lineTraces
	way         course     // see cutLoops
	off         []float64  // see measureRound
	own         []bool     // by trace: what follows the line that was asked for last
	fill, holes *needles   // of fills, of all stitching; made when first asked for
	boxes       []geom.Box // of passages; made when first asked for
}

// cap notes that a bound was reached.
func (p *finder) cap(what string, most int) {
	if s := fmt.Sprintf("more than %d %s: the rest was not looked at for applique", most, what); !slices.Contains(p.unseen, s) {
		p.unseen = append(p.unseen, s)
	}
}
