package applique

import (
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

const (
	buriedLeast   = 10.0 // mm of stitching inside a piece's edge: cloth laid before it buries it
	embroideryMin = 20   // needle points inside a piece's edge: embroidery lies on it
	mostOnPiece   = 600  // needle points looked at for it
)

// findMissing finds what must be laid in the middle of a colour stop.
func (r *rehearsing) findMissing() {
	for _, l := range r.layers {
		m := MissingPause{What: l.what, Stop: l.hold.Stop, Hold: l.hold, Turn: l.side == report.Underside}
		if l.piece != nil {
			m.Piece = l.piece.Number
		}
		m.After, m.Buried = r.sewnFirst(l)
		if m.After == nil {
			continue
		}
		m.Cut = r.cutBetween(m.After, m.Hold)
		l.noPause = WithoutPause
		if m.Cut && (l.piece != nil || m.Buried) {
			l.noPause = ByHand
		}
		r.Missing = append(r.Missing, m)
	}
}

// sewnFirst is what the stop that holds a layer sews before it and what must come
// before the layer is laid: its own line, or the layer below; nil for none. It is
// buried where the layer, laid before the stop, would lie over it.
func (r *rehearsing) sewnFirst(l *layer) (first *Trace, buried bool) {
	for _, o := range r.layers {
		if o != l && o.piece == nil && l.piece == nil && o.hold.Stop == l.hold.Stop && o.hold.first < l.hold.first {
			first = o.hold // the layer below, which this one would hide from the scissors
		}
	}
	if l.mark != nil && l.mark.Stop == l.hold.Stop && l.mark.first < l.hold.first && (first == nil || l.mark.first > first.first) {
		first = l.mark
	}
	for i := range r.traces {
		t := &r.traces[i]
		if t.Stop != l.hold.Stop || t.first >= l.hold.first || t == l.mark || t == l.hold || r.own(l, t) {
			continue
		}
		switch {
		case l.faceDown:
			first, buried = t, true
		case l.side == report.Underside && l.piece == nil && first == nil && t.role.Role != report.RoleQuilting:
			first = t
		case l.piece != nil && !l.piece.PreCut && l.hold.Closed && !r.passes(t, l.hold) && insideLength(t, l.hold) >= buriedLeast:
			first, buried = t, true
		}
	}
	return first, buried
}

// passes reports whether a trace is a plain line that closes nowhere and belongs to no
// piece. In the stop of a tack-down it leads the thread to it from the middle or from
// the piece before, or holds the cloth across: it is sewn on cloth that lies already
// (common practice, no single source). Nobody digitises a figure for the cloth to bury.
// A triple line shows, and so it leads only where no cut parts it from the tack-down.
func (r *rehearsing) passes(t, hold *Trace) bool {
	return !t.Closed && t.role.Piece == 0 && (t.Kind == report.KindRun || t.Kind == report.KindDoubleRun ||
		t.Kind == report.KindTripleRun && !r.cutBetween(t, hold))
}

// own reports whether a trace is one of the lines of the layer itself.
func (r *rehearsing) own(l *layer, t *Trace) bool {
	if l.piece == nil {
		return t.role.Role != "" && l.hold.role.Role == t.role.Role
	}
	return t.role.Piece == l.piece.Number
}

// insideLength is how many mm of a trace lie inside a closed line.
func insideLength(t, closed *Trace) float64 {
	if !t.Box.Meets(closed.Box) {
		return 0
	}
	step := max(1, len(t.Line)/likenessSamples)
	in, n := 0, 0
	for i := 0; i < len(t.Line); i += step {
		n++
		if closed.Inside().Has(t.Line[i]) {
			in++
		}
	}
	return t.Length * float64(in) / float64(max(1, n))
}

// embroidered reports whether embroidery is sewn on a piece after its tack-down and
// before its cover, and nothing else is laid over its edge in between: then it may
// be trimmed after the embroidery too.
func (r *rehearsing) embroidered(k *Piece) bool {
	if !k.Tack.Closed {
		return false
	}
	for _, v := range r.work {
		if v != k && v.Held && !v.Hole && v.Tack.Stop > k.Tack.Stop && v.Tack.Stop < k.Covers[0] && v.Tack.Box.Meets(k.Tack.Box) {
			return false
		}
	}
	n := 0
	r.eachOver(k, func(geom.Point) bool { n++; return false })
	in, at, step := 0, 0, 1+n/mostOnPiece
	r.eachOver(k, func(q geom.Point) bool {
		if at%step == 0 && k.Tack.Inside().Has(q) {
			in++
		}
		at++
		return in >= embroideryMin
	})
	return in >= embroideryMin
}

// eachOver calls f for the needle holes of embroidery, between the tack-down of a piece and
// its cover, in the box around the tack-down, until one of the calls gives true.
func (r *rehearsing) eachOver(k *Piece, f func(q geom.Point) bool) {
	b := k.Tack.Box
	for s := k.Tack.Stop + 1; s < k.Covers[0]; s++ {
		if r.linesOnly(s) {
			continue
		}
		for _, g := range r.sewn.Track.Of(s) {
			for _, q := range r.sewn.Track.Pts[g.First:g.Last] {
				if q.X > b.Lo.X && q.X < b.Hi.X && q.Y > b.Lo.Y && q.Y < b.Hi.Y && f(q) {
					return
				}
			}
		}
	}
}

// linesOnly reports whether a stop sews lines for pieces and layers, covers, and no
// embroidery.
func (r *rehearsing) linesOnly(stop int) bool {
	switch r.roles[stop].Role {
	case report.RoleDecoration, report.RoleStitching, report.RoleQuilting:
		return false
	}
	return true
}
