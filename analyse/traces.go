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
	sewn    float64 // thread on the cloth, mm
	box     box
	whole   bool  // a loop, or what lies between loops: not to be joined to another
	first   int   // where it begins in the track
	bands   []int // bands it is made of, for satin and zigzag

	grid  *lineGrid
	under map[int]float64 // share of the line under satin, by stop; see covering
	over  [][]int         // the stops whose satin lies over each sample of it
	role  Part
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
			if l.stop == t.stop && l.kind == t.kind && !l.closed && !l.whole && !t.whole && distance(l.line[len(l.line)-1], t.line[0]) < joinsWithin {
				l.line = append(l.line, t.line...)
				l.bands = append(l.bands, t.bands...)
				l.sewn += t.sewn
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
			for _, t := range lineTraces(p, g, &gs[j-1], sewn/float64(gs[j-1].last-g.first)) {
				add(t)
			}
			i = j
			continue
		case KindTripleRun:
			add(tripleTrace(p, g))
		case KindSatin, KindOpenZigzag, KindFill:
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

// lineTraces follows running stitches and cuts them into lines: each loop is a
// line of its own, with how often it was sewn round, and so is what lies before
// and after it. What goes back over itself is followed one way only.
func lineTraces(p *Pass, a, b *Passage, stitch float64) []trace {
	pts := points(p, a, b)
	var out []trace
	put := func(line []Point, times int, whole bool) {
		if len(line) < 2 {
			return
		}
		t := trace{stop: a.Stop - 1, kind: KindRun, first: a.first, times: times, line: line, stitch: stitch, whole: whole}
		t.sewn = pathLength(line) * float64(times)
		if times > 1 {
			t.kind = KindDoubleRun
		}
		out = append(out, t)
	}
	for len(pts) > 1 {
		from, to := 0, 0
		if len(out) < mostLoops {
			from, to = firstLoop(pts)
		}
		if to == 0 {
			line, times := oneWay(pts)
			put(line, times, len(out) > 0)
			break
		}
		if lead := pts[:from+1]; pathLength(lead) > joinsWithin {
			put(slices.Clone(lead), 1, true)
		}
		loop := append(slices.Clone(pts[from:to]), pts[from])
		rest := pts[to:]
		times, again := roundAgain(loop, rest)
		put(loop, times, true)
		pts = rest[again:]
		if pathLength(pts) < 4*closesWithin {
			break // the end goes a little way past where the loop closed
		}
	}
	return out
}

const (
	loopNear  = 0.7 // mm: a line this near to a place it left closes a loop
	loopApart = 8.0 // mm along a loop at least
	loopWide  = 0.9 // mm: twice the area over the length; less is a line sewn there and back
	mostLoops = 64  // lines that one run is cut into; more are stippling
	mostSharp = 12  // corners tried as the beginning of a loop
)

// firstLoop finds the first loop of a line: it leaves pts[from] and comes back to
// it with pts[to]; to is 0 where it never does. Where a lead meets its loop
// there is mostly a corner, so the beginning and the corners are tried before
// any crossing counts: the lead itself may cross the loop.
func firstLoop(pts []Point) (from, to int) {
	sharp := 0
	for j := 0; j+3 < len(pts) && sharp < mostSharp; j++ {
		if j > 0 && cosBetween(pts[j].sub(pts[j-1]), pts[j+1].sub(pts[j])) > 0.87 {
			continue
		}
		sharp++
		if to := returnsTo(pts, j); to > 0 {
			return j, to
		}
	}
	return firstCrossing(pts)
}

// returnsTo finds where a line first comes back to pts[j] round a loop, or 0.
func returnsTo(pts []Point, j int) int {
	var l, area float64
	for i := j + 1; i < len(pts); i++ {
		l += distance(pts[i-1], pts[i])
		area += pts[i-1].sub(pts[j]).cross(pts[i].sub(pts[j])) // twice the area
		if l > loopApart && distance(pts[i], pts[j]) < loopNear && abs(area) > loopWide*l {
			return i
		}
	}
	return 0
}

// firstCrossing finds the first place where a line crosses or meets itself round
// a loop.
func firstCrossing(pts []Point) (from, to int) {
	along, swept := make([]float64, len(pts)), make([]float64, len(pts))
	for i := 1; i < len(pts); i++ {
		along[i] = along[i-1] + distance(pts[i-1], pts[i])
		swept[i] = swept[i-1] + pts[i-1].sub(pts[0]).cross(pts[i].sub(pts[0]))
	}
	grid := newCells(2, len(pts)-1, func(i int) box { return boxOf(pts[i : i+2]) })
	for i := 1; i < len(pts); i++ {
		best := -1
		grid.each(box{pts[i], pts[i]}.grown(loopNear), func(j int32) {
			if int(j)+1 < i && along[i]-along[j+1] > loopApart && (best < 0 || int(j) < best) &&
				distanceToSegment(pts[i], pts[j], pts[j+1]) < loopNear {
				best = int(j)
			}
		})
		if best < 0 {
			continue
		}
		if distance(pts[i], pts[best+1]) < distance(pts[i], pts[best]) {
			best++
		}
		area := swept[i] - swept[best] + pts[i].sub(pts[0]).cross(pts[best].sub(pts[0]))
		if abs(area) > loopWide*(along[i]-along[best]) {
			return best, i
		}
	}
	return 0, 0
}

// roundAgain counts how often rest goes the way of a loop again, and how many of
// its points that takes.
func roundAgain(loop, rest []Point) (times, used int) {
	t := trace{line: loop}
	g := t.near()
	l := pathLength(loop)
	var sewn float64
	for used < len(rest) && g.nearest(rest[used], 1.2) <= 1.2 {
		if used > 0 {
			sewn += distance(rest[used-1], rest[used])
		}
		used++
	}
	return 1 + int(sewn/l+0.35), used
}

// oneWay is a line that closes nowhere, without the way back where it turns
// and goes back over itself.
func oneWay(pts []Point) ([]Point, int) {
	far, farAt := 0.0, 0
	for i := range pts {
		if d := distance(pts[i], pts[0]); d > far {
			far, farAt = d, i
		}
	}
	if n := len(pts); farAt >= 2 && n-1-farAt >= 2 && distance(pts[n-1], pts[0]) < 0.5*far && foldsAt(pts, farAt) {
		return slices.Clone(pts[:farAt+1]), 2
	}
	return slices.Clone(pts), 1
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
	if from, to := firstLoop(t.line); to > 0 && from < 3 {
		t.line = append(t.line[from:to:to], t.line[from])
	}
	t.stitch, t.sewn = g.LengthMM/float64(g.last-g.first), g.LengthMM
	return t
}

// bandTrace follows the centre line of satin or zigzag.
func bandTrace(p *Pass, g *Passage) (trace, bool) {
	t := trace{stop: g.Stop - 1, kind: g.Kind, first: g.first, times: 1, sewn: g.LengthMM}
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
	if isSurface(t.kind) {
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
		if d > 50 {
			n = 1 // a stitch is 12 mm at most; this is a damaged file
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
