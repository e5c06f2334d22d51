package analyse

import "slices"

// outlines finds the lines that go round the whole block: before the first piece
// they are for cloth, after the last cover for batting and backing.
func (w *roleWork) outlines() {
	p := w.p
	first, last := len(p.sewn.Stops), -1
	var inner box
	for i, k := range p.work {
		first = min(first, k.place.stop)
		for _, s := range append(slices.Clone(k.covers), k.tack.stop) {
			last = max(last, s)
		}
		b := k.tack.box
		if i == 0 {
			inner = b
		}
		inner.lo.X, inner.lo.Y = min(inner.lo.X, b.lo.X), min(inner.lo.Y, b.lo.Y)
		inner.hi.X, inner.hi.Y = max(inner.hi.X, b.hi.X), max(inner.hi.Y, b.hi.Y)
	}
	var before, after []*trace
	for i := range p.traces {
		t := &p.traces[i]
		if t.role.Role != "" || !t.closed || t.kind != KindRun && t.kind != KindDoubleRun && t.kind != KindOpenZigzag || !encloses(t.box, inner, 1) {
			continue
		}
		switch {
		case t.stop < first && lone(p, t):
			before = append(before, t)
		case t.stop > last && lone(p, t):
			after = append(after, t)
		}
	}
	switch n := len(before); n {
	case 0:
	case 1:
		w.add(before[0], RoleClothHoldDown, 0.5, 0, "the only line round everything before the applique")
	default:
		w.add(before[0], RoleClothOutline, 0.85, 0, "the first line round everything, before the applique")
		for i, t := range before[1:] {
			role := RoleClothHoldDown
			if i+1 < n-1 {
				role = RoleBattingHoldDown
			}
			w.add(t, role, 0.85, 0, "goes round the line of stop %d again", before[0].stop+1)
		}
	}
	// The first line, or else the outermost, tells how far the block reaches; what
	// does not go its way afterwards is no hold-down.
	var block *trace
	switch {
	case len(before) > 0:
		block = before[0]
	case len(after) > 0:
		block = after[0]
		for _, t := range after {
			if t.box.width()*t.box.height() > block.box.width()*block.box.height() {
				block = t
			}
		}
		if all := boxOf(p.sewn.Track.Pts); !encloses(block.box, all, roundSlack) {
			return
		}
	default:
		return
	}
	var hold []*trace
	for _, t := range after {
		if p.looks++; p.looks < 2*mostLooks && encloses(t.box, block.box, outlineSlack) && (t == block || agree(block, t, roundSlack/2).share >= followShare) {
			hold = append(hold, t)
		}
	}
	for i, t := range hold {
		switch {
		case i == 0 && (len(hold) > 1 || t.stop < len(p.sewn.Stops)-1):
			w.add(t, RoleBattingHoldDown, 0.75, 0, "the first line round the whole block after the cover")
		case i == 0:
			w.add(t, RoleBackingHoldDown, 0.5, 0, "a line round the whole block at the very end")
		default:
			w.add(t, RoleBackingHoldDown, 0.75, 0, "another line round the whole block, after that of stop %d", hold[0].stop+1)
		}
	}
	p.round = append(slices.Clone(before), hold...)
}

// lone reports whether a line is most of what its stop sews.
func lone(p *finder, t *trace) bool {
	return t.sewn > 0.6*p.sewnMM[t.stop]
}

// encloses reports whether box a reaches at least as far as box b on all sides,
// give or take slack mm.
func encloses(a, b box, slack float64) bool {
	return a.lo.X <= b.lo.X+slack && a.lo.Y <= b.lo.Y+slack && a.hi.X >= b.hi.X-slack && a.hi.Y >= b.hi.Y-slack
}
