package analyse

import (
	"fmt"
	"slices"
)

// Pieces finds the pieces of applique cloth and measures their cover.
//
// A piece shows by its order: a line that a later stop follows (the tack-down),
// and satin or zigzag that a still later stop lays over it. Lines are compared
// point by point from both sides, so that any shape will do, whole or cut off
// where another piece lies over it. A line that satin covers without any
// tack-down between counts too, unless stitching fills it: then there is no
// cloth to be seen and it is an outline of the stitching. What is found so is
// common practice of applique in the hoop, no single source.
var Pieces = &Analyser{
	Name:     "pieces",
	Doc:      "applique pieces: placement, tack-down, cover, and the cover along the cut edge",
	Requires: []*Analyser{Columns, Cost},
	Run:      findPieces,
}

// pieceWork is what is known of one piece while it is put together.
type pieceWork struct {
	number  int
	place   *trace   // placement line, nil if none
	tack    *trace   // tack-down, or the placement line where there is none
	held    bool     // tack is a tack-down
	finish  *trace   // a zigzag that stands in for cover satin, nil if none
	also    []*trace // other lines over the same place
	like    likeness
	covers  []int   // stops that sew the cover, in order
	share   float64 // of the line that lies under them
	hole    bool
	parent  *pieceWork
	holes   []*pieceWork
	inStop  bool // tack-down and cover lie in one stop
	shape   []Point
	admits  func(band int32) bool
	hidden  func(q Point) bool
	hidings []*pieceWork
}

func (w *pieceWork) hiddenAt(q Point) bool { return w.hidden != nil && w.hidden(q) }

const (
	followWithin   = 4.0   // mm: a tack-down is looked for this far from its line
	followShare    = 0.85  // of both lines must be that near
	coverBeside    = 1.5   // mm that satin may miss a line by and still be meant for it
	narrowCover    = 1.8   // mm: narrower satin covers no edge; 2.5 mm is called narrow for it
	coverMisses    = 0.5   // and by no more than this share of its half width
	alongCover     = 0.7   // cosine: satin runs along the line, give or take 45 degrees
	coverLeast     = 0.5   // share of a line under satin; the rest may lie under other pieces
	mostTraces     = 3000  // lines looked at; more are stippling, not applique
	mostPieces     = 120   // so many pieces are more than any block has
	mostLooks      = 6_000 // comparisons of two lines
	mostFilled     = 400   // and of a line with the fills in it
	leastLength    = 20.0  // mm round the smallest piece
	placementShare = 0.6   // of a stop's thread that placement lines without tack-down must be
	fillShare      = 0.6   // of its inside sewn full: an outline of stitching
)

func findPieces(p *Pass) {
	p.traces = findTraces(p)
	p.cover = newBandIndex(p.bands)
	p.sewsSatin = make([]bool, len(p.Report.Stops))
	for i := range p.bands {
		if p.bands[i].kind != KindOpenZigzag {
			p.sewsSatin[p.bands[i].stop] = true
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
		if used[a] || a.kind == KindOpenZigzag || a.kind == KindTripleRun {
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
	for k, w := range p.work {
		if w.hole {
			continue
		}
		w.number = len(p.Report.Pieces) + 1
		p.Report.Pieces = append(p.Report.Pieces, p.measurePiece(k))
	}
	for _, w := range p.work {
		if w.hole {
			w.number = w.parent.number
		}
	}
}

// dropNets takes back pieces without a tack-down whose line is only a part of what
// its stop sews: then it is the edge of a net or a picture, and no cloth is laid.
func (p *Pass) dropNets() {
	lines := map[int]float64{}
	for _, w := range p.work {
		if !w.held {
			lines[w.place.stop] += w.place.sewn
		}
	}
	p.work = slices.DeleteFunc(p.work, func(w *pieceWork) bool {
		return !w.held && lines[w.place.stop] < placementShare*p.Report.Stops[w.place.stop].SewnMM
	})
}

// pieceFrom looks for what follows a line and makes a piece of it, or nil.
func (p *Pass) pieceFrom(a *trace, later []*trace, used map[*trace]bool) *pieceWork {
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
		if l.share < followShare || p.coveredIn(a, b.stop) {
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

// coveredIn reports whether satin of one stop lies over most of a line.
func (p *Pass) coveredIn(a *trace, stop int) bool {
	if s := &p.Report.Stops[stop]; !p.sewsSatin[stop] || !boxOfStop(s).grown(coverBeside).meets(a.box) {
		return false
	}
	return p.covering(a)[stop] >= coverLeast
}

func boxOfStop(s *Stop) box {
	return box{Point{s.BoundsMM[0], s.BoundsMM[1]}, Point{s.BoundsMM[2], s.BoundsMM[3]}}
}

func boxesAlike(a, b box, slack float64) bool {
	return abs(a.lo.X-b.lo.X) < slack && abs(a.lo.Y-b.lo.Y) < slack && abs(a.hi.X-b.hi.X) < slack && abs(a.hi.Y-b.hi.Y) < slack
}

// coveredBy lists the stops after the given one whose satin lies over the line,
// each with a fair share of it, and the share that all of them cover.
func (p *Pass) coveredBy(a *trace, after int) ([]int, float64) {
	var stops []int
	for s, share := range p.covering(a) {
		if s > after && share >= 0.2 {
			stops = append(stops, s)
		}
	}
	if len(stops) == 0 {
		return nil, 0
	}
	slices.Sort(stops)
	any := 0
	for _, here := range a.over {
		if slices.ContainsFunc(here, func(s int) bool { return s > after }) {
			any++
		}
	}
	return stops, float64(any) / float64(len(a.over))
}

// covering gives the share of a line that lies under satin running along it, by
// stop.
func (p *Pass) covering(a *trace) map[int]float64 {
	if a.under != nil {
		return a.under
	}
	a.under = map[int]float64{}
	step := max(1, len(a.line)/likenessSamples)
	for i := 0; i < len(a.line); i += step {
		var here []int
		dir := a.line[min(i+1, len(a.line)-1)].sub(a.line[max(0, i-1)])
		p.cover.near(a.line[i], coverBeside, coverMisses, func(b int32, along Point) {
			band := &p.bands[b]
			// Satin that merely crosses the line does not cover an edge.
			if band.kind != KindOpenZigzag && band.width >= narrowCover*p.Scale && abs(cosBetween(dir, along)) >= alongCover && !slices.Contains(here, band.stop) {
				here = append(here, band.stop)
			}
		})
		for _, s := range here {
			a.under[s]++
		}
		a.over = append(a.over, here)
	}
	for s := range a.under {
		a.under[s] /= float64(len(a.over))
	}
	return a.under
}

// filledBetween reports whether the inside of a line is sewn full between it and
// the given stop: then nobody lays cloth there.
func (p *Pass) filledBetween(a *trace, stop int) bool {
	return stop > a.stop+1 && a.closed && p.filled(a, a.stop, stop-1)
}

// filled reports whether stitching of the stops after the first given, up to the
// last, fills the inside of a line, so that no cloth would show there.
func (p *Pass) filled(a *trace, after, last int) bool {
	if p.filledLooks++; p.filledLooks > mostFilled {
		return true // nothing sure can be said of so many lines
	}
	inside, sewn := 0, 0
	var fill []Point
	for _, g := range p.Report.Passages {
		if g.Kind == KindFill && g.Stop-1 > after && g.Stop-1 <= last {
			for i := g.first; i < g.last; i += 1 + (g.last-g.first)/4000 {
				if q := p.track.pts[i]; q.X >= a.box.lo.X && q.X <= a.box.hi.X && q.Y >= a.box.lo.Y && q.Y <= a.box.hi.Y {
					fill = append(fill, q)
				}
			}
		}
	}
	if len(fill) == 0 {
		return false
	}
	grid := newCells(2, len(fill), func(i int) box { return box{fill[i], fill[i]} })
	const n = 20
	for y := range n {
		for x := range n {
			q := Point{a.box.lo.X + a.box.width()*(float64(x)+0.5)/n, a.box.lo.Y + a.box.height()*(float64(y)+0.5)/n}
			if !insidePolygon(q, a.line) {
				continue
			}
			inside++
			hit := false
			grid.each(box{q, q}.grown(2), func(i int32) { hit = hit || distance(q, fill[i]) < 2.5 })
			if hit {
				sewn++
			}
		}
	}
	return float64(sewn) > fillShare*float64(inside)
}

// nest tells holes from pieces: a closed line inside another, placed and tacked
// in the same stops, is cut out of it.
func (p *Pass) nest() {
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

// measurePiece measures the piece and the holes in it.
func (p *Pass) measurePiece(k int) Piece {
	w := p.work[k]
	out := Piece{Number: w.number, PlacementStop: w.place.stop + 1, Holes: len(w.holes)}
	if w.held {
		out.TackDownStop = w.tack.stop + 1
	}
	if len(w.covers) > 0 {
		out.CoverStop = w.covers[0] + 1
		best := 0
		for _, s := range w.covers {
			if n := p.Report.Stops[s].Stitches; n > best && len(w.covers) > 1 {
				best = n
			}
		}
	}
	out.AreaMM2 = abs(polygonArea(w.tack.line))
	out.PerimeterMM = w.tack.length
	b := boxOf(append(append([]Point(nil), w.tack.line...), w.place.line...))
	out.CutSizeMM = [2]float64{b.width() + 2*p.Settings.ClothMarginMM, b.height() + 2*p.Settings.ClothMarginMM}
	out.Placement, out.TackDown = w.place.line, w.tack.line
	out.Gaps, out.OffCloth = []Gap{}, []Gap{}
	for _, h := range w.holes {
		out.AreaMM2 -= abs(polygonArea(h.tack.line))
	}
	if len(w.covers) == 0 {
		return out
	}
	for _, part := range append([]*pieceWork{w}, w.holes...) {
		last := part.tack.stop
		part.admits = func(b int32) bool { return p.bands[b].stop > last }
		// Cloth laid later lies over this piece.
		part.hidden = func(q Point) bool {
			for _, v := range p.work {
				if v != w && v != part && !v.hole && v.held && v.tack.closed && v.tack.stop > last &&
					q.X >= v.tack.box.lo.X && q.X <= v.tack.box.hi.X && q.Y >= v.tack.box.lo.Y && q.Y <= v.tack.box.hi.Y &&
					insidePolygon(q, v.tack.line) {
					return true
				}
			}
			return false
		}
		measureEdge(p, part, &out)
	}
	step := edgeStep
	sumUpEdge(&out, step, p.Settings.TrimAllowanceMM)
	return out
}

// name is what messages call a piece.
func (w *pieceWork) name() string { return fmt.Sprintf("piece %d", w.number) }
