package applique

import (
	"math"
	"math/bits"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// sewing is how a line is sewn.
type sewing uint8

const (
	single sewing = iota
	double
	triple // a triple or a bean line, or three rounds
	zigzag
	blanket
	satinMade // satin, split satin, a bar of close rows
	motif
)

func (s sewing) String() string {
	return [...]string{"a single line", "a line sewn twice", "a triple line", "an open zigzag", "a blanket stitch", "satin", "a motif line"}[s]
}

func (s sewing) line() bool { return s <= triple }

// chain is a line with everything that follows it.
type chain struct {
	line    *Trace
	way     *guide  // its line, made ready for distances when first asked for
	samples int     // places of the line that rounds are marked by
	left    float64 // 1 where the inside is on the left of the line, -1 where on the right
	reach   float64 // mm: what lies nearer follows it; less in small pieces
	rounds  []*round
	ahead   int      // closed lines of earlier stops that the line follows itself
	follows bool     // it follows one, closed or open
	second  bool     // one of the closed ones goes the same way: it is sewn once more here
	options []option // readings, the best first; not-applique is none of them
	chosen  int8     // its reading, an index into options; -1 for plain stitching
	echo    bool     // the line follows another of its stop
	from    *Trace   // a line left alone that this one is, moved aside; nil for none
	astray  *Trace   // or one between the line and its cover that should lie under that
	moved   float64  // and by how many mm
	lost    *Trace   // the satin that was moved away from it, its cover; nil for none
	lostBy  float64  // and by how many mm
	turned  bool     // it is turned, or of another size
	again   bool     // the line is of a tack-down; see tellRounds
	panel   bool     // the satin over it goes on over other closed lines; see findShared
	known   []known
}

// mask marks the samples of a line.
type mask [3]uint64

const maskBits = 160

func (m *mask) set(i int) { m[i/64] |= 1 << (i % 64) }
func (m *mask) count() (n int) {
	for _, v := range m {
		n += bits.OnesCount64(v)
	}
	return n
}
func (m mask) and(o mask) mask { return mask{m[0] & o[0], m[1] & o[1], m[2] & o[2]} }
func (m mask) or(o mask) mask  { return mask{m[0] | o[0], m[1] | o[1], m[2] | o[2]} }

// round is stitching of one stop that lies along a line, once along it: one trace
// or several, as where a heart is sewn in two halves.
type round struct {
	traces []*Trace

	noTack, noCover bool // a person said that its stop is for something else

	stop   int
	mask   mask
	share  float64 // of the line that it reaches along
	made   sewing
	thread float64 // mm for each mm along the line
	mean   float64 // mm from the line, on average
	deep   float64 // mm inside where it lies furthest in, of one that is far
	far    bool    // it lies evenly inside, further than tack-downs are drawn; see findFar
	sparse bool    // crossings so far apart that satin may be meant for a zigzag
	middle float64 // mm inside the line, median of its needle holes; negative outside
	lo, hi float64 // mm: nearly all its needle holes lie between these
	q1, q3 float64 // mm: of satin, the middle half of them lie between these, whatever its corners are like
}

func (r *round) width() float64 { return r.hi - r.lo }
func (r *round) first() int     { return r.traces[0].Spans[0][0] }

// newChain begins the chain of a line.
func newChain(t *Trace) *chain {
	area := geom.PolygonArea(t.Line)
	c := &chain{line: t, samples: min(maskBits, len(t.Line)), left: 1, reach: FollowWithin}
	if area < 0 {
		c.left = -1
	}
	if t.Closed {
		c.reach = min(c.reach, max(1, thinShare*t.breadth()))
	}
	return c
}

// breadth is twice the area of a closed line over its length, in mm: the radius of a
// circle and the breadth of a strip.
func (t *Trace) breadth() float64 { return 2 * math.Abs(geom.PolygonArea(t.Line)) / t.Length }

// guide is the line made ready for distances.
func (c *chain) guide() *guide {
	if c.way == nil {
		c.way = newGuide(c.line.Line)
	}
	return c.way
}

// bit is the sample at a place so many mm along the line.
func (c *chain) bit(along float64) int {
	return max(0, min(c.samples-1, int(along/c.line.Length*float64(c.samples))))
}

// stretch is how a trace lies along a chain's line.
type stretch struct {
	mask mask
	mean float64
}

// along tells how a trace lies along the line of a chain.
func (c *chain) along(t *Trace) (stretch, bool) {
	var s stretch
	reach := c.reach
	if t.Kind.Surface() {
		reach *= bandWithin / FollowWithin
	}
	n, g := len(t.Line), c.guide()
	// A few places first: most stitching nearby lies across the line.
	const few = 7
	if n > 2*few {
		missed := 0
		for k := range few {
			if _, at, _ := g.nearest(t.Line[(2*k+1)*n/(2*few)], reach); at < 0 {
				if missed++; missed > 2 {
					return s, false
				}
			}
		}
	}
	step := max(1, n/maskBits)
	looked := (n + step - 1) / step
	return c.lies(t, step, reach, looked-int(math.Ceil(alongShare*float64(looked))))
}

// lies tells how a trace lies along the line where its points, each so many on, are
// within reach of it. It gives up when more points miss the line than may.
func (c *chain) lies(t *Trace, step int, reach float64, mayMiss int) (s stretch, ok bool) {
	near, last, missed, g := 0, -1, 0, c.guide()
	for i := 0; i < len(t.Line); i += step {
		d, at, along := g.nearest(t.Line[i], reach)
		if at < 0 {
			if missed++; missed > mayMiss {
				return s, false
			}
			last = -1
			continue
		}
		near++
		s.mean += d
		b := c.bit(along)
		s.mask.set(b)
		if last >= 0 {
			c.between(&s.mask, last, b)
		}
		last = b
	}
	s.mean /= float64(max(1, near))
	return s, true
}

// between marks what a trace passed by at a corner of the line.
func (c *chain) between(m *mask, a, b int) {
	const corner = 8
	n := c.samples
	d := b - a
	if d < 0 {
		d += n
	}
	if n-d < d {
		a, d = b, n-d
	}
	if d > max(corner, n/16) {
		return
	}
	for ; d > 0; d-- {
		m.set(a)
		if a++; a == n {
			a = 0
		}
	}
}

// join puts a trace with the round that it goes on, or begins another.
func (c *chain) join(t *Trace, s stretch) {
	n := s.mask.count()
	tiny := float64(n) <= max(3, tinyStretch*float64(c.samples))
	for i := len(c.rounds) - 1; i >= 0; i-- {
		r := c.rounds[i]
		if r.stop != t.Stop {
			break
		}
		if r.traces[0].Kind.Surface() != t.Kind.Surface() && !tiny {
			continue
		}
		over := s.mask.and(r.mask)
		if tiny || float64(over.count()) <= overlapMost*float64(n) {
			m := float64(len(r.traces))
			r.mean = (r.mean*m + s.mean) / (m + 1)
			r.traces, r.mask = append(r.traces, t), r.mask.or(s.mask)
			return
		}
	}
	c.rounds = append(c.rounds, &round{traces: []*Trace{t}, stop: t.Stop, mask: s.mask, mean: s.mean})
}

// measureRound works out how a round is sewn.
func (p *finder) measureRound(c *chain, r *round) {
	var sewn, surface, satin, again float64
	holes := 0
	for _, t := range r.traces {
		sewn += t.sewn
		switch t.Kind {
		case report.KindSatin, report.KindFill:
			surface, satin = surface+t.sewn, satin+t.sewn
		case report.KindOpenZigzag:
			surface += t.sewn
		case report.KindDoubleRun, report.KindTripleRun:
			again += t.sewn
		}
		for _, s := range t.Spans {
			holes += s[1] - s[0]
		}
	}
	most, reach := 240, sideLooks
	if surface == 0 && sewn < motifThread*max(1, r.share*c.line.Length) {
		most, reach = 120, bandWithin // a single line has its holes on it
	}
	step := holes/most + 1
	for step > 1 && (step%2 == 0 || step%3 == 0 || step%5 == 0) {
		step++ // not in step with crossings or teeth
	}
	off := p.off[:0]
	back := 0
	pts, g := p.sewn.Track.Pts, c.guide()
	skip := step - 1 // holes to the next that is looked at
	for _, t := range r.traces {
		if surface > 0 {
			back += t.backs(pts)
		}
		for _, s := range t.Spans {
			i := s[0] + skip
			for ; i < s[1]; i += step {
				if d, at, _ := g.nearest(pts[i], reach); at >= 0 {
					if g.sides[at].way.Cross(pts[i].Sub(g.sides[at].from))*c.left < 0 {
						d = -d
					}
					off = append(off, d)
				}
			}
			skip = i - s[1]
		}
	}
	p.off = off
	if len(off) > 0 {
		q := [...]float64{0.06, 0.25, 0.5, 0.75, 0.94}
		geom.QuantilesOf(off, q[:])
		r.lo, r.middle, r.hi = q[0], q[2], q[4]
		if satin > 0 {
			r.q1, r.q3 = q[1], q[3]
		}
	}
	r.thread = sewn / max(1, r.share*c.line.Length)
	r.sparse = r.thread*sparsePitch < 2*r.width()
	switch {
	case satin > 0.5*sewn:
		r.made = satinMade
	case surface > 0.5*sewn:
		r.made = zigzag
		if float64(back) > blanketHoles*float64(holes) {
			r.made = blanket
			break
		}
		r.middle = (r.lo + r.hi) / 2 // half of the holes lie on either side, and their median on the one or the other
	case r.width() >= lineWidth && r.thread >= motifThread && again < 0.6*sewn:
		r.made = motif
	case r.thread > tripleThread:
		r.made = triple
	case r.thread > doubleThread:
		r.made = double
	}
}

// toothed reports whether a trace is a blanket stitch.
func (t *Trace) toothed(pts []geom.Point) bool {
	holes := 0
	for _, s := range t.Spans {
		holes += s[1] - s[0]
	}
	return float64(t.backs(pts)) > blanketHoles*float64(holes)
}

// backs counts the stitches of a trace that come back to the hole but one before.
func (t *Trace) backs(pts []geom.Point) int {
	m := t.make()
	if !m.backKnown {
		m.backKnown = true
		for _, s := range t.Spans {
			for i := s[0]; i+2 < s[1]; i++ {
				if geom.Distance(pts[i], pts[i+2]) < sameHole {
					m.back++
				}
			}
		}
	}
	return m.back
}
