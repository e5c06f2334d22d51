package applique

import (
	"slices"
	"sort"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// Piece is what is known of one piece of applique cloth, or of a hole in one.
type Piece struct {
	Number int
	Place  *Trace   // placement line
	Tack   *Trace   // tack-down, or the placement line where there is none
	Held   bool     // tack is a tack-down, and the cover, if any, is not sewn in its stop
	Like   likeness // of the tack-down to its line
	Covers []int    // stops that sew the cover, in order
	Cover  []*Trace // what the cover is sewn with
	Again  []*Trace // other lines along it in stops of their own, between tack-down and cover
	Hole   bool
	Holes  []*Piece

	Finish     report.Finish
	FinishedBy int     // the stop, from 1, whose heavy line finishes a raw edge; 0 for none
	PreCut     bool    // no tack-down: the cloth is cut to the line beforehand
	OneStop    bool    // placement line and tack-down in one stop
	TackCover  bool    // tack-down and cover in one stop
	Under      bool    // it has no cover, and its edge lies under other cloth or under a fill
	Missed     bool    // its tack-down lies so far inside its line that the cover misses cloth trimmed close to it
	Aside      float64 // mm by which its tack-down was moved away from its line; 0 where it follows that
	AsideAlone bool    // and the cover not with it
	LostBy     float64 // mm by which its cover was moved away from it; 0 where it was not
	LostStop   int     // the stop, from 0, that sews that cover
	LostTurned bool    // it is turned or of another size, and LostBy how far off it lies at most
	TackLost   bool    // what holds it is the finish of other pieces, which those have over a tack-down
	CoverFirst bool    // the cover is sewn before the tack-down: the order cannot work
	Confidence float64 // that it is a piece, and so made
	Next       string  // what it may be as well, with what would decide, where that is near

	mayBePlain bool // and that is no applique at all

	open   bool     // its cover is a satin so open that it may be meant for a zigzag
	tacked sewing   // how its tack-down is sewn, where it has one
	also   []*Trace // other lines of the tack-down's stop
	onto   *Trace   // embroidery that is sewn on it before its tack-down, or before its cover where it is cut beforehand
	parent *Piece
}

// OverBy reports whether what a stop sews lies over the cloth of the piece, on its cut
// edge.
func (w *Piece) OverBy(stop int) bool {
	last := w.Tack.Stop
	return stop > last || stop == last && (w.TackCover || w.PreCut) || w.CoverFirst && slices.Contains(w.Covers, stop)
}

// SewnFirst is what is embroidered within the line of a piece after it and before its
// tack-down, on the design as it is: cloth that is laid later would hide it. Nil for none.
func (w *Piece) SewnFirst() *Trace {
	if !w.Held {
		return nil
	}
	return w.onto
}

// MayBePlain reports whether the piece may as well be plain stitching, without any cloth.
func (w *Piece) MayBePlain() bool { return w.mayBePlain }

// findPieces finds the pieces of applique cloth.
//
// A piece shows as a chain in sewing order: a line, what follows it closely
// however it is sewn, and what lies over both. For each chain the readings that
// it admits are weighed (see evidence), and the likeliest reading of all chains
// together is taken. Its lead over the next is the confidence. What is found so
// is common practice of applique in the hoop, no single source.
func (p *finder) findPieces() {
	p.traces = findTraces(p)
	p.tellKnots()
	p.all = p.sewn.Box()
	p.survey()
	p.findChains()
	p.lineThread()
	p.findHoles()
	p.relate()
	p.findShared()
	p.findFar()
	p.findAside()
	p.findLostCovers()
	p.heedRounds()
	for _, c := range p.chains {
		p.read(c)
	}
	p.heedReadings()
	choice := p.best()
	for range 2 {
		p.styled(choice)
		choice = p.best()
	}
	for i, c := range p.chains {
		if choice[i] < 0 {
			p.perhaps(c)
			continue
		}
		if len(p.work) >= mostPieces {
			p.cap("pieces", mostPieces)
			break
		}
		p.work = append(p.work, p.piece(c, choice[i]))
	}
	p.partCovers()
	p.expectCovers()
	p.nest()
	p.oneEdge()
	p.unpaused()
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

// survey numbers the traces and lays the grid by which they are found.
func (p *finder) survey() {
	p.firstOf = make([]int32, len(p.sewn.Stops)+1)
	stop := 0
	for i := range p.traces {
		t := &p.traces[i]
		t.index = int32(i)
		for ; stop < t.Stop; stop++ {
			p.firstOf[stop+1] = int32(i)
		}
	}
	for ; stop < len(p.sewn.Stops); stop++ {
		p.firstOf[stop+1] = int32(len(p.traces))
	}
	p.ground = newGround(p.traces, p.all)
}

// lineThread sums up, by stop, the thread of lines that something follows, and of what
// follows lines of earlier stops.
func (p *finder) lineThread() {
	p.lineMM = make([]float64, len(p.sewn.Stops))
	p.followMM = make([]float64, len(p.sewn.Stops))
	done := make([]uint8, len(p.traces))
	const asLine, asFollower = 1, 2
	add := func(t *Trace) {
		if done[t.index]&asLine == 0 {
			done[t.index] |= asLine
			p.lineMM[t.Stop] += t.sewn
		}
	}
	for _, c := range p.chains {
		add(c.line)
		for _, r := range c.rounds {
			for _, t := range r.traces {
				if r.stop == c.line.Stop {
					add(t)
				} else if done[t.index]&asFollower == 0 {
					done[t.index] |= asFollower
					p.followMM[t.Stop] += t.sewn
				}
			}
		}
	}
}

// winds reports whether a line is far longer than the way round it.
func winds(t *Trace) bool { return t.Length > windingMost*2*(t.Box.Width()+t.Box.Height()) }

// piece makes a piece of a chain by the reading chosen.
func (p *finder) piece(c *chain, chosen int8) *Piece {
	o := &c.options[chosen]
	w := &Piece{Place: c.line, Tack: c.line, CoverFirst: o.reverse, Finish: report.FinishRaw}
	for _, r := range o.cover {
		w.Cover = append(w.Cover, r.traces...)
		if !slices.Contains(w.Covers, r.stop) {
			w.Covers = append(w.Covers, r.stop)
		}
		w.Finish = finishes[r.made]
		w.open = r.made == satinMade && r.sparse
	}
	slices.Sort(w.Covers)
	if o.tack == nil && c.from != nil {
		w.Place, w.Held, w.Aside = c.from, true, c.moved
		w.Like = Agree(w.Place, w.Tack, FollowWithin)
	} else if o.tack == nil && c.astray != nil {
		w.Tack, w.Held, w.Aside, w.AsideAlone = c.astray, true, c.moved, true
		w.Like = Agree(w.Place, w.Tack, FollowWithin)
	} else if o.tack == nil {
		w.PreCut = true
	} else {
		w.Tack = p.wholeZigzag(c, o.tack, c.joined(o.tack))
		w.Like = Agree(c.line, w.Tack, FollowWithin)
		if o.tack.far {
			w.Like = Agree(c.line, w.Tack, farReach)
		}
		w.Missed = o.missed()
		w.tacked = o.tack.made
		w.OneStop = o.tack.stop == c.line.Stop
		w.TackCover = slices.Contains(w.Covers, o.tack.stop)
		w.Held = !w.TackCover
		switch {
		case o.cover == nil && c.lost != nil:
			w.Finish, w.LostBy, w.LostStop, w.LostTurned = report.FinishMissing, c.lostBy, c.lost.Stop, c.turned
		case o.cover == nil && !o.tack.made.line():
			w.Finish = finishes[o.tack.made]
		case o.cover == nil:
			w.FinishedBy = c.finishedBy(o.tack)
		}
	}
	for _, r := range c.rounds {
		switch {
		case w.Aside > 0 && !w.AsideAlone && r.stop == c.line.Stop:
			w.also = append(w.also, r.traces...)
		case o.tack == nil || r == o.tack || slices.Contains(o.cover, r):
		case r.stop == o.tack.stop && !w.TackCover && r.made != satinMade:
			w.also = append(w.also, r.traces...)
		case r.stop > o.tack.stop && (len(w.Covers) == 0 || r.stop < w.Covers[0]):
			w.Again = append(w.Again, r.traces...)
		}
	}
	lead, next := p.lead(c, chosen)
	w.Confidence = confidence(lead)
	if lead < nearLead {
		w.Next, w.mayBePlain = p.nextReading(c, o, next), next == nil
	}
	return w
}

var finishes = [...]report.Finish{single: report.FinishRaw, double: report.FinishRaw, triple: report.FinishRaw,
	zigzag: report.FinishZigzag, blanket: report.FinishBlanket, satinMade: report.FinishSatin, motif: report.FinishMotif}

// joined makes one line of the traces of a round, in the order in which they lie
// along the line of the chain.
func (c *chain) joined(r *round) *Trace {
	if len(r.traces) == 1 {
		t := r.traces[0]
		if t.Closed || !c.line.Closed || r.made.line() || r.share < wholeShare || t.Opening > seamOpen {
			return t
		}
		// The middle of a zigzag or of teeth ends short of where its seam closes.
		whole := *t
		whole.Line = closedUp(t.Line)
		whole.Closed, whole.made, whole.chain = true, nil, nil
		return &whole
	}
	type part struct {
		t    *Trace
		at   float64
		line []geom.Point
	}
	var parts []part
	out := *r.traces[0]
	out.Line, out.Bands, out.Spans, out.sewn, out.made, out.chain = nil, nil, nil, 0, nil, nil
	longest := 0.0
	for _, t := range r.traces {
		at := func(q geom.Point) float64 {
			_, _, along := c.guide().nearest(q, 2*bandWithin)
			return along
		}
		n := len(t.Line)
		line := t.Line
		// The way round the chain's line is told by the first third of the trace.
		if a, b := at(line[n/3]), at(line[min(n-1, n/3+max(1, n/3))]); a > b && a-b < c.line.Length/2 || b-a > c.line.Length/2 {
			line = slices.Clone(line)
			slices.Reverse(line)
		}
		parts = append(parts, part{t, at(line[n/2]), line})
		if t.Length > longest {
			longest, out.Kind = t.Length, t.Kind
		}
	}
	sort.SliceStable(parts, func(i, j int) bool { return parts[i].at < parts[j].at })
	for _, v := range parts {
		out.Line = append(out.Line, v.line...)
	}
	for _, t := range r.traces {
		out.Bands, out.Spans, out.sewn = append(out.Bands, t.Bands...), append(out.Spans, t.Spans...), out.sewn+t.sewn
	}
	out.finish(nil)
	if !out.Closed && r.share > wholeShare {
		out.Closed = true
		out.Line = append(out.Line, out.Line[0])
	}
	return &out
}

const seamOpen = 8.0 // mm between the ends of the middle line of a zigzag whose seam is closed: a tooth and its window

const wholeShare = 0.95 // of a line: a round that reaches along so much of it is closed

// BoxesAlike reports whether two boxes agree on all sides within slack mm.
func BoxesAlike(a, b geom.Box, slack float64) bool {
	return max(a.Lo.X-b.Lo.X, b.Lo.X-a.Lo.X, a.Lo.Y-b.Lo.Y, b.Lo.Y-a.Lo.Y, a.Hi.X-b.Hi.X, b.Hi.X-a.Hi.X, a.Hi.Y-b.Hi.Y, b.Hi.Y-a.Hi.Y) < slack
}

// nest tells holes from pieces: a closed line inside another, placed and tacked
// in the same stops, is cut out of it.
func (p *finder) nest() {
	for _, w := range p.work {
		if !w.Place.Closed {
			continue
		}
		for _, v := range p.work {
			if v == w || !v.Place.Closed || v.Hole || v.Tack.Stop != w.Tack.Stop || v.Place.Stop != w.Place.Stop || v.Place.Length <= w.Place.Length ||
				!v.Tack.Box.Meets(w.Tack.Box) || p.sameLine(v.Place, w.Place) {
				continue
			}
			if in := v.Place.Inside(); in.Has(w.Place.Line[0]) && in.Has(w.Place.Line[len(w.Place.Line)/2]) {
				if w.parent == nil || v.Place.Length < w.parent.Place.Length {
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
