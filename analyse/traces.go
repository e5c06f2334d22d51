package analyse

import "slices"

// trace is one connected line of a stop's stitching: where it runs, not each
// stitch. For satin and zigzag it is the centre line.
type trace struct {
	stop    int // index in Report.Stops
	kind    Kind
	line    []Point // closed lines repeat their first point
	closed  bool
	opening float64 // mm between its ends
	times   int     // how often it goes round or over itself
	length  float64 // of line, mm
	stitch  float64 // usual stitch length, mm
	box     box
	first   int   // where it begins in the track
	bands   []int // bands it is made of, for satin and zigzag

	grid *lineGrid
	role Part
}

// near is the grid of the line, made when first asked for.
func (t *trace) near() *lineGrid {
	if t.grid == nil {
		t.grid = newLineGrid(t.line)
	}
	return t.grid
}

const (
	closesWithin = 2.0 // mm between the ends of a line that counts as closed
	joinsWithin  = 1.2 // mm between two parts of one line sewn after another
	traceStep    = 1.0 // mm between points of a trace at most
)

// findTraces turns the passages of every stop into traces, in sewing order.
func findTraces(p *Pass) []trace {
	var out []trace
	gs := p.Report.Passages
	add := func(t trace) {
		if len(t.line) < 2 {
			return
		}
		if n := len(out); n > 0 {
			l := &out[n-1]
			if l.stop == t.stop && l.kind == t.kind && !l.closed && distance(l.line[len(l.line)-1], t.line[0]) < joinsWithin {
				l.line = append(l.line, t.line...)
				l.bands = append(l.bands, t.bands...)
				l.finish()
				return
			}
		}
		t.finish()
		out = append(out, t)
	}
	for i := 0; i < len(gs); {
		g := &gs[i]
		switch g.Kind {
		case KindRun, KindDoubleRun:
			// A line half of which is sewn twice is one line all the same.
			j, sewn := i+1, g.LengthMM
			for j < len(gs) && gs[j].Stop == g.Stop && gs[j].first == gs[j-1].last && p.track.joined(gs[j].first) &&
				(gs[j].Kind == KindRun || gs[j].Kind == KindDoubleRun) {
				sewn += gs[j].LengthMM
				j++
			}
			add(lineTrace(p, g, &gs[j-1], sewn))
			i = j
			continue
		case KindTripleRun:
			add(tripleTrace(p, g))
		case KindSatin, KindOpenZigzag:
			if t, ok := bandTrace(p, g); ok {
				add(t)
			}
		}
		i++
	}
	return out
}

// points are the needle points of passages a to b, with the point that leads in.
func points(p *Pass, a, b *Passage) []Point {
	first := a.first
	if first > 0 && p.track.joined(first) {
		first--
	}
	return p.track.pts[first:b.last]
}

// lineTrace follows a run. What it sews again, there and back or another time
// round, is left out.
func lineTrace(p *Pass, a, b *Passage, sewn float64) trace {
	pts := points(p, a, b)
	t := trace{stop: a.Stop - 1, kind: KindRun, first: a.first, times: 1}
	if len(pts) > 1 {
		t.stitch = sewn / float64(len(pts)-1)
	}
	once := onceRound(pts)
	l := pathLength(once)
	if l > 0 {
		t.times = max(1, int(sewn/l+0.4))
	}
	if t.times > 1 {
		t.kind = KindDoubleRun
	}
	t.line = once
	return t
}

// onceRound is the part of a line up to where it first comes back to its
// beginning, or to where it turns and goes back over itself.
func onceRound(pts []Point) []Point {
	var l float64
	away := false
	far, farAt := 0.0, 0
	for i := 1; i < len(pts); i++ {
		l += distance(pts[i-1], pts[i])
		d := distance(pts[i], pts[0])
		if d > far {
			far, farAt = d, i
		}
		if d > 4 {
			away = true
		}
		if away && distanceToSegment(pts[0], pts[i-1], pts[i]) < 0.7 {
			// A line that went straight out and back was halfway when furthest.
			if i-farAt >= 2 && farAt >= 2 && foldsAt(pts[:i+1], farAt) {
				return slices.Clone(pts[:farAt+1])
			}
			// The last stitch may lead past the beginning; the line ends there.
			return append(slices.Clone(pts[:i]), pts[0])
		}
	}
	return slices.Clone(pts)
}

// foldsAt reports whether the way back from point k runs over the way there.
func foldsAt(pts []Point, k int) bool {
	m, n := k/2, k+(len(pts)-1-k)/2
	near := func(q Point, lo, hi int) bool {
		for i := lo; i < hi; i++ {
			if distanceToSegment(q, pts[i], pts[i+1]) < 0.8 {
				return true
			}
		}
		return false
	}
	return near(pts[m], k, len(pts)-1) && near(pts[n], 0, k)
}

// tripleTrace follows a triple run, each hole once.
func tripleTrace(p *Pass, g *Passage) trace {
	t := trace{stop: g.Stop - 1, kind: KindTripleRun, first: g.first, times: 3}
	for _, q := range points(p, g, g) {
		n := len(t.line)
		if n > 0 && distance(q, t.line[n-1]) < 0.2 || n > 1 && distance(q, t.line[n-2]) < 0.2 {
			continue
		}
		t.line = append(t.line, q)
	}
	t.line = onceRound(t.line)
	t.stitch = 2.5
	return t
}

// bandTrace follows the centre line of satin or zigzag.
func bandTrace(p *Pass, g *Passage) (trace, bool) {
	t := trace{stop: g.Stop - 1, kind: g.Kind, first: g.first, times: 1}
	for i := g.band; i >= 0 && i < len(p.bands) && p.bands[i].passage == g.first; i++ {
		t.line = append(t.line, p.bands[i].centre...)
		t.bands = append(t.bands, i)
	}
	return t, len(t.line) > 1
}

// finish closes and measures a line.
func (t *trace) finish() {
	n := len(t.line)
	t.opening = distance(t.line[0], t.line[n-1])
	l := pathLength(t.line)
	t.closed = n > 3 && l > 4*closesWithin && t.opening <= closesWithin
	if t.kind == KindSatin || t.kind == KindOpenZigzag {
		t.closed = n > 3 && l > 12 && t.opening <= 4
	}
	if t.closed && t.opening > 0 {
		t.line = append(t.line, t.line[0])
	}
	t.line = resample2(t.line)
	t.length = pathLength(t.line)
	t.box = boxOf(t.line)
	t.grid = nil
}

// resample2 puts points into the longer parts of a line and keeps its corners.
func resample2(line []Point) []Point {
	out := make([]Point, 0, 2*len(line))
	out = append(out, line[0])
	for i := 1; i < len(line); i++ {
		d := distance(line[i-1], line[i])
		n := int(d/traceStep) + 1
		if n > 64 {
			n = 64 // a stitch is 12 mm at most; longer is a damaged file
		}
		for k := 1; k <= n && d > 0; k++ {
			out = append(out, lerp(line[i-1], line[i], float64(k)/float64(n)))
		}
	}
	return out
}

// likeness is how well two lines agree.
type likeness struct {
	share float64 // the smaller share of either that lies within reach of the other
	mean  float64 // mean distance of the first from the second, mm
	most  float64 // distance within which 95 % of the first lies
}

const likenessSamples = 240

// agree compares two lines from both sides. Beyond reach nothing counts.
func agree(a, b *trace, reach float64) likeness {
	var s likeness
	d, in := distances(a, b, reach)
	_, back := distances(b, a, reach)
	s.share = min(in, back)
	if len(d) > 0 {
		for _, v := range d {
			s.mean += v
		}
		s.mean /= float64(len(d))
		s.most = quantileOf(d, 0.95)
	}
	return s
}

// distances samples a and gives the distances to b of the samples within reach,
// and their share.
func distances(a, b *trace, reach float64) ([]float64, float64) {
	g := b.near()
	step := max(1, len(a.line)/likenessSamples)
	var d []float64
	n := 0
	for i := 0; i < len(a.line); i += step {
		n++
		if v := g.nearest(a.line[i], reach); v <= reach {
			d = append(d, v)
		}
	}
	if n == 0 {
		return nil, 0
	}
	return d, float64(len(d)) / float64(n)
}
