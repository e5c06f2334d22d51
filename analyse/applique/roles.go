package applique

import (
	"fmt"
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
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
		r := StopRole{Role: report.RoleStitching, Confidence: 0.3, Reason: p.describe(i), Parts: []report.Part{}}
		if i < len(p.maybe) && p.maybe[i] != "" {
			r.Next, r.Reason = p.maybe[i], r.Reason+"; "+p.maybe[i]
		}
		p.roles[i] = r
	}
	w := &roleWork{p: p, parts: make([][]weighed, len(p.roles))}
	w.saidLayers()
	on, found := p.worked()
	if !found {
		return
	}
	w.pieces()
	w.outlines(on)
	p.orderLayers()
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
		after, sure := "no cover", k.Confidence
		if len(k.Covers) > 0 {
			after = fmt.Sprintf("the %s of stop %d", k.Finish, k.Covers[0]+1)
		}
		if k.Next != "" {
			p.roles[k.Place.Stop].Next, p.roles[k.Tack.Stop].Next = k.Next, k.Next
		}
		line, tack := "", ""
		round := ""
		if k.Tack.times == 2 {
			round = ", twice round"
		}
		follow := "follows the line of stop %d within %.1f mm%s"
		if k.Missed {
			follow = "lies inside the line of stop %d, up to %.1f mm off%s"
		}
		follows := fmt.Sprintf(follow, k.Place.Stop+1, max(0.1, k.Like.Most), round)
		switch {
		case k.PreCut:
			line = fmt.Sprintf("a line that %s lies over, with no tack-down between", after)
		case k.Hole:
			line = fmt.Sprintf("a line inside piece %d that stop %d follows: a hole in the cloth", k.Number, k.Tack.Stop+1)
			tack = follows
		case k.CoverFirst:
			line = fmt.Sprintf("a line that %s and then the line of stop %d follow", after, k.Tack.Stop+1)
			tack = follows + ", but after " + after
		case len(k.Covers) == 0:
			line = fmt.Sprintf("a line that stop %d follows; no cover lies over it", k.Tack.Stop+1)
			tack = follows + "; no cover comes after"
		default:
			line = fmt.Sprintf("a line that stop %d follows and %s lies over", k.Tack.Stop+1, after)
			tack = follows + ", before " + after
		}
		if k.Next != "" {
			line, tack = line+"; or it is "+k.Next, tack+"; or it is "+k.Next
		}
		w.add(k.Place, report.RolePlacementLine, sure, k.Number, "%s", line)
		if tack == "" {
			continue
		}
		// A tack-down of several traces is told once; each of them has the role.
		for _, t := range p.tracesOf(k.Tack) {
			w.add(t, report.RoleTackDown, sure, k.Number, "%s", tack)
		}
		for _, t := range k.also {
			if t.role.Role == "" {
				w.add(t, report.RoleTackDown, sure, k.Number, "follows the line of stop %d beside the tack-down", k.Place.Stop+1)
			}
		}
	}
	for _, k := range p.work {
		for _, t := range k.Cover {
			if t.role.Role == "" {
				w.cover(t, k)
			}
		}
	}
	// What else of a cover's stop lies over the edge, as where its columns are
	// short.
	covered := map[int][]*Piece{} // by stop
	for _, k := range p.work {
		for _, stop := range k.Covers {
			covered[stop] = append(covered[stop], k)
		}
	}
	for i := range p.traces {
		t := &p.traces[i]
		if t.role.Role != "" || !t.Kind.Surface() {
			continue
		}
		for _, k := range covered[t.Stop] {
			if t.Box.Meets(k.Tack.Box.Grown(coverBeside)) && (t.Kind != report.KindOpenZigzag || k.Finish != report.FinishSatin) && p.mayCompare() && w.over(t, k) >= 0.5 {
				w.cover(t, k)
				break
			}
		}
	}
}

const againSure = 0.75 // confidence of a line that only goes along a piece once more

// tracesOf gives the traces that a line was put together from. Between them may lie
// stitches that are of no trace by themselves.
func (p *finder) tracesOf(t *Trace) []*Trace {
	var out []*Trace
	strips := p.strips()
	for _, s := range t.Spans {
		// The last point may be the first of the trace that goes on from it.
		end := max(s[0]+1, s[1]-1)
		for k := p.stripAt(s[0]); k < len(strips) && int(strips[k].from) < end; k++ {
			if i := strips[k].trace; i >= 0 && !slices.Contains(out, &p.traces[i]) {
				out = append(out, &p.traces[i])
			}
		}
	}
	return out
}

func (w *roleWork) cover(t *Trace, k *Piece) {
	what := string(k.Finish)
	switch t.Kind {
	case report.KindSatin:
		what = "satin"
	case report.KindFill:
		what = "close rows of stitching"
	case report.KindOpenZigzag:
		if k.Finish == report.FinishSatin {
			what = "an open zigzag"
		}
	}
	held := fmt.Sprintf("tacked down in stop %d", k.Tack.Stop+1)
	if k.PreCut {
		held = fmt.Sprintf("whose line is stop %d", k.Place.Stop+1)
	}
	w.add(t, report.RoleCoverSatin, k.Confidence, k.Number, "%s over the edge of piece %d, %s", what, k.Number, held)
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
		if g.Within(t.Line[i], half) {
			near++
		}
	}
	return float64(near) / float64(max(1, n))
}

// rest names what stands beside or between the applique.
func (w *roleWork) rest() {
	p := w.p
	for _, k := range p.work {
		for _, t := range k.Again {
			if t.role.Role == "" {
				w.add(t, report.RoleEdgeRun, min(k.Confidence, againSure), k.Number, "goes along the tack-down of stop %d again", k.Tack.Stop+1)
			}
		}
	}
	covering := make([]bool, len(p.satin.Bands))
	lastCover := -1
	for i := range p.traces {
		t := &p.traces[i]
		if t.role.Role == report.RoleCoverSatin {
			lastCover = max(lastCover, t.Stop)
			for _, b := range t.Bands {
				covering[b] = true
			}
		}
	}
	hold, under := -1, -1
	var spread []bool // by stop: it sews lines all over the batting
	for i := range p.layers {
		if l := &p.layers[i]; l.what == report.Batting && l.holds && l.t.Stop < lastCover {
			under = l.t.Stop
			spread = w.across(l.t)
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
		} else if under >= 0 && spread[t.Stop] && t.Kind != report.KindOpenZigzag {
			w.add(t, report.RoleQuilting, 0.6, 0, "running stitches all over the batting that stop %d holds", under+1)
		}
	}
}

// allAcross is the share of the batting, both ways, that the lines of a stop reach across
// where they quilt it: what lies on a piece or beside one stays there.
const allAcross = 0.8

// across tells the stops after the hold-down of the batting whose lines, those that have
// no role yet, reach across all of it.
func (w *roleWork) across(hold *Trace) []bool {
	boxes := make([]geom.Box, len(w.parts))
	for i := range w.p.traces {
		t := &w.p.traces[i]
		if t.Stop <= hold.Stop || t.role.Role != "" || !isLine(t) {
			continue
		}
		if b := &boxes[t.Stop]; *b == (geom.Box{}) {
			*b = t.Box
		} else {
			*b = b.With(t.Box)
		}
	}
	out := make([]bool, len(boxes))
	for i, b := range boxes {
		out[i] = b.Width() >= allAcross*hold.Box.Width() && b.Height() >= allAcross*hold.Box.Height()
	}
	return out
}

// beside gives the stop of the cover satin that a line runs along, and the
// piece, or -1.
func (w *roleWork) beside(t *Trace, covering []bool) (stop, piece int) {
	p := w.p
	if p.cover == nil {
		p.cover = p.satin.Index(p.satin.Bands)
	}
	step := max(1, len(t.Line)/likenessSamples)
	n := (len(t.Line) + step - 1) / step
	use := func(b int32) bool { return covering[b] }
	missed, last := 0, -1
	for i := 0; i < len(t.Line); i += step {
		if p.cover.AnyNear(t.Line[i], besideWithin, math.Inf(1), use) {
			last = i
		} else if missed++; float64(n-missed) < besideShare*float64(n) {
			return -1, 0
		}
	}
	stop = -1
	if last >= 0 {
		p.cover.Near(t.Line[last], besideWithin, math.Inf(1), use, func(b int32) { stop = p.satin.Bands[b].Stop })
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
	type doing struct {
		role  string
		piece int
	}
	var parts []report.Part
	told := map[doing]bool{}
	for _, k := range w.parts[i] {
		if d := (doing{k.Role, k.Piece}); !told[d] {
			told[d] = true
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
