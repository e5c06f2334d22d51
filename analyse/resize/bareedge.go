package resize

import (
	"github.com/stopcard/stopcard/analyse/internal/watch"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/rules"
)

// away is how much smaller or larger a design is on which is looked whether what shows of
// a cut edge as it is shows more of it.
const away = 0.2

const (
	noReach = "the cover does not reach past the cut edge; scissors do not cut any closer for it"
	noCover = "the cover is missing along a stretch of the cut edge; scissors do not cut any closer for it"
)

// falls is what a gap in the cover of a cut edge is, of which resizing makes different
// things.
type falls int

const (
	short   falls = iota // the cover reaches past the tack-down, and not to where scissors cut
	inside               // it lies inside the tack-down
	missing              // there is none, or it opens over the edge
)

func fallsOf(g *report.Gap, allow float64) falls {
	switch {
	case g.LeastMM <= -report.ReachMM || g.LeastMM >= allow:
		return missing
	case g.LeastMM < 0:
		return inside
	}
	return short
}

// bareEdge is what shows of a piece's edge: in gaps that a larger design does not close,
// and in all; and what the longest is.
func bareEdge(c *report.Piece, allow float64) (stays, all float64, worst falls) {
	longest := 0.0
	for i := range c.Gaps {
		g := &c.Gaps[i]
		if g.Open || g.LengthMM < rules.KnownGap {
			continue
		}
		all += g.LengthMM
		at := fallsOf(g, allow)
		if at != short {
			stays += g.LengthMM
		}
		if g.LengthMM > longest {
			longest, worst = g.LengthMM, at
		}
	}
	return stays, all, worst
}

// edgeLimit says what becomes of an edge where it begins to show on a smaller design.
func edgeLimit(p *measure.Pass, k key) string {
	c := p.Report.Piece(k.piece)
	if c == nil {
		return ""
	}
	if _, _, worst := bareEdge(c, p.Settings.TrimAllowanceMM); worst == missing {
		return noCover
	}
	return ""
}

// edgeWorsens tells whether more of an edge that shows as it is shows on a larger or
// smaller design, and why. Where the cover does not reach to the edge, growing closes what
// shows and shrinking opens it, since scissors cut no closer; where there is none, what
// shows grows and shrinks with the design, but at a tip, which sticks out of its cover.
func edgeWorsens(z *resizer, way report.Direction, f *report.Finding) (reason string, worse bool) {
	c, allow := z.base.Report.Piece(f.Piece), z.settings.TrimAllowanceMM
	if c == nil {
		return "", false
	}
	stays, all, worst := bareEdge(c, allow)
	if way == report.Shrinking && worst == short {
		return noReach, true
	}
	if way == report.Growing && stays == 0 {
		return "", false
	}
	if way == report.Growing {
		then, _, _ := z.bareAt(1+away, f.Piece)
		if worst == inside {
			return "the cover comes to lie further inside the cut edge", then > stays*(1+sameFigure)
		}
		return "gaps in the cover grow with the design", then > stays*(1+sameFigure)
	}
	// A cover that reaches past the edge elsewhere may not do so further on.
	for _, scale := range []float64{1 - away, z.plain} {
		switch _, total, then := z.bareAt(scale, f.Piece); {
		case total <= all*(1+sameFigure):
		case then == missing:
			return noCover, true
		default:
			return noReach, true
		}
	}
	return "", false
}

// bareAt is bareEdge of a piece at a scale.
func (z *resizer) bareAt(scale float64, piece int) (stays, all float64, worst falls) {
	p, err := z.base.PartAt(scale, &measure.Part{Others: true, Columns: func(int) bool { return false }, Pieces: func(n int) bool { return n == piece }})
	watch.Raise(err)
	defer p.Done()
	watch.Raise(p.Do(measure.Pieces))
	return bareEdge(p.Report.Piece(piece), z.settings.TrimAllowanceMM)
}

// inSightWorsens is the same of a cover that does not reach in to its tack-down: one that
// begins outside it comes nearer on a smaller design.
func inSightWorsens(_ *resizer, _ report.Direction, f *report.Finding) (reason string, worse bool) {
	return "the cover does not reach in past the tack-down", f.Measured >= 0
}
