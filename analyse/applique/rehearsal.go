package applique

import (
	"slices"
	"sort"

	"github.com/stopcard/stopcard/analyse/report"
)

// Rehearsal is a walk through the design, stop by stop, that keeps what lies in the
// hoop. What the hands do is what must happen between two states; where a state must
// change and the file has no pause, that is kept too. It holds no lengths.
//
// The orders of work are common practice of making blocks in the hoop, no single
// source: batting and backing go to the underside with the hoop off the machine, so
// that the face is never buried; batting is trimmed close to its line before the
// backing goes on; batting that is laid first lies under the block cloth; a backing
// that is laid face down on the front is sewn last, and the block turned out through
// a gap; a badge has its backing fixed below and both layers cut before its satin
// edge; cloth without a tack-down is cut to its line beforehand.
type Rehearsal struct {
	Steps   []HandStep
	Lies    [][]report.Lying // by stop: what lies in the hoop while it is sewn
	Missing []MissingPause
}

// HandStep is one thing the hands do, before or after a colour stop.
type HandStep struct {
	Kind   report.StepKind
	What   report.Material // what is laid or trimmed; empty for the hoop itself, and where all layers are cut together
	Pieces []int           // numbers of the applique pieces it is about
	Stop   int             // index of the stop
	After  bool            // after the stop, not before
	Manner Manner
	Other  int     // index of another stop: of the line that cloth is laid over, or of the one it must be trimmed before
	Ask    bool    // it may be plain stitching, without any cloth to lay or to trim: the pattern tells
	Holes  int     // inner lines to cut the cloth away inside of
	Line   *Trace  // what it is laid over or trimmed along; nil for the hoop itself
	Gap    float64 // mm left open to turn the work out through
}

// Manner is how a step differs from the usual one of its kind.
type Manner uint8

const (
	Usually         Manner = iota // as a step of its kind mostly is
	OverBatting                   // cloth: over the batting that lies there already
	OnUnderside                   // laid or trimmed on the underside, the hoop turned over
	TurnedBack                    // the hoop is put back face up
	OnFront                       // a backing laid face down on the front
	ToShape                       // cut to its line before it is laid; nothing tacks it down
	NoTrim                        // tacked down and covered in one stop
	WithoutPause                  // the file has no pause for it: before all that the stop sews
	ByHand                        // the same, but the thread is cut where it is due, and one can stop there
	LeaveEdge                     // the raw edge is to show
	UnderCover                    // far outside the tack-down, where the cover will lie: it misses cloth trimmed close
	AskHowClose                   // no cover comes, and others have one: the pattern tells how to trim
	AfterCover                    // its cover was sewn before it: the order cannot work
	MayWait                       // or later, before the stop Other: embroidery comes on it first
	AtLatest                      // if it was not done before
	BothSides                     // the layers above and below
	PerhapsNot                    // only if the pattern has it
	OrEnvelope                    // on the underside, or in two folded halves face down on the front
	PerhapsEnvelope               // the same, only if the pattern has it
)

// MissingPause is a state that must change in the middle of a colour stop.
type MissingPause struct {
	What  report.Material
	Piece int    // number of the applique piece, 0 for none
	Turn  bool   // the hoop must be turned over for it
	Stop  int    // index of the stop
	After *Trace // what must be sewn before
	Hold  *Trace // what is to hold it

	Buried bool // laid before the stop instead, it would lie over what the stop sews first
	Cut    bool // the thread is cut between the two, so that one can stop the machine there by hand
}

// layer is something that lies in the hoop.
type layer struct {
	what     report.Material
	piece    *Piece // nil for none
	mark     *Trace // the line it is laid over, nil for none
	hold     *Trace // what first holds it
	side     report.HoopSide
	faceDown bool
	badge    bool // the backing of a badge, cut with the face
	gap      float64
	unsure   bool
	envelope bool
	noPause  Manner // Usually where there is a pause for it
	state    report.LyingState
	since    int    // how many layers were laid before it
	trim     int    // index of the stop after which it is trimmed, or -1
	latest   int    // index of the stop before which it must be trimmed at the latest, or -1
	done     int    // index of the last stop that covers its edge, or -1
	edge     Manner // of its trimming
	late     bool   // its cover is sewn before it is tacked down
}

// rehearse walks through the design. Where no applique was found it asks for nothing.
func (p *finder) rehearse() Rehearsal {
	r := rehearsing{finder: p}
	r.Lies = make([][]report.Lying, len(p.sewn.Stops))
	if len(p.work) == 0 && len(p.layers) == 0 {
		return r.Rehearsal
	}
	r.blockLayers()
	r.pieceLayers()
	r.findMissing()
	busy := r.busy()
	for i := range p.sewn.Stops {
		if !busy[i] && i > 0 && !busy[i-1] {
			r.Lies[i] = r.Lies[i-1]
			continue
		}
		r.before(i)
		r.note(i)
		r.sew(i)
		r.after(i)
	}
	return r.Rehearsal
}

// rehearsing is a rehearsal going on.
type rehearsing struct {
	*finder
	Rehearsal
	layers  []*layer
	advised bool // that lines may be sewn in wash-away thread
	ended   bool // the block may end was told
	off     bool // the hoop is off the machine
	turned  bool // and its underside is up
	laid    int  // how many layers were laid
}

// blockLayers lists block cloth, batting and backing from the lines round the block.
// Each is laid once, before the first line that holds it.
func (r *rehearsing) blockLayers() {
	var mark *Trace
	under := r.coverBegins()
	for i := range r.finder.layers {
		l := &r.finder.layers[i]
		if !l.holds {
			mark = l.t
			continue
		}
		if slices.ContainsFunc(r.layers, func(o *layer) bool { return o.what == l.what }) {
			continue
		}
		n := &layer{what: l.what, hold: l.t, mark: mark, side: report.Face, faceDown: l.faceDown, gap: l.gap, unsure: l.unsure, envelope: l.envelope, trim: -1, latest: -1, done: -1}
		if l.t.Stop >= under && l.what != report.BlockCloth && !l.faceDown {
			n.side = report.Underside
		}
		if l.badge {
			n.badge, n.trim = true, l.t.Stop
		}
		r.layers = append(r.layers, n)
	}
	for _, l := range r.layers {
		next := l.hold.Stop
		if l.what != report.Batting {
			continue
		}
		// Batting is trimmed where another layer goes over it: cloth on the face,
		// backing on the underside.
		for _, o := range r.layers {
			if o.hold.Stop > next && (o.what == report.BlockCloth || o.what == report.Backing && l.side == report.Underside && !o.faceDown) {
				l.trim = next
			}
		}
	}
}

// coverBegins is the first stop that lays something which must not be buried: from
// there on batting and backing go to the underside.
func (r *rehearsing) coverBegins() int {
	first := len(r.sewn.Stops)
	for _, k := range r.work {
		first = min(first, k.Place.Stop)
	}
	if len(r.work) == 0 { // all layers are noted
		for i := range r.sewn.Stops {
			if !slices.ContainsFunc(r.finder.layers, func(l layerLine) bool { return l.t.Stop == i }) {
				return i
			}
		}
	}
	return first
}

// pieceLayers lists the pieces of applique cloth.
func (r *rehearsing) pieceLayers() {
	for _, k := range r.work {
		if k.Hole {
			continue
		}
		l := &layer{what: report.AppliqueCloth, piece: k, mark: k.Place, hold: k.Tack, side: report.Face, trim: -1, latest: -1, done: -1}
		if n := len(k.Covers); n > 0 {
			l.done = k.Covers[n-1]
		}
		switch {
		case k.PreCut && len(k.Covers) == 0:
			continue
		case k.PreCut && k.onto != nil:
			l.hold = k.onto
		case k.PreCut:
			l.hold = r.coverOf(k)
		case k.TackCover:
		case k.CoverFirst:
			l.trim, l.done, l.late = k.Tack.Stop, -1, true
		default:
			l.trim = k.Tack.Stop
			if k.onto != nil {
				l.hold = k.onto
			}
			switch {
			case k.Missed:
				l.edge = UnderCover
			case k.Under:
			case k.Finish == report.FinishRaw:
				l.edge = LeaveEdge
			case k.Finish == report.FinishMissing:
				l.edge = AskHowClose
			}
			if len(k.Covers) > 0 && r.embroidered(k) {
				l.latest = k.Covers[0]
			}
			for _, o := range r.layers {
				if o.badge && len(k.Covers) > 0 && o.hold.Stop > k.Tack.Stop && o.hold.Stop < k.Covers[0] {
					l.trim, l.latest = -1, -1 // cut with the backing
				}
			}
		}
		r.layers = append(r.layers, l)
	}
}

// coverOf is the trace that first covers the edge of a piece.
func (r *rehearsing) coverOf(k *Piece) *Trace {
	if t := r.firstCover(k); t != nil {
		return t
	}
	return k.Tack
}

// busy tells the stops that change what lies in the hoop, or at which the hands do
// something.
func (r *rehearsing) busy() []bool {
	out := make([]bool, len(r.sewn.Stops)+1)
	at := func(stop int) {
		if stop >= 0 {
			out[stop] = true
		}
	}
	for _, l := range r.layers {
		for _, stop := range []int{l.hold.Stop, l.trim, l.latest, l.done} {
			at(stop)
		}
		if l.mark != nil {
			at(l.mark.Stop)
		}
		if l.late {
			at(l.piece.Covers[0])
		}
	}
	return out
}

// note records what lies in the hoop while stop i is sewn.
func (r *rehearsing) note(i int) {
	lies := []report.Lying{{What: report.Stabiliser, State: report.Hooped, Side: report.Face}}
	laid := slices.Clone(r.layers)
	sort.SliceStable(laid, func(i, j int) bool { return laid[i].since < laid[j].since })
	for _, l := range laid {
		if l.state == "" {
			continue
		}
		lying := report.Lying{What: l.what, State: l.state, Side: l.side, FaceDown: l.faceDown}
		if l.piece != nil {
			lying.Piece = l.piece.Number
		}
		lies = append(lies, lying)
	}
	r.Lies[i] = lies
}

// sew changes what stop i holds and covers.
func (r *rehearsing) sew(i int) {
	for _, l := range r.layers {
		if l.hold.Stop == i && l.state == report.Laid {
			l.state = report.Held
			if l.piece != nil && l.piece.PreCut {
				l.state = report.Trimmed
			}
		}
		if l.done == i {
			l.state = report.Covered
		}
	}
}
