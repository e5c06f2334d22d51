package applique

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// outlines finds the lines that go round the whole block: before the first piece
// they are for cloth, after the last cover for batting and backing.
func (w *roleWork) outlines() {
	p := w.p
	first, last := len(p.sewn.Stops), -1
	var inner geom.Box
	for i, k := range p.work {
		first = min(first, k.Place.Stop)
		for _, s := range append(slices.Clone(k.Covers), k.Tack.Stop) {
			last = max(last, s)
		}
		b := k.Tack.Box
		if i == 0 {
			inner = b
		}
		inner.Lo.X, inner.Lo.Y = min(inner.Lo.X, b.Lo.X), min(inner.Lo.Y, b.Lo.Y)
		inner.Hi.X, inner.Hi.Y = max(inner.Hi.X, b.Hi.X), max(inner.Hi.Y, b.Hi.Y)
	}
	var before, after []*Trace
	for i := range p.traces {
		t := &p.traces[i]
		if t.role.Role != "" || !t.Closed || t.Kind != report.KindRun && t.Kind != report.KindDoubleRun && t.Kind != report.KindOpenZigzag || !encloses(t.Box, inner, 1) {
			continue
		}
		switch {
		case t.Stop < first && lone(p, t):
			before = append(before, t)
		case t.Stop > last && lone(p, t):
			after = append(after, t)
		}
	}
	switch n := len(before); n {
	case 0:
	case 1:
		w.add(before[0], report.RoleClothHoldDown, 0.5, 0, "the only line round everything before the applique")
	default:
		w.add(before[0], report.RoleClothOutline, 0.85, 0, "the first line round everything, before the applique")
		for i, t := range before[1:] {
			role := report.RoleClothHoldDown
			if i+1 < n-1 {
				role = report.RoleBattingHoldDown
			}
			w.add(t, role, 0.85, 0, "goes round the line of stop %d again", before[0].Stop+1)
		}
	}
	// The first line, or else the outermost, tells how far the block reaches; what
	// does not go its way afterwards is no hold-down.
	var block *Trace
	switch {
	case len(before) > 0:
		block = before[0]
	case len(after) > 0:
		block = after[0]
		for _, t := range after {
			if t.Box.Width()*t.Box.Height() > block.Box.Width()*block.Box.Height() {
				block = t
			}
		}
		if all := geom.BoxOf(p.sewn.Track.Pts); !encloses(block.Box, all, roundSlack) {
			return
		}
	default:
		return
	}
	var hold []*Trace
	for _, t := range after {
		if p.looks++; p.looks < 2*mostLooks && encloses(t.Box, block.Box, outlineSlack) && (t == block || Agree(block, t, roundSlack/2).Share >= FollowShare) {
			hold = append(hold, t)
		}
	}
	for i, t := range hold {
		switch {
		case i == 0 && (len(hold) > 1 || t.Stop < len(p.sewn.Stops)-1):
			w.add(t, report.RoleBattingHoldDown, 0.75, 0, "the first line round the whole block after the cover")
		case i == 0:
			w.add(t, report.RoleBackingHoldDown, 0.5, 0, "a line round the whole block at the very end")
		default:
			w.add(t, report.RoleBackingHoldDown, 0.75, 0, "another line round the whole block, after that of stop %d", hold[0].Stop+1)
		}
	}
	p.round = append(slices.Clone(before), hold...)
}

// lone reports whether a line is most of what its stop sews.
func lone(p *finder, t *Trace) bool {
	return t.sewn > 0.6*p.sewnMM[t.Stop]
}

// encloses reports whether box a reaches at least as far as box b on all sides,
// give or take slack mm.
func encloses(a, b geom.Box, slack float64) bool {
	return a.Lo.X <= b.Lo.X+slack && a.Lo.Y <= b.Lo.Y+slack && a.Hi.X >= b.Hi.X-slack && a.Hi.Y >= b.Hi.Y-slack
}
