package applique

import (
	"fmt"
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

const (
	besideWithin = 1.6 // mm: a line this near satin runs along it
	besideShare  = 0.8 // of its length
)

// roleWork collects what the parts of each stop do, with how much of the stop
// does it.
type roleWork struct {
	p     *finder
	parts [][]weighed // by stop
}

type weighed struct {
	report.Part
	weight float64 // mm of thread
}

// findRoles says what each colour stop is for, from its geometry and its place in
// the order alone. It starts from the applique pieces; where there are none the
// roles stay at "stitching", so that no step is asked for that nobody needs.
func (p *finder) findRoles() {
	p.roles = make([]StopRole, len(p.sewn.Stops))
	p.sewnBy = make([][report.KindCount]float64, len(p.sewn.Stops))
	for i := range p.sewn.Passages {
		g := &p.sewn.Passages[i]
		p.sewnBy[g.Stop-1][g.Kind] += g.LengthMM
	}
	for i := range p.roles {
		p.roles[i] = StopRole{Role: report.RoleStitching, Confidence: 0.3, Reason: p.describe(i), Parts: []report.Part{}}
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

func (w *roleWork) add(t *Trace, role string, confidence float64, piece int, reason string, args ...any) {
	w.parts[t.Stop] = append(w.parts[t.Stop], weighed{
		report.Part{Role: role, Confidence: confidence, Reason: fmt.Sprintf(reason, args...), Piece: piece}, t.sewn})
	t.role = w.parts[t.Stop][len(w.parts[t.Stop])-1].Part
}

// pieces gives the roles that the applique pieces tell.
func (w *roleWork) pieces() {
	p := w.p
	for _, k := range p.work {
		round := ""
		if k.Tack.times > 1 {
			round = ", twice round"
		}
		sure := 0.95
		if k.Place.Stop+1 != k.Tack.Stop && k.Held {
			sure = 0.85
		}
		after := "later stitching"
		if len(k.Covers) > 0 {
			after = fmt.Sprintf("the satin of stop %d", k.Covers[0]+1)
			if k.finish != nil && k.finish.Stop == k.Covers[0] {
				after = fmt.Sprintf("the zigzag of stop %d", k.Covers[0]+1)
			}
		} else {
			sure = 0.6
		}
		switch {
		case !k.Held:
			w.add(k.Place, report.RolePlacementLine, 0.6, k.Number, "a single line that %s lies over, with no tack-down between", after)
		case k.Hole:
			w.add(k.Place, report.RolePlacementLine, sure, k.Number, "a line inside piece %d that stop %d follows: a hole in the cloth", k.Number, k.Tack.Stop+1)
			w.add(k.Tack, report.RoleTackDown, sure, k.Number, "follows the inner line of stop %d within %.1f mm%s", k.Place.Stop+1, max(0.1, k.Like.Most), round)
		case len(k.Covers) == 0:
			w.add(k.Place, report.RolePlacementLine, sure, k.Number, "a line that stop %d goes over with a zigzag", k.Tack.Stop+1)
			w.add(k.Tack, report.RoleTackDown, sure, k.Number, "an open zigzag over the line of stop %d; no satin follows", k.Place.Stop+1)
		default:
			w.add(k.Place, report.RolePlacementLine, sure, k.Number, "a line that stop %d follows and %s lies over", k.Tack.Stop+1, after)
			w.add(k.Tack, report.RoleTackDown, sure, k.Number, "follows the line of stop %d within %.1f mm%s, before %s", k.Place.Stop+1, max(0.1, k.Like.Most), round, after)
		}
	}
	for _, k := range p.work {
		for _, t := range k.also {
			if k.Held && t.Stop == k.Tack.Stop && t.role.Role == "" {
				w.add(t, report.RoleTackDown, 0.85, k.Number, "follows the line of stop %d beside the tack-down", k.Place.Stop+1)
			}
		}
	}
	// Satin and zigzag that cover an edge, trace by trace.
	for i := range p.traces {
		t := &p.traces[i]
		if t.role.Role != "" || !t.Kind.Surface() {
			continue
		}
		for _, k := range p.work {
			if !slices.Contains(k.Covers, t.Stop) || !t.Box.Meets(k.Tack.Box.Grown(coverBeside)) {
				continue
			}
			if t.Kind == report.KindOpenZigzag && k.finish != t {
				continue
			}
			if share := w.over(t, k); share >= 0.5 {
				what := "satin"
				switch t.Kind {
				case report.KindOpenZigzag:
					what = "an open zigzag"
				case report.KindFill:
					what = "close rows of stitching"
				}
				w.add(t, report.RoleCoverSatin, 0.95, k.Number, "%s over the edge of piece %d, tacked down in stop %d", what, k.Number, k.Tack.Stop+1)
				break
			}
		}
	}
}

// over is the share of a band's centre line that lies by the edge of a piece.
func (w *roleWork) over(t *Trace, k *Piece) float64 {
	near, n := 0, 0
	step := max(1, len(t.Line)/likenessSamples)
	half := 1.5
	for _, b := range t.Bands[:min(1, len(t.Bands))] {
		band := &w.p.satin.Bands[b]
		m := len(band.Left) / 2
		half = max(half, geom.Distance(band.Left[m], band.Right[m])/2+0.5)
	}
	g := k.Tack.Near()
	for i := 0; i < len(t.Line); i += step {
		n++
		if g.Nearest(t.Line[i], half) <= half {
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
		if t.role.Role == report.RoleCoverSatin {
			lastCover = max(lastCover, t.Stop)
			for _, b := range t.Bands {
				covering[int32(b)] = true
			}
		}
	}
	hold, under := -1, -1
	for i := range p.layers {
		if l := &p.layers[i]; l.what == report.Batting && l.holds && l.t.Stop < lastCover {
			under = l.t.Stop
		}
	}
	for i := range w.parts {
		for _, k := range w.parts[i] {
			if (k.Role == report.RoleBattingHoldDown || k.Role == report.RoleBackingHoldDown) && i > lastCover && hold < 0 {
				hold = i
			}
		}
	}
	for i := range p.traces {
		t := &p.traces[i]
		if t.role.Role != "" || t.Kind == report.KindSatin || t.Kind == report.KindFill {
			continue
		}
		if stop, piece := w.beside(t, covering); stop >= 0 {
			w.add(t, report.RoleEdgeRun, 0.75, piece, "runs along the satin of stop %d", stop+1)
			continue
		}
		if hold >= 0 && t.Stop >= hold && t.Kind != report.KindOpenZigzag {
			w.add(t, report.RoleQuilting, 0.75, 0, "running stitches after the hold-down of stop %d", hold+1)
		} else if under >= 0 && t.Stop > lastCover && t.Kind != report.KindOpenZigzag {
			w.add(t, report.RoleQuilting, 0.6, 0, "running stitches after the last cover, through the batting that stop %d holds", under+1)
		}
	}
}

// beside gives the stop of the cover satin that a line runs along, and the
// piece, or -1.
func (w *roleWork) beside(t *Trace, covering map[int32]bool) (stop, piece int) {
	p := w.p
	step := max(1, len(t.Line)/likenessSamples)
	n, near := 0, 0
	stop = -1
	for i := 0; i < len(t.Line); i += step {
		n++
		hit := false
		p.cover.Near(t.Line[i], besideWithin, math.Inf(1), func(b int32, _ geom.Point) {
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
		best, most := report.RoleDecoration, max(0, p.sewnMM[i]-known)
		for _, role := range roleOrder {
			// Placement, tack-down and cover decide what hands do, so they win
			// over what else a stop sews.
			v := byRole[role]
			if role == report.RolePlacementLine || role == report.RoleTackDown || role == report.RoleCoverSatin {
				v *= 2
			}
			if v > most {
				best, most = role, v
			}
		}
		if best == report.RoleDecoration {
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

var roleOrder = []string{report.RolePlacementLine, report.RoleTackDown, report.RoleCoverSatin, report.RoleClothOutline, report.RoleClothHoldDown,
	report.RoleBattingHoldDown, report.RoleBackingHoldDown, report.RoleEdgeRun, report.RoleQuilting}

// listParts fills in the parts of a stop that does several things.
func (w *roleWork) listParts(s *StopRole, i int) {
	var parts []report.Part
	for _, k := range w.parts[i] {
		if !slices.ContainsFunc(parts, func(q report.Part) bool { return q.Role == k.Role && q.Piece == k.Piece }) {
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
	best := report.KindRun
	for k := range by {
		if report.Kind(k) != report.KindTie && report.Kind(k) != report.KindTravel && by[k] > by[best] {
			best = report.Kind(k)
		}
	}
	switch best {
	case report.KindSatin:
		return "mostly satin"
	case report.KindTripleRun:
		return "a triple line"
	case report.KindDoubleRun:
		return "a line sewn twice"
	case report.KindOpenZigzag:
		return "an open zigzag"
	case report.KindFill:
		return "filled areas"
	}
	return "running lines"
}
