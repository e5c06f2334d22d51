package applique

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// unpaused looks once more at pieces that are read as cut beforehand, since nothing
// but their cover follows their line in a later stop. Where the stop of the line, or
// that of the cover, sews another line along the edge and cuts its thread, or ties it off,
// before it goes on, that line is a tack-down for which a pause was forgotten: a line sewn
// twice and an underlay go on without either (common practice, no single source).
func (p *finder) unpaused() {
	for _, k := range p.work {
		if !k.PreCut || len(k.Covers) == 0 {
			continue
		}
		for i := range p.traces {
			t := &p.traces[i]
			place, cover := t.Stop == k.Place.Stop, t.Stop == k.Covers[0]
			if t == k.Place || !place && !cover || !isLine(t) || !BoxesAlike(k.Place.Box, t.Box, 2*FollowWithin) || !p.follow(k.Place, t, FollowWithin) {
				continue
			}
			if place && t.first > k.Place.first && p.partedBetween(k.Place, t) {
				k.Tack, k.PreCut, k.OneStop, k.Held = t, false, true, true
			} else if over := p.firstCover(k); cover && over != nil && t.first < over.first && p.partedBetween(t, over) {
				k.Tack, k.PreCut, k.TackCover = t, false, true
			} else {
				continue
			}
			k.Like = Agree(k.Place, t, FollowWithin)
			break
		}
		if k.PreCut {
			p.coveredFirst(k)
		}
	}
	for _, k := range p.work {
		if k.Held && !k.Hole && !k.TackCover && !k.CoverFirst && k.Place.Closed && k.Tack.Stop > k.Place.Stop+1 {
			k.onto = p.embroideredOnto(k, k.Tack.Stop)
			continue
		}
		if !k.PreCut && !k.TackCover || len(k.Covers) == 0 || !k.Place.Closed {
			continue
		}
		if k.onto = p.embroideredOnto(k, k.Covers[0]); k.onto != nil && k.TackCover {
			// What its cover's stop sews first holds no cloth that was sewn on before: it is underlay.
			k.Tack, k.PreCut, k.TackCover, k.Held, k.Like = k.Place, true, false, false, likeness{}
			k.Confidence, k.Next, k.mayBePlain = min(k.Confidence, ontoSure), "plain stitching, a line under its satin: ask the pattern whether cloth is laid inside the line", true
		}
	}
}

const ontoSure = 0.75 // confidence that a line with embroidery inside, and satin with underlay over it, is for cloth

// embroideredOnto finds the first embroidery that lies wholly within the line of a piece, of
// a stop after that of the line and before another: cloth that is laid after it would bury
// it. Nil for none.
func (p *finder) embroideredOnto(k *Piece, before int) *Trace {
	if p.looks > mostLooks {
		p.cap("comparisons of stitching with a line", mostLooks)
		return nil
	}
	gs := p.sewn.Passages
	first, _ := slices.BinarySearchFunc(gs, k.Place.Stop+1, func(g report.Passage, stop int) int { return g.Stop - 1 - stop })
	var onto *Trace
	holes, i := 0, first
	defer func() { p.looks += (i - first) / sidesALook }()
	for ; i < len(gs) && gs[i].Stop-1 < before; i++ {
		g := &gs[i]
		p.watch.Step(1)
		if g.Kind == report.KindTie || g.Kind == report.KindTravel || !encloses(k.Place.Box, p.passageBox(i), -edgeMM) || !p.mayCompare() || !p.lineless(g) || !p.within(k, g) {
			continue
		}
		if onto == nil || onto.Stop != g.Stop-1 {
			onto, holes = &Trace{Stop: g.Stop - 1, Line: p.sewn.Track.Pts[g.From:g.To], Box: p.passageBox(i), first: g.From}, 0
		}
		if holes += g.To - g.From; holes >= embroideryMin {
			return onto
		}
	}
	return nil
}

// within reports whether a passage lies within the line of a piece, away from its edge.
func (p *finder) within(k *Piece, g *report.Passage) bool {
	step := max(1, (g.To-g.From)/insideGrid)
	for i := g.From; i < g.To; i += step {
		if q := p.sewn.Track.Pts[i]; !k.Place.Inside().Has(q) || k.Place.Near().Within(q, edgeMM) {
			return false
		}
	}
	return true
}

// lineless reports whether a passage belongs to no line of a piece, nor to what follows one.
func (p *finder) lineless(g *report.Passage) bool {
	i := p.strips()[p.stripAt(g.From)].trace
	return i < 0 || p.traces[i].chain == nil && len(p.followed[i]) == 0
}

// coveredFirst looks for a line that a stop after the cover sews along the line of a
// piece, right on the satin: a tack-down that comes too late. What runs beside the
// satin is an edge run.
func (p *finder) coveredFirst(k *Piece) {
	over := p.firstCover(k)
	if over == nil || k.open || over.Kind != report.KindSatin || len(over.Bands) == 0 {
		return
	}
	reach := p.satin.Bands[over.Bands[0]].Width / 2
	for i := range p.traces {
		t := &p.traces[i]
		if t.Stop > k.Covers[len(k.Covers)-1] && isLine(t) && t.Closed && BoxesAlike(k.Place.Box, t.Box, 2*reach) && p.follow(k.Place, t, reach) {
			k.Tack, k.PreCut, k.CoverFirst, k.Held = t, false, true, true
			k.Like = Agree(k.Place, t, FollowWithin)
			return
		}
	}
}

// firstCover is the trace that first covers the edge of a piece, nil if none is known.
func (p *finder) firstCover(k *Piece) *Trace {
	var first *Trace
	for _, t := range k.Cover {
		if first == nil || t.first < first.first {
			first = t
		}
	}
	return first
}

// tiedBetween reports whether the thread is tied off after the first line of one stop,
// and sews on along the second without a cut. Lines that are meant to be sewn in one go
// have no lock stitches between them; those of two stops that were put together have
// (common practice, no single source).
func (p *finder) tiedBetween(a, b *Trace) bool {
	if a.first >= b.first || a.Stop != b.Stop || p.cutBetween(a, b) {
		return false
	}
	pts := p.sewn.Track.Pts
	from, to := a.Spans[len(a.Spans)-1][1]-1, min(b.Spans[0][0]+lockMost, len(pts))
	return from >= 0 && from < to && locks(pts[from:min(to, from+3*lockMost)]) >= leastLocks
}

// locks counts the lock stitches among needle points: short ones that come back to the
// hole but one before.
func locks(pts []geom.Point) (n int) {
	for i := 0; i+2 < len(pts); i++ {
		if geom.Distance(pts[i], pts[i+1]) < lockStitch && geom.Distance(pts[i], pts[i+2]) < sameHole {
			n++
		}
	}
	return n
}

const (
	lockStitch = 1.05 // mm: lock stitches are 0.3 to 0.8 mm, some a whole millimetre
	leastLocks = 2    // times that lock stitches come back to a hole, which takes three; a stitch there and back may be the start of a line
	lockMost   = 8    // needle points past where a line closes within which it is locked: a few that overlap, and the lock stitches
)

// cutBetween reports whether the thread is cut after the first line of one stop and
// before the second.
func (p *finder) cutBetween(a, b *Trace) bool {
	if a.first >= b.first {
		return false
	}
	t := &p.sewn.Track
	if p.trims == nil {
		p.trims = make([]int32, len(t.Segs))
		n, at := int32(0), 0
		for i := range t.Segs {
			for ; at < t.Segs[i].Move; at++ {
				if p.sewn.Design.Moves[at].Kind == stitchfile.Trim {
					n++
				}
			}
			p.trims[i] = n
		}
	}
	return p.trims[t.SegmentOf(b.first)] > p.trims[t.SegmentOf(a.first)]
}
