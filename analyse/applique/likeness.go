package applique

import (
	"github.com/stopcard/stopcard/analyse/geom"
)

// likeness is how well two lines agree.
type likeness struct {
	Share float64 // the smaller share of either that lies within reach of the other
	mean  float64 // mean distance of the first from the second, mm
	Most  float64 // distance within which 95 % of the first lies
}

const likenessSamples = 160

// Agree compares two lines from both sides. Beyond reach nothing counts.
func Agree(a, b *Trace, reach float64) likeness {
	var s likeness
	d, in := distances(a.Line, b, reach)
	s.Share = min(in, nearShare(b.Line, a, reach))
	if len(d) > 0 {
		for _, v := range d {
			s.mean += v
		}
		s.mean /= float64(len(d))
		s.Most = geom.QuantileOf(d, 0.95)
	}
	return s
}

// mayCompare counts one more comparison of a line with the edge of a piece or of the
// block, and reports whether it is still to be made.
func (p *finder) mayCompare() bool {
	p.watch.Step(likenessSamples)
	if p.compared++; p.compared > mostCompared {
		p.cap("comparisons of lines with edges", mostCompared)
		return false
	}
	return true
}

// follow reports whether two lines follow one another.
func (p *finder) follow(a, b *Trace, reach float64) bool { return p.mayCompare() && alike(a, b, reach) }

// alike reports whether either of two lines follows the other.
func alike(a, b *Trace, reach float64) bool {
	return mostlyNear(a.Line, b, reach, FollowShare) && mostlyNear(b.Line, a, reach, FollowShare)
}

// distances samples a line and gives the distances to b of the samples within reach,
// and their share.
func distances(line []geom.Point, b *Trace, reach float64) ([]float64, float64) {
	step, n := samplesOf(line)
	g := b.Near()
	d := make([]float64, 0, n)
	for i := 0; i < len(line); i += step {
		if v := g.Nearest(line[i], reach); v <= reach {
			d = append(d, v)
		}
	}
	return d, float64(len(d)) / float64(max(1, n))
}

// nearShare is the share of the samples of a line that lie within reach of b.
func nearShare(line []geom.Point, b *Trace, reach float64) float64 {
	step, n := samplesOf(line)
	g := b.Near()
	near := 0
	for i := 0; i < len(line); i += step {
		if g.Within(line[i], reach) {
			near++
		}
	}
	return float64(near) / float64(max(1, n))
}

// mostlyNear reports whether so much of a line lies within reach of b. Samples far from
// one another are looked at first, and no more of them once the rest cannot change it.
func mostlyNear(line []geom.Point, b *Trace, reach, share float64) bool {
	const apart = 8
	step, n := samplesOf(line)
	g := b.Near()
	near, missed := 0, 0
	for _, first := range [apart]int{0, 4, 2, 6, 1, 5, 3, 7} {
		for i := first * step; i < len(line); i += apart * step {
			if g.Within(line[i], reach) {
				near++
			} else if missed++; float64(n-missed) < share*float64(n) {
				return false
			}
		}
		if float64(near) >= share*float64(n) {
			return true
		}
	}
	return false
}

// samplesOf is how many points on each sample of a line is, and how many there are.
func samplesOf(line []geom.Point) (step, n int) {
	step = max(1, len(line)/likenessSamples)
	return step, (len(line) + step - 1) / step
}

// movedAside reports whether a round goes the way of the chain's line, and lies aside
// of it as a whole.
func (c *chain) movedAside(r *round) bool {
	if len(r.traces) != 1 || !c.line.Closed || !r.traces[0].Closed {
		return false
	}
	t := r.traces[0]
	d := middleOf(c.line.Box).Sub(middleOf(t.Box))
	back := make([]geom.Point, len(t.Line))
	for i, q := range t.Line {
		back[i] = q.Add(d)
	}
	off, share := distances(back, c.line, FollowWithin)
	if share < FollowShare || len(off) == 0 {
		return false
	}
	middle := geom.QuantileOf(off, 0.5)
	return geom.QuantileOf(off, 0.95)-middle <= movedAlike && middle <= tackNear
}

func middleOf(b geom.Box) geom.Point { return geom.Middle(b.Lo, b.Hi) }
