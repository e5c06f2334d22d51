package analyse

import "github.com/stopcard/stopcard/stitchfile"

// Recognised says what each stitch, stop and piece of a design is. It is made
// once, from the design as it is, holds no length that depends on a scale, and is
// not changed afterwards: the same design has the same pieces and roles at every
// size.
type Recognised struct {
	Sewn  *Sewn
	Satin *Satin

	traces []trace
	pieces []*pieceWork // holes too
	roles  []StopRole   // by stop
	round  []*trace     // lines round the whole block, in sewing order, the first outline first
}

// StopRole is what one colour stop is for.
type StopRole struct {
	Role       string
	Confidence float64
	Reason     string
	Parts      []Part // what it does, where that is more than one thing
}

// Recognise works out what the stitching of d is.
func Recognise(d *stitchfile.Design) *Recognised {
	sewn := Sew(d)
	p := &finder{sewn: sewn, satin: FindSatin(sewn), sewnMM: make([]float64, len(sewn.Stops))}
	for i := range p.sewnMM {
		sewn.Track.EachSewn(i, func(_ int, from, to Point) { p.sewnMM[i] += distance(from, to) })
	}
	p.findPieces()
	p.findRoles()
	return &Recognised{Sewn: sewn, Satin: p.satin, traces: p.traces, pieces: p.work, roles: p.roles, round: p.round}
}

// finder is what the steps of Recognise share.
type finder struct {
	sewn               *Sewn
	satin              *Satin
	cover              *bandIndex
	sewsSatin          []bool // by stop
	traces             []trace
	work               []*pieceWork
	looks, filledLooks int                  // what the search for pieces has cost
	sewnBy             [][KindCount]float64 // mm of thread by stop and kind
	sewnMM             []float64            // mm of thread by stop
	roles              []StopRole
	round              []*trace
}
