package analyse

import (
	"math"
	"slices"
)

// pieceWork is what is known of one piece while it is put together.
type pieceWork struct {
	number int
	place  *trace   // placement line, nil if none
	tack   *trace   // tack-down, or the placement line where there is none
	held   bool     // tack is a tack-down
	finish *trace   // a zigzag that stands in for cover satin, nil if none
	also   []*trace // other lines over the same place
	like   likeness
	covers []int   // stops that sew the cover, in order
	share  float64 // of the line that lies under them
	hole   bool
	parent *pieceWork
	holes  []*pieceWork
	inStop bool // tack-down and cover lie in one stop
}

const (
	followWithin   = 4.0   // mm: a tack-down is looked for this far from its line
	followShare    = 0.85  // of both lines must be that near
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
	p.cover = newBandIndex(p.satin.Bands)
	p.sewsSatin = make([]bool, len(p.sewn.Stops))
	for i := range p.satin.Bands {
		if p.satin.Bands[i].Kind != KindOpenZigzag {
			p.sewsSatin[p.satin.Bands[i].Stop] = true
		}
	}
	var lines []*trace
	for i := range p.traces {
		t := &p.traces[i]
		if t.length >= leastLength && (t.kind == KindRun || t.kind == KindDoubleRun || t.kind == KindTripleRun || t.kind == KindOpenZigzag) {
			lines = append(lines, t)
		}
	}
	if len(lines) > mostTraces {
		lines = lines[:mostTraces]
	}
	used := map[*trace]bool{}
	for i, a := range lines {
		if len(p.work) >= mostPieces {
			break
		}
		if used[a] || a.kind == KindOpenZigzag || a.kind == KindTripleRun || winds(a) {
			continue
		}
		if w := p.pieceFrom(a, lines[i+1:], used); w != nil {
			used[a] = true
			if w.held {
				used[w.tack] = true
			}
			for _, b := range w.also {
				used[b] = true
			}
			p.work = append(p.work, w)
		}
	}
	p.dropNets()
	p.nest()
	n := 0
	for _, w := range p.work {
		if !w.hole {
			n++
			w.number = n
		}
	}
	for _, w := range p.work {
		if w.hole {
			w.number = w.parent.number
		}
	}
}

// winds reports whether a line is far longer than the way round it.
func winds(t *trace) bool { return t.length > windingMost*2*(t.box.width()+t.box.height()) }

// dropNets takes back pieces without a tack-down whose line is only a part of what
// its stop sews: then it is the edge of a net or a picture, and no cloth is laid.
func (p *finder) dropNets() {
	lines := map[int]float64{}
	for _, w := range p.work {
		if !w.held {
			lines[w.place.stop] += w.place.sewn
		}
	}
	p.work = slices.DeleteFunc(p.work, func(w *pieceWork) bool {
		return !w.held && lines[w.place.stop] < placementShare*p.sewnMM[w.place.stop]
	})
}

// pieceFrom looks for what follows a line and makes a piece of it, or nil.
func (p *finder) pieceFrom(a *trace, later []*trace, used map[*trace]bool) *pieceWork {
	var tack, finish *trace
	var also []*trace
	var like likeness
	for _, b := range later {
		if b.stop <= a.stop || used[b] || b.kind == KindTripleRun || !boxesAlike(a.box, b.box, 2*followWithin) {
			continue
		}
		if p.looks++; p.looks > mostLooks {
			break
		}
		l := agree(a, b, followWithin)
		if l.share < followShare || winds(b) || p.coveredIn(a, b.stop) {
			continue // or it is underlay of the satin that its own stop lays there
		}
		switch {
		case tack == nil:
			tack, like = b, l
		case b.stop == tack.stop && b.kind == tack.kind && l.mean < like.mean:
			also = append(also, tack)
			tack, like = b, l
		default:
			also = append(also, b)
			if b.kind == KindOpenZigzag && b.stop > tack.stop {
				finish = b
			}
		}
	}
	from := a.stop
	if tack != nil {
		from = tack.stop
	}
	covers, share := p.coveredBy(a, from)
	w := &pieceWork{place: a, tack: a, covers: covers, share: share}
	switch {
	case tack != nil && p.filledBetween(a, tack.stop):
		return nil
	case tack != nil && share >= coverLeast:
		w.tack, w.held, w.like, w.finish = tack, true, like, finish
	case tack != nil && finish != nil && a.closed:
		w.tack, w.held, w.like, w.finish = tack, true, like, finish
		w.covers = []int{finish.stop}
	case tack != nil && tack.kind == KindOpenZigzag && a.closed:
		w.tack, w.held, w.like = tack, true, like
		w.covers = nil
	case tack == nil && share >= 0.8 && a.closed && a.times == 1 && !p.filled(a, -1, covers[len(covers)-1]):
		w.inStop = true
	default:
		return nil
	}
	w.also = also
	return w
}

func boxesAlike(a, b box, slack float64) bool {
	return math.Abs(a.lo.X-b.lo.X) < slack && math.Abs(a.lo.Y-b.lo.Y) < slack && math.Abs(a.hi.X-b.hi.X) < slack && math.Abs(a.hi.Y-b.hi.Y) < slack
}

// nest tells holes from pieces: a closed line inside another, placed and tacked
// in the same stops, is cut out of it.
func (p *finder) nest() {
	for _, w := range p.work {
		if !w.tack.closed {
			continue
		}
		for _, v := range p.work {
			if v == w || !v.tack.closed || v.hole || v.tack.stop != w.tack.stop || v.place.stop != w.place.stop || v.tack.length <= w.tack.length ||
				!v.tack.box.meets(w.tack.box) {
				continue
			}
			if insidePolygon(w.tack.line[0], v.tack.line) && insidePolygon(w.tack.line[len(w.tack.line)/2], v.tack.line) {
				if w.parent == nil || v.tack.length < w.parent.tack.length {
					w.parent = v
				}
			}
		}
	}
	for _, w := range p.work {
		// A line inside a hole is a piece again.
		if w.parent != nil && w.parent.parent == nil {
			w.hole = true
			w.parent.holes = append(w.parent.holes, w)
		}
	}
}
