package applique

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/satin"
)

// Piece is what is known of one piece while it is put together.
type Piece struct {
	Number int
	Place  *Trace   // placement line, nil if none
	Tack   *Trace   // tack-down, or the placement line where there is none
	Held   bool     // tack is a tack-down
	finish *Trace   // a zigzag that stands in for cover satin, nil if none
	also   []*Trace // other lines over the same place
	Like   likeness
	Covers []int   // stops that sew the cover, in order
	share  float64 // of the line that lies under them
	Hole   bool
	parent *Piece
	Holes  []*Piece
	inStop bool // tack-down and cover lie in one stop
}

const (
	FollowWithin   = 4.0   // mm: a tack-down is looked for this far from its line
	FollowShare    = 0.85  // of both lines must be that near
	coverBeside    = 1.5   // mm that satin may miss a line by and still be meant for it
	narrowCover    = 1.8   // mm: narrower satin covers no edge; 2.5 mm is called narrow for it
	coverMisses    = 0.5   // and by no more than this share of its half width
	alongCover     = 0.7   // cosine: satin runs along the line, give or take 45 degrees
	coverLeast     = 0.5   // share of a line under satin; the rest may lie under other pieces
	windingMost    = 2.5   // times as long as the way round its box: what winds about so is a ground, no line
	mostTraces     = 3000  // lines looked at; more are stippling, not applique
	mostPieces     = 120   // so many pieces are more than any block has
	mostLooks      = 6_000 // comparisons of two lines
	mostFilled     = 400   // and of a line with the fills in it
	leastLength    = 20.0  // mm round the smallest piece
	placementShare = 0.6   // of a stop's thread that placement lines without tack-down must be
	fillShare      = 0.6   // of its inside sewn full: an outline of stitching
)

// findPieces finds the pieces of applique cloth.
//
// A piece shows by its order: a line that a later stop follows (the tack-down),
// and satin or zigzag that a still later stop lays over it. Lines are compared
// point by point from both sides, so that any shape will do, whole or cut off
// where another piece lies over it. A line that satin covers without any
// tack-down between counts too, unless stitching fills it: then there is no
// cloth to be seen and it is an outline of the stitching. What is found so is
// common practice of applique in the hoop, no single source.
func (p *finder) findPieces() {
	p.traces = findTraces(p)
	p.cover = satin.NewBandIndex(p.satin.Bands)
	p.sewsSatin = make([]bool, len(p.sewn.Stops))
	for i := range p.satin.Bands {
		if p.satin.Bands[i].Kind != report.KindOpenZigzag {
			p.sewsSatin[p.satin.Bands[i].Stop] = true
		}
	}
	var lines []*Trace
	for i := range p.traces {
		t := &p.traces[i]
		if t.Length >= leastLength && (t.Kind == report.KindRun || t.Kind == report.KindDoubleRun || t.Kind == report.KindTripleRun || t.Kind == report.KindOpenZigzag) {
			lines = append(lines, t)
		}
	}
	if len(lines) > mostTraces {
		lines = lines[:mostTraces]
	}
	used := map[*Trace]bool{}
	for i, a := range lines {
		if len(p.work) >= mostPieces {
			break
		}
		if used[a] || a.Kind == report.KindOpenZigzag || a.Kind == report.KindTripleRun || winds(a) {
			continue
		}
		if w := p.pieceFrom(a, lines[i+1:], used); w != nil {
			used[a] = true
			if w.Held {
				used[w.Tack] = true
			}
			for _, b := range w.also {
				used[b] = true
			}
			p.work = append(p.work, w)
		}
	}
	p.dropNets()
	p.nest()
	p.leaveBlock()
	p.number()
}

// number counts the pieces; holes have the number of theirs.
func (p *finder) number() {
	n := 0
	for _, w := range p.work {
		if !w.Hole {
			n++
			w.Number = n
		}
	}
	for _, w := range p.work {
		if w.Hole {
			w.Number = w.parent.Number
		}
	}
}

// winds reports whether a line is far longer than the way round it.
func winds(t *Trace) bool { return t.Length > windingMost*2*(t.Box.Width()+t.Box.Height()) }

// dropNets takes back pieces without a tack-down whose line is only a part of what
// its stop sews: then it is the edge of a net or a picture, and no cloth is laid.
func (p *finder) dropNets() {
	lines := map[int]float64{}
	for _, w := range p.work {
		if !w.Held {
			lines[w.Place.Stop] += w.Place.sewn
		}
	}
	p.work = slices.DeleteFunc(p.work, func(w *Piece) bool {
		return !w.Held && lines[w.Place.Stop] < placementShare*p.sewnMM[w.Place.Stop]
	})
}

// pieceFrom looks for what follows a line and makes a piece of it, or nil.
func (p *finder) pieceFrom(a *Trace, later []*Trace, used map[*Trace]bool) *Piece {
	var tack, finish *Trace
	var also []*Trace
	var like likeness
	for _, b := range later {
		if b.Stop <= a.Stop || used[b] || b.Kind == report.KindTripleRun || !BoxesAlike(a.Box, b.Box, 2*FollowWithin) {
			continue
		}
		if p.looks++; p.looks > mostLooks {
			break
		}
		p.watch.Step(likenessSamples * 8)
		l := Agree(a, b, FollowWithin)
		if l.Share < FollowShare || winds(b) || p.coveredIn(a, b.Stop) {
			continue // or it is underlay of the satin that its own stop lays there
		}
		switch {
		case tack == nil:
			tack, like = b, l
		case b.Stop == tack.Stop && b.Kind == tack.Kind && l.mean < like.mean:
			also = append(also, tack)
			tack, like = b, l
		default:
			also = append(also, b)
			if b.Kind == report.KindOpenZigzag && b.Stop > tack.Stop {
				finish = b
			}
		}
	}
	from := a.Stop
	if tack != nil {
		from = tack.Stop
	}
	covers, share := p.coveredBy(a, from)
	w := &Piece{Place: a, Tack: a, Covers: covers, share: share}
	switch {
	case tack != nil && p.filledBetween(a, tack.Stop):
		return nil
	case tack != nil && share >= coverLeast:
		w.Tack, w.Held, w.Like, w.finish = tack, true, like, finish
	case tack != nil && finish != nil && a.Closed:
		w.Tack, w.Held, w.Like, w.finish = tack, true, like, finish
		w.Covers = []int{finish.Stop}
	case tack != nil && tack.Kind == report.KindOpenZigzag && a.Closed:
		w.Tack, w.Held, w.Like = tack, true, like
		w.Covers = nil
	case tack == nil && share >= 0.8 && a.Closed && a.times == 1 && !p.filled(a, -1, covers[len(covers)-1]):
		w.inStop = true
	default:
		return nil
	}
	w.also = also
	return w
}

// BoxesAlike reports whether the sides of two boxes lie within slack mm of each other.
func BoxesAlike(a, b geom.Box, slack float64) bool {
	return math.Abs(a.Lo.X-b.Lo.X) < slack && math.Abs(a.Lo.Y-b.Lo.Y) < slack && math.Abs(a.Hi.X-b.Hi.X) < slack && math.Abs(a.Hi.Y-b.Hi.Y) < slack
}

// nest tells holes from pieces: a closed line inside another, placed and tacked
// in the same stops, is cut out of it.
func (p *finder) nest() {
	for _, w := range p.work {
		if !w.Tack.Closed {
			continue
		}
		for _, v := range p.work {
			if v == w || !v.Tack.Closed || v.Hole || v.Tack.Stop != w.Tack.Stop || v.Place.Stop != w.Place.Stop || v.Tack.Length <= w.Tack.Length ||
				!v.Tack.Box.Meets(w.Tack.Box) {
				continue
			}
			if geom.InsidePolygon(w.Tack.Line[0], v.Tack.Line) && geom.InsidePolygon(w.Tack.Line[len(w.Tack.Line)/2], v.Tack.Line) {
				if w.parent == nil || v.Tack.Length < w.parent.Tack.Length {
					w.parent = v
				}
			}
		}
	}
	for _, w := range p.work {
		// A line inside a hole is a piece again.
		if w.parent != nil && w.parent.parent == nil {
			w.Hole = true
			w.parent.Holes = append(w.parent.Holes, w)
		}
	}
}
