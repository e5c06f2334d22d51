package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/satin"
	"github.com/stopcard/stopcard/analyse/words"
)

var (
	EdgeUncoveredRule = Rule{ID: "edge-uncovered", Doc: "the cut edge of an applique piece lies outside its cover",
		Limit: inWords("edge-uncovered"), Check: edgeUncovered}
	noPauseRule = Rule{ID: "no-pause-to-trim", Doc: "the cover follows with no stop after the tack-down, so the piece cannot be trimmed",
		Limit: "a colour stop or halt must lie between", Check: noPause}
	sameColourRule = Rule{ID: "same-colour-pause", Doc: "hand work lies between two stops of one colour, where some machines run straight on",
		Limit: "equal colours", Check: sameColourPause}
	OpenOutlineRule = Rule{ID: "open-outline", Doc: "a placement line or tack-down is open and nothing lies over its opening",
		Limit: inWords("open-outline"), Check: openOutline}
	AstrayRule = Rule{ID: "tack-down-astray", Doc: "a tack-down does not follow its placement line",
		Limit: inWords("tack-down-astray"), Check: astray}
	DrawnInRule = Rule{ID: "drawn-in", Doc: "a hold-down lies inside the first outline instead of outside it",
		Limit: inWords("drawn-in"), Check: drawnIn}
)

func edgeUncovered(p *measure.Pass) []report.Finding {
	limit, allow := p.Settings.Limit("edge-uncovered"), p.Settings.TrimAllowanceMM
	var out []report.Finding
	for i := range p.Report.Pieces {
		c := &p.Report.Pieces[i]
		if c.UncoveredMM <= limit || len(c.Gaps) == 0 {
			continue
		}
		worst := c.Gaps[0]
		for _, g := range c.Gaps {
			if g.LengthMM > worst.LengthMM {
				worst = g
			}
		}
		f := report.Finding{Severity: report.Caution, Stop: c.CoverStop, AtMM: &worst.AtMM, Measured: c.UncoveredMM, Limit: limit, Unit: "mm",
			Message: fmt.Sprintf("piece %d: %.0f mm of its cut edge, in %s, would show; the cover must reach %.1f mm past the tack-down (stop %d) and %s",
				c.Number, c.UncoveredMM, words.Plural(len(c.Gaps), "stretch", "stretches"), allow, max(c.TackDownStop, c.PlacementStop), reaches(worst.LeastMM)),
			Advice: "Trim closer than usual along the marked stretch, hoop off the machine, and do not cut the stitches."}
		if worst.LeastMM < 0.3 {
			f.Severity = report.Fault
			f.Advice = "Trimming cannot mend this: the satin does not reach the cloth's edge there. Take another size from the pack, or ask its maker."
		}
		out = append(out, f)
	}
	return out
}

// reaches says how far a cover reaches at its worst place.
func reaches(least float64) string {
	switch {
	case least <= -satin.CoverReachMM:
		return "is missing at the worst place"
	case least < 0:
		return fmt.Sprintf("misses the edge by %.1f mm at the worst place", -least)
	}
	return fmt.Sprintf("reaches %.2f mm at the worst place", least)
}

func noPause(p *measure.Pass) []report.Finding {
	var out []report.Finding
	for _, w := range p.Pieces {
		if w.Held || w.Hole || len(w.Covers) == 0 {
			continue
		}
		stop := w.Covers[0] + 1
		f := report.Finding{Severity: report.Caution, Stop: stop, AtMM: at(w.Place.Line[0]), Unit: "stops",
			Message: fmt.Sprintf("piece %d: after the placement line (stop %d) nothing but the satin of stop %d follows: no pause to trim the cloth", w.Number, w.Place.Stop+1, stop),
			Advice:  "Cut this piece to its shape before you lay it (see the template), and fix it inside the line."}
		for i := range p.Recognised.Traces {
			t := &p.Recognised.Traces[i]
			if t.Stop == w.Covers[0] && (t.Kind == report.KindRun || t.Kind == report.KindDoubleRun || t.Kind == report.KindOpenZigzag) && applique.BoxesAlike(t.Box, w.Place.Box, 2*applique.FollowWithin) &&
				applique.Agree(w.Place, t, applique.FollowWithin).Share >= applique.FollowShare {
				f.Message = fmt.Sprintf("piece %d: tack-down and cover are both sewn in stop %d, with no pause between to trim the cloth", w.Number, stop)
				f.Advice = "Stop the machine by hand when the tack-down is sewn, take the hoop off and trim; or cut the piece to its shape before you lay it."
				break
			}
		}
		out = append(out, f)
	}
	return out
}

// sameColourPause looks where hands must work between two stops. Without colours
// in the file there is nothing to compare, and the machine stops at every change.
func sameColourPause(p *measure.Pass) []report.Finding {
	var out []report.Finding
	stops := p.Report.Stops
	for i := 1; i < len(stops); i++ {
		a, b := &stops[i-1], &stops[i]
		if a.Colour == nil || b.Colour == nil || *a.Colour != *b.Colour || !handWork(a.AfterSteps) && !handWork(b.BeforeSteps) || b.Halt {
			continue
		}
		out = append(out, report.Finding{Severity: report.Caution, Stop: b.Number, Unit: "colour",
			Message: fmt.Sprintf("stops %d and %d have the same colour, and there is hand work between them", a.Number, b.Number),
			Advice:  "Some machines join neighbouring stops of one colour and do not pause. Watch for the end of the first, or give one of them another colour on the machine."})
	}
	return out
}

func handWork(steps []report.Step) bool {
	for _, s := range steps {
		switch s.Kind {
		case report.StepLay, report.StepTrim, report.StepHoopOff, report.StepTurnOver:
			return true
		}
	}
	return false
}

func openOutline(p *measure.Pass) []report.Finding {
	limit := p.Settings.Limit("open-outline")
	var out []report.Finding
	for _, w := range p.Pieces {
		for _, t := range []*applique.Trace{w.Place, w.Tack} {
			if t.Closed || t.Opening <= limit || t == w.Tack && w.Tack == w.Place && w.Held {
				continue
			}
			a, b := t.Line[0], t.Line[len(t.Line)-1]
			if under(p, w, a) && under(p, w, b) {
				continue
			}
			out = append(out, report.Finding{Severity: report.Caution, Stop: t.Stop + 1, AtMM: at(geom.Middle(a, b)), Measured: t.Opening, Limit: limit, Unit: "mm",
				Message: fmt.Sprintf("piece %d: its line in stop %d is open by %.0f mm and no other piece lies over the opening", w.Number, t.Stop+1, t.Opening),
				Advice:  "The cloth is not held there. Fix it with a little tape or spray away from the needle's path, and look whether the cover closes over it."})
			break
		}
	}
	return out
}

// under reports whether a place lies under another piece laid later, or next to
// its edge.
func under(p *measure.Pass, w *applique.Piece, q geom.Point) bool {
	for _, v := range p.Pieces {
		if v == w || v.Hole || v.Tack.Stop <= w.Place.Stop {
			continue
		}
		if v.Tack.Closed && geom.InsidePolygon(q, v.Tack.Line) || v.Tack.Near().Nearest(q, applique.FollowWithin) <= applique.FollowWithin {
			return true
		}
	}
	return false
}

func astray(p *measure.Pass) []report.Finding {
	limit := p.Settings.Limit("tack-down-astray")
	var out []report.Finding
	for _, w := range p.Pieces {
		if !w.Held || w.Like.Most <= limit {
			continue
		}
		q := furthest(w)
		out = append(out, report.Finding{Severity: report.Caution, Stop: w.Tack.Stop + 1, AtMM: at(q), Measured: w.Like.Most, Limit: limit, Unit: "mm",
			Message: fmt.Sprintf("piece %d: the tack-down (stop %d) strays up to %.1f mm from its placement line (stop %d)", w.Number, w.Tack.Stop+1, w.Like.Most, w.Place.Stop+1),
			Advice:  "Lay the cloth with more to spare on all sides, and check that the tack-down caught it everywhere before you trim."})
	}
	return out
}

// furthest is the place of the tack-down that lies furthest from the placement
// line.
func furthest(w *applique.Piece) geom.Point {
	var q geom.Point
	far := -1.0
	g := w.Place.Near()
	for _, v := range w.Tack.Line {
		if d := g.Nearest(v, 2*applique.FollowWithin); d > far && d < 3*applique.FollowWithin {
			q, far = v, d
		}
	}
	return q
}

func drawnIn(p *measure.Pass) []report.Finding {
	limit := p.Settings.Limit("drawn-in")
	var out []report.Finding
	for _, o := range p.Report.HoldDownOffsets {
		worst := min(o.Left, o.Right, o.Bottom, o.Top)
		if worst >= -limit-0.15 {
			continue
		}
		side := "left"
		switch worst {
		case o.Right:
			side = "right"
		case o.Bottom:
			side = "near"
		case o.Top:
			side = "far"
		}
		out = append(out, report.Finding{Severity: report.Caution, Stop: o.Stop, Measured: -worst, Limit: limit, Unit: "mm",
			Message: fmt.Sprintf("the hold-down of stop %d lies %.1f mm inside the first outline (stop %d) on the %s side", o.Stop, -worst, o.OutlineStop, side),
			Advice:  "Stitching draws the cloth in, so later lines should lie outside the first. Cut cloth, batting and backing larger, and trim the block after the last line."})
	}
	return out
}
