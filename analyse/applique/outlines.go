package applique

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// Lines round the whole block. Hold-downs of cloth, batting and backing lie on the
// first outline or a little outside it; batting may be held a seam's width inside
// (common practice, no single source).
const (
	outlineSlack = 4.0  // mm: a hold-down may lie this far inside the outline on any side
	seamInside   = 8.5  // mm: batting that the backing hides may lie this far inside it: a seam of 1/4 in and 2 mm
	roundSlack   = 12.0 // mm: a line round the block may stay this far inside all that is sewn
	roundLeast   = 0.6  // share of a stop's thread that lines round the block have where they hold something
	roundAll     = 1.0  // mm: a line that stays no further inside all that is sewn goes round the block whatever else its stop sews
	edgeReach    = 6.0  // mm: the satin edge of a badge reaches this far past its last line
	twiceWithin  = 0.25 // mm: what one stop sews so near to a line is that line sewn twice
	figuredLeast = 1.4  // times as long as the way round its box; outlines of blocks are at most 1.2 times so long, scalloped ones too
	knotStitch   = 1.2  // mm: lines that hold a layer are sewn in stitches of 2 to 4 mm, knots in shorter ones, and the travel between counts too
	envelopeIn   = 0.3  // mm: a last seam that lies so far inside the first lines on all sides hides them when the work is turned out
)

// layerLine is a line round the whole block: one that shows where something is to
// lie, or one that holds it.
type layerLine struct {
	t        *Trace
	what     report.Material
	holds    bool
	faceDown bool    // it holds a backing that lies face down on the front
	gap      float64 // mm left open to turn the block through
	badge    bool    // it holds the backing of a badge, which is cut with the face
	unsure   bool    // it may be a last line that holds nothing
	envelope bool    // it may hold a back of two folded halves, face down on the front
}

// outlines finds the lines that go round the whole block: before the first piece
// they are for cloth, or for batting under it, after the last cover for batting
// and backing.
func (w *roleWork) outlines(on worked) {
	p := w.p
	before, after := w.roundLines(on.inner, on.first, on.last)
	after = withoutFrames(after, len(before) > 0)
	w.before(before)
	block := blockLine(p, before, after)
	if block == nil {
		w.badge()
		return
	}
	var hold []*Trace
	gap := map[*Trace]float64{}
	for _, t := range slices.Backward(after) {
		// Only batting is held further inside, and then the backing follows.
		slack := outlineSlack
		if len(hold) > 0 {
			slack = seamInside
		}
		if !encloses(t.Box, block.Box, slack) || !p.mayCompare() {
			continue
		}
		if g := gapOf(block, t); g > 0 {
			gap[t] = g
			hold = append(hold, t)
		} else if t == block || alike(block, t, max(slack, roundSlack/2)) {
			hold = append(hold, t)
		}
	}
	slices.Reverse(hold)
	hold, again := p.sewnOn(hold)
	w.after(hold, gap)
	for _, l := range again {
		if r := l[0].role; r.Role != "" {
			w.add(l[1], r.Role, r.Confidence, 0, "the same line again, sewn on")
		}
	}
	p.closesInside()
	for _, l := range p.layers {
		p.round = append(p.round, l.t)
	}
}

// sewnOn takes lines out of others that the one before is, sewn once more in its stop
// without a cut or a tie-off: one layer is held, and held twice. Those it gives with the line they are.
func (p *finder) sewnOn(lines []*Trace) (once []*Trace, again [][2]*Trace) {
	for _, t := range lines {
		if n := len(once); n > 0 && once[n-1].Stop == t.Stop && offsetOf(once[n-1], t) < twiceWithin && !p.partedBetween(once[n-1], t) {
			again = append(again, [2]*Trace{once[n-1], t})
			continue
		}
		once = append(once, t)
	}
	return once, again
}

// closesInside tells a last seam that closes inside all lines round the block before
// it: it may hold a back of two folded halves, laid face down on the front.
func (p *finder) closesInside() {
	n := len(p.layers)
	if n < 2 {
		return
	}
	l := &p.layers[n-1]
	if l.what != report.Backing || l.faceDown || !l.t.Closed || l.t.Stop != len(p.sewn.Stops)-1 {
		return
	}
	l.envelope = !slices.ContainsFunc(p.layers[:n-1], func(o layerLine) bool { return !encloses(o.t.Box, l.t.Box, -envelopeIn) })
}

// leaveBlock takes back pieces that are the block itself: lines round all other
// pieces, sewn before them, with no satin over their edge. They are for cloth or
// batting, and a zigzag that goes round them when the pieces are done is a hold-down.
func (p *finder) leaveBlock() {
	block := func(k *Piece) bool {
		if k.Hole || k.Finish == report.FinishSatin || !k.Tack.Closed || p.onBlock(k) {
			return false
		}
		others := 0
		for _, v := range p.work {
			if v == k || v.Hole {
				continue
			}
			if len(v.Covers) > 0 {
				others++
				if v.Place.Stop < k.Tack.Stop || len(k.Covers) > 0 && k.Covers[0] < v.Covers[len(v.Covers)-1] {
					return false
				}
			}
			if !encloses(k.Tack.Box, v.Tack.Box, 0) {
				return false
			}
		}
		return others > 0
	}
	p.work = slices.DeleteFunc(p.work, block)
}

// sameLine reports whether two lines are one, sewn again.
func (p *finder) sameLine(a, b *Trace) bool {
	return BoxesAlike(a.Box, b.Box, 2*tackNear) && p.follow(a, b, tackNear)
}

func joined(a, b geom.Box) geom.Box {
	a.Lo.X, a.Lo.Y = min(a.Lo.X, b.Lo.X), min(a.Lo.Y, b.Lo.Y)
	a.Hi.X, a.Hi.Y = max(a.Hi.X, b.Hi.X), max(a.Hi.Y, b.Hi.Y)
	return a
}

// roundLines are the lines round everything in the inner box: those sewn before the
// first stop given and those after the last.
func (w *roleWork) roundLines(inner geom.Box, first, last int) (before, after []*Trace) {
	p := w.p
	lines, fits := w.linesRound(inner, false, func(t *Trace) bool { return t.Stop < first })
	for _, t := range lines {
		switch {
		case !fits(t), !encloses(t.Box, inner, 1) && !w.twoGoSo(lines, t):
		case len(before) > 0 && !alike(before[0], t, roundSlack/2) && !(encloses(t.Box, before[0].Box, 0) && alike(before[0], t, seamInside)): // it goes another way than the outline, or than batting inside its seam
		default:
			before = append(before, t)
		}
	}
	// What is held later may lie inside the border of pieces that reach to that of the
	// block, and pieces may reach into its seam.
	atBorder := len(before) > 0 && !encloses(before[0].Box, inner.Grown(seamInside), 0)
	if len(before) > 0 {
		b := before[0].Box
		inner = geom.Box{Lo: geom.Point{X: max(inner.Lo.X, b.Lo.X), Y: max(inner.Lo.Y, b.Lo.Y)}, Hi: geom.Point{X: min(inner.Hi.X, b.Hi.X), Y: min(inner.Hi.Y, b.Hi.Y)}}
	}
	lines, fits = w.linesRound(inner, true, func(t *Trace) bool { return t.Stop > last })
	for _, t := range lines {
		if (atBorder || encloses(t.Box, inner, 1)) && (fits(t) || encloses(t.Box, p.all, roundAll)) {
			after = append(after, t)
		}
	}
	return before, after
}

// linesRound are the lines of some stops that go round the inner box but for a seam's width,
// and tells of which such lines are most of what their stop sews. Gapped lines may leave a
// gap to turn the work through.
func (w *roleWork) linesRound(inner geom.Box, gapped bool, of func(*Trace) bool) (round []*Trace, fits func(*Trace) bool) {
	sewn := map[int]float64{}
	for i := range w.p.traces {
		t := &w.p.traces[i]
		if of(t) && t.role.Role == "" && isLine(t) && encloses(t.Box, inner, seamInside) && (t.goesRound() || gapped && t.Opening < gapMost*t.Length) && !figured(t) && !w.edgeOfPiece(t) {
			round = append(round, t)
			sewn[t.Stop] += t.sewn
		}
	}
	return round, func(t *Trace) bool { return sewn[t.Stop] > roundLeast*w.p.sewnMM[t.Stop] }
}

// twoGoSo reports whether another of the lines before the first piece goes the way of one, in
// a stop of its own: pieces that reach into the seam of a block lie over its outline, and
// over the line that holds its cloth.
func (w *roleWork) twoGoSo(round []*Trace, t *Trace) bool {
	return slices.ContainsFunc(round, func(o *Trace) bool { return o.Stop != t.Stop && w.p.follow(o, t, outlineSlack) })
}

// figured reports whether a line is knots or figures in a row, joined by travel: those
// adorn a border and hold no layer down.
func figured(t *Trace) bool {
	holes := 0
	for _, s := range t.Spans {
		holes += s[1] - s[0]
	}
	return t.Length > figuredLeast*2*(t.Box.Width()+t.Box.Height()) || t.sewn < knotStitch*float64(holes)
}

// edgeOfPiece reports whether a line goes along the edge of a piece: it belongs to
// the piece then, and holds nothing else.
func (w *roleWork) edgeOfPiece(t *Trace) bool {
	for _, k := range w.p.work {
		if BoxesAlike(k.Tack.Box, t.Box, 2*FollowWithin) && w.p.follow(k.Tack, t, FollowWithin) {
			return true
		}
	}
	return false
}

// isLine reports whether a trace is of a kind that holds cloth down.
func isLine(t *Trace) bool {
	if t.knots {
		return false
	}
	switch t.Kind {
	case report.KindRun, report.KindDoubleRun, report.KindTripleRun, report.KindOpenZigzag:
		return true
	}
	return false
}

// blockLine is the line that tells how far the block reaches: the one that holds the
// block cloth, or else the outermost of those after the pieces. What does not go its way afterwards is no
// hold-down.
func blockLine(p *finder, before, after []*Trace) *Trace {
	if len(before) > 0 {
		return before[len(before)-1]
	}
	if len(after) == 0 {
		return nil
	}
	block := after[0]
	for _, t := range after {
		if t.Box.Width()*t.Box.Height() > block.Box.Width()*block.Box.Height() {
			block = t
		}
	}
	if !encloses(block.Box, p.all, roundSlack) {
		return nil
	}
	return block
}

func (w *roleWork) layer(t *Trace, role string, what report.Material, holds bool, confidence float64, reason string, args ...any) *layerLine {
	if !w.p.said.mayBe(t.Stop, role) {
		return new(layerLine) // none: the person knows better
	}
	w.add(t, role, confidence, 0, reason, args...)
	w.p.layers = append(w.p.layers, layerLine{t: t, what: what, holds: holds})
	return &w.p.layers[len(w.p.layers)-1]
}

// drop takes the role of a trace back.
func (w *roleWork) drop(t *Trace) {
	if i := slices.IndexFunc(w.parts[t.Stop], func(v weighed) bool { return v.Part == t.role }); i >= 0 {
		w.parts[t.Stop] = slices.Delete(w.parts[t.Stop], i, i+1)
	}
	t.role = report.Part{}
}

// sameLines joins what goes the same way in one stop: a line sewn twice.
func sameLines(lines []*Trace) [][]*Trace {
	var out [][]*Trace
	for _, t := range lines {
		if n := len(out); n > 0 && out[n-1][0].Stop == t.Stop && offsetOf(out[n-1][0], t) < twiceWithin {
			out[n-1] = append(out[n-1], t)
			continue
		}
		out = append(out, []*Trace{t})
	}
	return out
}

// before names the lines round the block that come before the pieces. The first
// shows where cloth lies and the last holds it. What is held between is batting: it
// is laid first, under the cloth.
func (w *roleWork) before(lines []*Trace) {
	ways := sameLines(lines)
	n := len(ways)
	for i, here := range ways {
		for _, t := range here {
			switch {
			case n == 1:
				w.layer(t, report.RoleClothHoldDown, report.BlockCloth, true, 0.5, "the only line round everything before the applique")
			case i == 0:
				what := report.BlockCloth
				if n > 2 {
					what = report.Batting
				}
				w.layer(t, report.RoleClothOutline, what, false, 0.85, "the first line round everything, before the applique")
			case i == n-1:
				w.layer(t, report.RoleClothHoldDown, report.BlockCloth, true, 0.85, "goes round the line of stop %d again", lines[0].Stop+1)
			case i == 2 && n == 4:
				w.layer(t, report.RoleClothOutline, report.BlockCloth, false, 0.7, "a line round the batting that stop %d holds", ways[1][0].Stop+1)
			default:
				w.layer(t, report.RoleBattingHoldDown, report.Batting, true, 0.8, "goes round the line of stop %d again, before the block cloth is held", lines[0].Stop+1)
			}
		}
	}
}

// after names the lines round the block that follow the pieces: batting, then
// backing, or the backing alone where the batting lies there already. A last seam
// with a gap holds a backing that is laid face down, to be turned out.
func (w *roleWork) after(lines []*Trace, gap map[*Trace]float64) {
	battingLies := slices.ContainsFunc(w.p.layers, func(l layerLine) bool { return l.what == report.Batting && l.holds })
	end := len(w.p.sewn.Stops) - 1
	n := len(lines)
	var firstHold *Trace
	for i, t := range lines {
		switch {
		case gap[t] > 0 && t.Stop == end:
			l := w.layer(t, report.RoleBackingHoldDown, report.Backing, true, 0.8, "a last seam round the whole block with a gap of %.0f mm: a backing laid face down is turned out through it", gap[t])
			l.faceDown, l.gap = true, gap[t]
		case firstHold != nil:
			w.layer(t, report.RoleBackingHoldDown, report.Backing, true, 0.75, "another line round the whole block, after that of stop %d", firstHold.Stop+1)
		case battingLies:
			w.layer(t, report.RoleBackingHoldDown, report.Backing, true, 0.7, "a line round the whole block after the cover; the batting lies under the cloth already")
		case i+1 < n || t.Stop < end:
			w.layer(t, report.RoleBattingHoldDown, report.Batting, true, 0.75, "the first line round the whole block after the cover")
		default:
			w.layer(t, report.RoleBackingHoldDown, report.Backing, true, 0.5, "a line round the whole block at the very end").unsure = true
		}
		if firstHold == nil {
			firstHold = t
		}
	}
}

// badge finds the line that holds the backing of a badge: what is sewn on the felt
// is done, and a stop of its own goes round the edge once more before the satin.
func (w *roleWork) badge() {
	p := w.p
	all := p.all
	for _, k := range p.work {
		if !k.Held || k.Hole || len(k.Covers) == 0 || !k.Tack.Closed || !encloses(k.Tack.Box, all, edgeReach) {
			continue
		}
		for i := range p.traces {
			t := &p.traces[i]
			if t.role.Role != "" && t.role.Role != report.RoleEdgeRun || !isLine(t) || !t.Closed || t.Stop <= k.Tack.Stop+1 || t.Stop >= k.Covers[0] || t.sewn <= roundLeast*p.sewnMM[t.Stop] {
				continue
			}
			if !p.follow(k.Tack, t, FollowWithin) {
				continue
			}
			w.drop(t)
			w.layer(t, report.RoleBackingHoldDown, report.Backing, true, 0.7, "goes round the whole edge once more before the satin of stop %d, when all else is sewn: it holds a backing", k.Covers[0]+1).badge = true
			return
		}
	}
}

// encloses reports whether box a reaches at least as far as box b on all sides,
// give or take slack mm.
func encloses(a, b geom.Box, slack float64) bool {
	return a.Lo.X <= b.Lo.X+slack && a.Lo.Y <= b.Lo.Y+slack && a.Hi.X >= b.Hi.X-slack && a.Hi.Y >= b.Hi.Y-slack
}
