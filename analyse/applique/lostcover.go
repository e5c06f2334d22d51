package applique

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// A cover that was moved away from its piece, as where its stops were put into the file
// aside of the others, is a slip that nothing along the line tells. It shows as a line and a
// tack-down that no cover follows, and a satin of a later stop that is the same line
// elsewhere and follows no other but its underlay.
const (
	lostLeast  = coverBeside // mm that it lies aside: a cover that lies nearer is known by the line
	lostBoxes  = 4.0         // mm by which its box may be wider or taller: at corners the middle of a satin goes beyond the line
	lostNear   = 1.0         // mm that half of it lies off the line, once it is put back
	lostRough  = 2.2         // mm that nine tenths of it lie off: all but its corners
	lostShare  = 0.9
	mostLost   = 300 // satins that are held against a line
	lostSteps  = 3   // in which it is laid over the line
	lostPlaces = 80  // of it that are looked at for that
)

// findLostCovers finds, for each chain with a tack-down and without a cover, the satin that was
// moved away from it.
func (p *finder) findLostCovers() {
	taken, looks := map[*Trace]bool{}, 0
	for _, c := range p.chains {
		t := c.line
		if !t.Closed || !isLine(t) || c.echo || c.ahead > 0 || p.ofBlock(t) {
			continue
		}
		tack := slices.IndexFunc(c.rounds, func(r *round) bool {
			return r.stop > t.Stop && r.made != satinMade && r.share >= FollowShare && !r.noTack
		})
		if tack < 0 || slices.ContainsFunc(c.rounds, func(r *round) bool { return r.made == satinMade }) {
			continue
		}
		near := p.tracesNear(t.Line, asideMost, p.firstOf[c.rounds[tack].stop+1], int32(len(p.traces)))
		p.watch.Step(len(near))
		for _, k := range near {
			of := &p.traces[k]
			if of.Kind != report.KindSatin || of.Opening > seamOpen || taken[of] || slices.ContainsFunc(p.followed[k], func(o *chain) bool { return o.line.Stop < of.Stop && o.ahead == 0 && !o.again }) {
				continue
			}
			if looks++; looks > mostLost {
				p.cap("comparisons of satin with a line that it may have been moved from", mostLost)
				return
			}
			p.watch.Step(2*likenessSamples + lostSteps*lostPlaces*len(t.Line)/8)
			by, ok := 0.0, false
			if lostLike(of, t) {
				by, ok = lostBy(of, t)
			}
			if !ok {
				by, ok = p.lostTurned(of, c, c.rounds[tack])
				c.turned = ok
			}
			if ok && by > lostLeast {
				taken[of], c.lost, c.lostBy = true, of, by
				break
			}
		}
	}
}

// lostLike reports whether a satin is about as large as a line.
func lostLike(t, of *Trace) bool {
	a, b := of.Box, t.Box
	return math.Abs(a.Width()-b.Width()) <= lostBoxes && math.Abs(a.Height()-b.Height()) <= lostBoxes
}

// lostBy is how far in mm a satin lies aside of a line that its middle goes along otherwise.
func lostBy(t, of *Trace) (by float64, ok bool) {
	a, b := of.Box, t.Box
	v := b.Middle().Sub(a.Middle())
	for range lostSteps { // the middle of a satin goes beyond corners: it is laid over the line by most of it
		v = v.Add(restOff(t.Line, v, of.Line))
	}
	by = v.Norm()
	if by > asideMost || by > asideShare*min(a.Width(), a.Height()) {
		return 0, false
	}
	return by, liesAlong(t.Line, v.Times(-1), of) && liesAlong(of.Line, v, t)
}

// liesAlong reports whether a line lies along another once it is moved.
func liesAlong(line []geom.Point, by geom.Point, along *Trace) bool {
	moved := make([]geom.Point, len(line))
	for i, q := range line {
		moved[i] = q.Add(by)
	}
	off, share := distances(moved, along, FollowWithin)
	return share > lostShare && geom.QuantileOf(off, 0.5) <= lostNear && geom.QuantileOf(off, lostShare) <= lostRough
}

// restOff is by how much, in the middle of all, the places of a line lie off another once they
// are moved back.
func restOff(line []geom.Point, by geom.Point, of []geom.Point) geom.Point {
	var x, y []float64
	for i := 0; i < len(line); i += 1 + len(line)/lostPlaces {
		q := line[i].Sub(by)
		best, off := math.Inf(1), geom.Point{}
		for k := 1; k < len(of); k++ {
			v, w := of[k].Sub(of[k-1]), q.Sub(of[k-1])
			along := 0.0
			if n := v.Dot(v); n > 0 {
				along = max(0, min(1, v.Dot(w)/n))
			}
			if d := w.Sub(v.Times(along)); d.Dot(d) < best {
				best, off = d.Dot(d), d
			}
		}
		x, y = append(x, off.X), append(y, off.Y)
	}
	return geom.Point{X: geom.QuantileOf(x, 0.5), Y: geom.QuantileOf(y, 0.5)}
}
