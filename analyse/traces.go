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
func findTraces(p *finder) []trace {
	var out []trace
	gs := p.sewn.Passages
	var last trace // not finished yet: the next may go on from its end
	flush := func() {
		if len(last.line) > 1 {
			last.finish()
			out = append(out, last)
		}
	}
	add := func(t trace) {
		if len(t.line) < 2 {
			return
		}
		t.length = pathLength(t.line)
		if n := len(last.line); n > 0 && last.stop == t.stop && last.kind == t.kind && !last.whole && !t.whole &&
			!last.closes() && distance(last.line[n-1], t.line[0]) < joinsWithin {
			last.line = append(last.line, t.line...)
			last.bands = append(last.bands, t.bands...)
			last.sewn += t.sewn
			last.length += t.length
			return
		}
		flush()
		last = t
	}
	for i := 0; i < len(gs); {
		g := &gs[i]
		switch g.Kind {
		case KindRun, KindDoubleRun:
			// A line half of which is sewn twice is one line all the same.
			j, sewn := i+1, g.LengthMM
			for j < len(gs) && gs[j].Stop == g.Stop && gs[j].From == gs[j-1].To && p.sewn.Track.Joined(gs[j].From) &&
				(gs[j].Kind == KindRun || gs[j].Kind == KindDoubleRun) {
				sewn += gs[j].LengthMM
				j++
			}
			for _, t := range lineTraces(p, g, &gs[j-1], sewn/float64(gs[j-1].To-g.From)) {
				add(t)
			}
			i = j
			continue
		case KindTripleRun:
			add(tripleTrace(p, g))
		case KindSatin, KindOpenZigzag, KindFill:
			if t, ok := bandTrace(p, i); ok {
				add(t)
			}
		}
		i++
	}
	flush()
	return out
}

// points are the needle points of passages a to b, with the point that leads in.
func points(p *finder, a, b *Passage) []Point {
	first := a.From
	if first > 0 && p.sewn.Track.Joined(first) {
		first--
	}
	return p.sewn.Track.Pts[first:b.To]
}

// lineTraces follows running stitches and cuts them into lines: each loop is a
// line of its own, with how often it was sewn round, and so is what lies before
// and after it. What goes back over itself is followed one way only.
func lineTraces(p *finder, a, b *Passage, stitch float64) []trace {
	pts := points(p, a, b)
	var out []trace
	put := func(line []Point, times int, whole bool) {
		if len(line) < 2 {
			return
		}
		t := trace{stop: a.Stop - 1, kind: KindRun, first: a.From, times: times, line: line, stitch: stitch, whole: whole}
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

// tripleTrace follows a triple run, each hole once.
func tripleTrace(p *finder, g *Passage) trace {
	t := trace{stop: g.Stop - 1, kind: KindTripleRun, first: g.From, times: 3}
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
	t.stitch, t.sewn = g.LengthMM/float64(g.To-g.From), g.LengthMM
	return t
}

// bandTrace follows the centre line of satin or zigzag.
func bandTrace(p *finder, passage int) (trace, bool) {
	g := &p.sewn.Passages[passage]
	t := trace{stop: g.Stop - 1, kind: g.Kind, first: g.From, times: 1, sewn: g.LengthMM}
	for i := int(p.satin.BandOf[passage]); i >= 0 && i < len(p.satin.Bands) && p.satin.Bands[i].Passage == passage; i++ {
		t.line = append(t.line, p.satin.Bands[i].Centre...)
		t.bands = append(t.bands, i)
	}
	return t, len(t.line) > 1
}

// closes reports whether the line's ends meet.
func (t *trace) closes() bool {
	n := len(t.line)
	opening := distance(t.line[0], t.line[n-1])
	if t.kind.Surface() {
		return n > 3 && t.length > 12 && opening <= 4
	}
	return n > 3 && t.length > 4*closesWithin && opening <= closesWithin
}

// finish closes and measures a line.
func (t *trace) finish() {
	t.length = pathLength(t.line)
	t.opening = distance(t.line[0], t.line[len(t.line)-1])
	t.closed = t.closes()
	if t.closed && t.opening > 0 {
		t.line = append(t.line, t.line[0])
	}
	t.line = resample2(t.line)
	t.length = pathLength(t.line)
	t.box = boxOf(t.line)
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
