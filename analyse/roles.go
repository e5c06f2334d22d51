package analyse

import (
	"fmt"
	"math"
	"slices"
)

const (
	besideWithin = 1.6  // mm: a line this near satin runs along it
	besideShare  = 0.8  // of its length
	outlineSlack = 4.0  // mm: hold-downs lie this far round the first outline
	roundSlack   = 12.0 // mm that a line round the block may stay inside it
)

// roleWork collects what the parts of each stop do, with how much of the stop
// does it.
type roleWork struct {
	p     *finder
	parts [][]weighed // by stop
}

type weighed struct {
	Part
	weight float64 // mm of thread
}

// findRoles says what each colour stop is for, from its geometry and its place in
// the order alone. It starts from the applique pieces; where there are none the
// roles stay at "stitching", so that no step is asked for that nobody needs.
func (p *finder) findRoles() {
	p.roles = make([]StopRole, len(p.sewn.Stops))
	p.sewnBy = make([][KindCount]float64, len(p.sewn.Stops))
	for i := range p.sewn.Passages {
		g := &p.sewn.Passages[i]
		p.sewnBy[g.Stop-1][g.Kind] += g.LengthMM
	}
	for i := range p.roles {
		p.roles[i] = StopRole{Role: RoleStitching, Confidence: 0.3, Reason: p.describe(i), Parts: []Part{}}
	}
	if len(p.work) == 0 {
		return
	}
	w := &roleWork{p: p, parts: make([][]weighed, len(p.roles))}
	w.pieces()
	w.outlines()
	w.rest()
	w.settle()
}

func (w *roleWork) add(t *trace, role string, confidence float64, piece int, reason string, args ...any) {
	w.parts[t.stop] = append(w.parts[t.stop], weighed{
		Part{role, confidence, fmt.Sprintf(reason, args...), piece}, t.sewn})
	t.role = w.parts[t.stop][len(w.parts[t.stop])-1].Part
}

// pieces gives the roles that the applique pieces tell.
func (w *roleWork) pieces() {
	p := w.p
	for _, k := range p.work {
		round := ""
		if k.tack.times > 1 {
			round = ", twice round"
		}
		sure := 0.95
		if k.place.stop+1 != k.tack.stop && k.held {
			sure = 0.85
		}
		after := "later stitching"
		if len(k.covers) > 0 {
			after = fmt.Sprintf("the satin of stop %d", k.covers[0]+1)
			if k.finish != nil && k.finish.stop == k.covers[0] {
				after = fmt.Sprintf("the zigzag of stop %d", k.covers[0]+1)
			}
		} else {
			sure = 0.6
		}
		switch {
		case !k.held:
			w.add(k.place, RolePlacementLine, 0.6, k.number, "a single line that %s lies over, with no tack-down between", after)
		case k.hole:
			w.add(k.place, RolePlacementLine, sure, k.number, "a line inside piece %d that stop %d follows: a hole in the cloth", k.number, k.tack.stop+1)
			w.add(k.tack, RoleTackDown, sure, k.number, "follows the inner line of stop %d within %.1f mm%s", k.place.stop+1, max(0.1, k.like.most), round)
		case len(k.covers) == 0:
			w.add(k.place, RolePlacementLine, sure, k.number, "a line that stop %d goes over with a zigzag", k.tack.stop+1)
			w.add(k.tack, RoleTackDown, sure, k.number, "an open zigzag over the line of stop %d; no satin follows", k.place.stop+1)
		default:
			w.add(k.place, RolePlacementLine, sure, k.number, "a line that stop %d follows and %s lies over", k.tack.stop+1, after)
			w.add(k.tack, RoleTackDown, sure, k.number, "follows the line of stop %d within %.1f mm%s, before %s", k.place.stop+1, max(0.1, k.like.most), round, after)
		}
	}
	for _, k := range p.work {
		for _, t := range k.also {
			if k.held && t.stop == k.tack.stop && t.role.Role == "" {
				w.add(t, RoleTackDown, 0.85, k.number, "follows the line of stop %d beside the tack-down", k.place.stop+1)
			}
		}
	}
	// Satin and zigzag that cover an edge, trace by trace.
	for i := range p.traces {
		t := &p.traces[i]
		if t.role.Role != "" || !t.kind.Surface() {
			continue
		}
		for _, k := range p.work {
			if !slices.Contains(k.covers, t.stop) || !t.box.meets(k.tack.box.grown(coverBeside)) {
				continue
			}
			if t.kind == KindOpenZigzag && k.finish != t {
				continue
			}
			if share := w.over(t, k); share >= 0.5 {
				what := "satin"
				switch t.kind {
				case KindOpenZigzag:
					what = "an open zigzag"
				case KindFill:
					what = "close rows of stitching"
				}
				w.add(t, RoleCoverSatin, 0.95, k.number, "%s over the edge of piece %d, tacked down in stop %d", what, k.number, k.tack.stop+1)
				break
			}
		}
	}
}

// over is the share of a band's centre line that lies by the edge of a piece.
func (w *roleWork) over(t *trace, k *pieceWork) float64 {
	near, n := 0, 0
	step := max(1, len(t.line)/likenessSamples)
	half := 1.5
	for _, b := range t.bands[:min(1, len(t.bands))] {
		band := &w.p.satin.Bands[b]
		m := len(band.Left) / 2
		half = max(half, distance(band.Left[m], band.Right[m])/2+0.5)
	}
	g := k.tack.near()
	for i := 0; i < len(t.line); i += step {
		n++
		if g.nearest(t.line[i], half) <= half {
			near++
		}
	}
	return float64(near) / float64(max(1, n))
}

// rest names what stands beside or between the applique.
func (w *roleWork) rest() {
	p := w.p
	covering := map[int32]bool{}
	lastCover := -1
	for i := range p.traces {
		t := &p.traces[i]
		if t.role.Role == RoleCoverSatin {
			lastCover = max(lastCover, t.stop)
			for _, b := range t.bands {
				covering[int32(b)] = true
			}
		}
	}
	hold := -1
	for i := range w.parts {
		for _, k := range w.parts[i] {
			if (k.Role == RoleBattingHoldDown || k.Role == RoleBackingHoldDown) && i > lastCover && hold < 0 {
				hold = i
			}
		}
	}
	for i := range p.traces {
		t := &p.traces[i]
		if t.role.Role != "" || t.kind == KindSatin || t.kind == KindFill {
			continue
		}
		if stop, piece := w.beside(t, covering); stop >= 0 {
			w.add(t, RoleEdgeRun, 0.75, piece, "runs along the satin of stop %d", stop+1)
			continue
		}
		if hold >= 0 && t.stop >= hold && t.kind != KindOpenZigzag {
			w.add(t, RoleQuilting, 0.75, 0, "running stitches after the hold-down of stop %d", hold+1)
		}
	}
}

// beside gives the stop of the cover satin that a line runs along, and the
// piece, or -1.
func (w *roleWork) beside(t *trace, covering map[int32]bool) (stop, piece int) {
	p := w.p
	step := max(1, len(t.line)/likenessSamples)
	n, near := 0, 0
	stop = -1
	for i := 0; i < len(t.line); i += step {
		n++
		hit := false
		p.cover.near(t.line[i], besideWithin, math.Inf(1), func(b int32, _ Point) {
			if !covering[b] {
				return
			}
			hit = true
			stop = p.satin.Bands[b].Stop
		})
		if hit {
			near++
		}
	}
	if float64(near) < besideShare*float64(n) {
		return -1, 0
	}
	return stop, 0
}

// settle gives each stop the role that most of its thread has, and lists the
// parts where a stop does several things.
func (w *roleWork) settle() {
	p := w.p
	for i := range p.roles {
		s := &p.roles[i]
		byRole := map[string]float64{}
		var known float64
		for _, k := range w.parts[i] {
			byRole[k.Role] += k.weight
			known += k.weight
		}
		best, most := RoleDecoration, max(0, p.sewnMM[i]-known)
		for _, role := range roleOrder {
			// Placement, tack-down and cover decide what hands do, so they win
			// over what else a stop sews.
			v := byRole[role]
			if role == RolePlacementLine || role == RoleTackDown || role == RoleCoverSatin {
				v *= 2
			}
			if v > most {
				best, most = role, v
			}
		}
		if best == RoleDecoration {
			s.Role, s.Confidence, s.Reason = best, 0.5, s.Reason+", not on any applique line"
		}
		for _, k := range w.parts[i] {
			if k.Role == best && s.Role != best {
				s.Role, s.Confidence, s.Reason = best, k.Confidence, k.Reason
			}
		}
		w.listParts(s, i)
	}
}

var roleOrder = []string{RolePlacementLine, RoleTackDown, RoleCoverSatin, RoleClothOutline, RoleClothHoldDown,
	RoleBattingHoldDown, RoleBackingHoldDown, RoleEdgeRun, RoleQuilting}

// listParts fills in the parts of a stop that does several things.
func (w *roleWork) listParts(s *StopRole, i int) {
	var parts []Part
	for _, k := range w.parts[i] {
		if !slices.ContainsFunc(parts, func(q Part) bool { return q.Role == k.Role && q.Piece == k.Piece }) {
			parts = append(parts, k.Part)
		}
	}
	if len(parts) > 1 {
		s.Parts = parts
	}
}

// describe says in plain words what a stop's stitching looks like.
func (p *finder) describe(stop int) string {
	by := &p.sewnBy[stop]
	best := KindRun
	for k := range by {
		if Kind(k) != KindTie && Kind(k) != KindTravel && by[k] > by[best] {
			best = Kind(k)
		}
	}
	switch best {
	case KindSatin:
		return "mostly satin"
	case KindTripleRun:
		return "a triple line"
	case KindDoubleRun:
		return "a line sewn twice"
	case KindOpenZigzag:
		return "an open zigzag"
	case KindFill:
		return "filled areas"
	}
	return "running lines"
}
