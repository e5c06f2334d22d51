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
	d, in := distances(a, b, reach)
	_, back := distances(b, a, reach)
	s.Share = min(in, back)
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
func (p *finder) follow(a, b *Trace, reach float64) bool {
	return p.mayCompare() && Agree(a, b, reach).Share >= FollowShare
}

// distances samples a and gives the distances to b of the samples within reach,
// and their share.
func distances(a, b *Trace, reach float64) ([]float64, float64) {
	g := b.Near()
	step := max(1, len(a.Line)/likenessSamples)
	var d []float64
	n := 0
	for i := 0; i < len(a.Line); i += step {
		n++
		if v := g.Nearest(a.Line[i], reach); v <= reach {
			d = append(d, v)
		}
	}
	if n == 0 {
		return nil, 0
	}
	return d, float64(len(d)) / float64(n)
}

// movedAside reports whether a round goes the way of the chain's line, and lies aside
// of it as a whole.
func (c *chain) movedAside(r *round) bool {
	if len(r.traces) != 1 || !c.line.Closed || !r.traces[0].Closed {
		return false
	}
	t := r.traces[0]
	d := middleOf(c.line.Box).Sub(middleOf(t.Box))
	back := &Trace{Line: make([]geom.Point, len(t.Line))}
	for i, q := range t.Line {
		back.Line[i] = q.Add(d)
	}
	off, share := distances(back, c.line, FollowWithin)
	if share < FollowShare || len(off) == 0 {
		return false
	}
	middle := geom.QuantileOf(off, 0.5)
	return geom.QuantileOf(off, 0.95)-middle <= movedAlike && middle <= tackNear
}

func middleOf(b geom.Box) geom.Point { return geom.Middle(b.Lo, b.Hi) }
