package applique

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/report"
)

// Merged is a line, another that follows it, and a satin, a zigzag or a blanket stitch over
// both, all in one colour stop with the thread cut or tied off between: as a piece of applique
// looks whose pauses were lost when a file was saved with fewer colours. A satin and its
// underlay go on without either (common practice, no single source).
type Merged struct {
	Stop   int           // index of the stop
	Line   *Trace        // the first line
	Finish report.Finish // what lies over both
	Cut    bool          // the thread is cut both times; else a machine goes on at once
}

const (
	mergedShare = 0.9 // of the line that the line after it and the satin must each reach along
	mergedApart = 1.2 // mm between the two lines: a tack-down lies on its line or just inside
)

// findMerged finds them among the lines that are not of a piece.
func (p *finder) findMerged() []Merged {
	var out []Merged
	used := map[*Trace]bool{}
	for _, k := range p.work {
		used[k.Place], used[k.Tack] = true, true
	}
	for _, c := range p.chains {
		if used[c.line] || c.ahead > 0 || !c.line.Closed || !isLine(c.line) {
			continue
		}
		tack, over := c.mergedRounds()
		if tack != nil && over == nil {
			over = c.mergedShared(p, tack)
		}
		if tack == nil || over == nil || !p.partedBetween(c.line, tack.traces[0]) || !p.partedBetween(tack.traces[0], over.traces[0]) ||
			p.fills(c.line, fillShare, 0, over.first()) > fillShare || p.sewnInside(c, 0, over.first()) > fillShare {
			continue
		}
		for _, t := range tack.traces {
			used[t] = true
		}
		out = append(out, Merged{Stop: c.line.Stop, Line: c.line, Finish: finishes[over.made],
			Cut: p.cutBetween(c.line, tack.traces[0]) && p.cutBetween(tack.traces[0], over.traces[0])})
	}
	return out
}

// partedBetween reports whether the thread is cut or tied off between two traces.
func (p *finder) partedBetween(a, b *Trace) bool { return p.cutBetween(a, b) || p.tiedBetween(a, b) }

// mergedRounds are what follows the line of a chain and what finishes both, in the line's own
// stop.
func (c *chain) mergedRounds() (tack, over *round) {
	for _, r := range c.rounds {
		switch {
		case r.stop != c.line.Stop || r.share < mergedShare:
		case tack == nil && !r.noTack && r.made != satinMade && r.made != motif && r.apart() <= mergedApart:
			tack = r
		case tack == nil || over != nil || r.noCover:
		case r.made == satinMade && !r.sparse && r.width() >= narrowCover && r.lo < min(0, tack.middle) && r.hi > max(0, tack.middle):
			over = r
		case (r.made == zigzag || r.made == blanket) && r.width() >= narrowCover && r.mayCover(tack.middle):
			over = r
		}
	}
	if slices.ContainsFunc(c.rounds, func(r *round) bool { return r.stop != c.line.Stop }) {
		return nil, nil // what other stops sew along it tells what it is
	}
	return tack, over
}

// apart is how far in mm a round lies from the line: of a line on average, of a zigzag or a
// blanket stitch where it comes nearest.
func (r *round) apart() float64 {
	if r.made.line() {
		return r.mean
	}
	return max(0, r.lo, -r.hi)
}

// mergedShared are the satins of the line's own stop that go on beyond it and lie over the
// line together, as over panels that share their edges; nil where they leave any of it out.
func (c *chain) mergedShared(p *finder, tack *round) *round {
	r := &round{stop: c.line.Stop, made: satinMade}
	for _, k := range p.tracesNear(c.line.Line, c.reach, tack.traces[0].index+1, p.firstOf[c.line.Stop+1]) {
		t := &p.traces[k]
		if t.Kind != report.KindSatin || !p.mayCompare() {
			continue
		}
		if s := c.passes(t); float64(s.mask.count()) >= sharedLeast*float64(c.samples) {
			r.traces, r.mask = append(r.traces, t), r.mask.or(s.mask)
		}
	}
	if len(r.traces) < 2 || float64(r.mask.count()) < sharedWhole*float64(c.samples) {
		return nil
	}
	return r
}
