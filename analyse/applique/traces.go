package applique

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// Trace is one connected line of a stop's stitching: where it runs, not each
// stitch. For satin and zigzag it is the centre line.
type Trace struct {
	Stop    int          // index in Report.Stops
	Line    []geom.Point // closed lines repeat their first point
	Kind    report.Kind
	Closed  bool
	whole   bool    // a loop, or what lies between loops: not to be joined to another
	index   int32   // in Recognised.Traces
	Opening float64 // mm between its ends
	times   int     // how often it goes round or over itself
	Length  float64 // of line, mm
	stitch  float64 // usual stitch length, mm
	sewn    float64 // thread on the cloth, mm
	Box     geom.Box
	first   int   // where it begins in the track
	Bands   []int // bands it is made of, for satin and zigzag
	dashes  int   // dashes that it was put together from, 0 for a line sewn through
	blanket bool  // it is teeth of a blanket stitch; told of lines that something follows
	knots   bool  // it is knots in a row, joined by travel; see tellKnots

	// Spans are its needle points in Sewn.Track, each from the first to one past
	// the last, in sewing order. Lines with many rounds have all of them.
	Spans [][2]int

	chain *chain // the chain that it begins, if anything follows it
	made  *made  // nil: nothing
	role  report.Part
}

// made is what is made of a line when it is first asked for.
type made struct {
	grid      *geom.LineGrid
	inside    *geom.Region
	places    []geom.Point // spread over the inside; see placesInside
	back      int          // stitches that come back to a hole; see backs
	backKnown bool
}

// make is what is made of the line already.
func (t *Trace) make() *made {
	if t.made == nil {
		t.made = new(made)
	}
	return t.made
}

// Near is the grid of the line, made when first asked for.
func (t *Trace) Near() *geom.LineGrid {
	m := t.make()
	if m.grid == nil {
		m.grid = geom.NewLineGrid(t.Line)
	}
	return m.grid
}

// Inside is what lies inside the line, made ready when first asked for.
func (t *Trace) Inside() *geom.Region {
	m := t.make()
	if m.inside == nil {
		m.inside = geom.NewRegion(t.Line)
	}
	return m.inside
}

// tellKnots tells the lines most stitches of which are spokes of knots: those adorn, and mark,
// hold and hide nothing.
func (p *finder) tellKnots() {
	if !p.sewn.Track.Knots {
		return
	}
	for i := range p.traces {
		t, spokes, holes := &p.traces[i], 0, 0
		for _, s := range t.Spans {
			p.watch.Step(s[1] - s[0])
			for k := s[0]; k < s[1]; k++ {
				holes++
				if p.sewn.Track.Spoke(k) {
					spokes++
				}
			}
		}
		t.knots = 2*spokes > holes
	}
}

// findTraces turns the passages of every stop into traces, in sewing order.
func findTraces(p *finder) []Trace {
	gs := p.sewn.Passages
	out := make([]Trace, 0, p.guessTraces())
	room := make([]geom.Point, 0, min(linesTogether, len(p.sewn.Track.Pts)))
	var last Trace // not finished yet: the next may go on from its end
	flush := func() {
		if len(last.Line) > 1 {
			room = last.finish(room)
			out = append(out, last)
		}
	}
	add := func(t Trace) {
		if len(t.Line) < 2 {
			return
		}
		if t.Length == 0 {
			t.Length = geom.PathLength(t.Line)
		}
		if t.Length < specks {
			return
		}
		alike := last.Kind == t.Kind || !last.Kind.Surface() && !t.Kind.Surface()
		if n := len(last.Line); n > 0 && last.Stop == t.Stop && alike && !last.whole && !t.whole &&
			!last.closes() && !t.closes() && geom.Distance(last.Line[n-1], t.Line[0]) < joinsWithin {
			if t.Length > last.Length {
				last.Kind, last.times = t.Kind, t.times
			}
			last.Line = append(last.Line, t.Line...)
			last.Bands = append(last.Bands, t.Bands...)
			last.Spans = append(last.Spans, t.Spans...)
			last.sewn += t.sewn
			last.Length += t.Length
			return
		}
		flush()
		last = t
	}
	looked := 0 // passages that were looked at for a flat zigzag
	for i := 0; i < len(gs); {
		g := &gs[i]
		if i >= looked {
			flat := false
			if looked, flat = p.flatZigzag(i); flat {
				for _, t := range lineTraces(p, g, &gs[looked-1], 0) {
					p.asZigzag(&t, i, looked)
					add(t)
				}
				i = looked
				continue
			}
		}
		switch g.Kind {
		case report.KindRun, report.KindDoubleRun:
			// A line half of which is sewn twice is one line all the same.
			j, sewn := i+1, g.LengthMM
			for j < len(gs) && gs[j].Stop == g.Stop && gs[j].From == gs[j-1].To && p.sewn.Track.Joined(gs[j].From) &&
				(gs[j].Kind == report.KindRun || gs[j].Kind == report.KindDoubleRun) {
				sewn += gs[j].LengthMM
				j++
			}
			for _, t := range lineTraces(p, g, &gs[j-1], sewn/float64(gs[j-1].To-g.From)) {
				add(t)
			}
			i = j
			continue
		case report.KindTripleRun:
			j := p.tripleUntil(i)
			for _, t := range tripleTraces(p, g, &gs[j-1]) {
				add(t)
			}
			i = j
			continue
		case report.KindSatin, report.KindOpenZigzag, report.KindFill:
			if t, ok := bandTrace(p, i); ok {
				add(t)
			}
		}
		i++
	}
	flush()
	return joinDashes(out)
}

// guessTraces is about as many as there will be: runs that go on from one another are one.
func (p *finder) guessTraces() (n int) {
	gs := p.sewn.Passages
	run := func(g *report.Passage) bool { return g.Kind == report.KindRun || g.Kind == report.KindDoubleRun }
	for i := range gs {
		switch g := &gs[i]; {
		case g.LengthMM < specks: // is passed over, or is part of one that is counted
		case run(g):
			if i == 0 || !run(&gs[i-1]) || gs[i-1].Stop != g.Stop || !p.sewn.Track.Joined(g.From) {
				n++
			}
		case g.Kind == report.KindTripleRun || g.Kind.Surface():
			n++
		}
	}
	return n
}

// points are the needle points of passages a to b, with the point that leads in.
func points(p *finder, a, b *report.Passage) []geom.Point {
	return p.sewn.Track.Pts[leadIn(p, a):b.To]
}

// leadIn is the point that passage a begins at: the last of the one before, where
// the thread goes on from it.
func leadIn(p *finder, a *report.Passage) int {
	if a.From > 0 && p.sewn.Track.Joined(a.From) {
		return a.From - 1
	}
	return a.From
}

// lineTraces follows running stitches and cuts them into lines: each loop is a
// line of its own, with how often it was sewn round, and so is what lies before
// and after it. What goes back over itself is followed one way only. The lines hold until
// the next are asked for.
func lineTraces(p *finder, a, b *report.Passage, stitch float64) []Trace {
	sewn, at := points(p, a, b), leadIn(p, a)
	if rows := toothed(sewn); rows != nil {
		return p.toothedTraces(a.Stop-1, sewn, rows, at, stitch)
	}
	p.parts = p.loopTraces(p.parts[:0], a.Stop-1, sewn, sewn, at, stitch)
	return p.parts
}

// loopTraces cuts running stitches into lines, by the way that pts go, which are the
// needle points or the middle of their teeth.
func (p *finder) loopTraces(out []Trace, stop int, sewn, pts []geom.Point, at int, stitch float64) []Trace {
	for _, c := range p.cutLoops(len(out), sewn, pts) {
		t := Trace{Stop: stop, Kind: report.KindRun, first: at + c.from, times: c.times, Line: c.line, stitch: stitch, whole: c.whole, Spans: [][2]int{{at + c.from, at + c.to}}}
		t.Length = geom.PathLength(c.line)
		t.sewn = t.Length * float64(c.times)
		if c.times > 1 {
			t.Kind = report.KindDoubleRun
		}
		out = append(out, t)
	}
	return out
}

// tripleUntil is the passage after the last that goes on with a triple run, one that
// stitches on the spot part, or a few that cross one another as at a sharp corner.
func (p *finder) tripleUntil(i int) int {
	gs := p.sewn.Passages
	end := i + 1
	for j := end; j < len(gs) && gs[j].Stop == gs[i].Stop && gs[j].From == gs[j-1].To && p.sewn.Track.Joined(gs[j].From); j++ {
		if gs[j].Kind == report.KindTripleRun {
			end = j + 1
		} else if spot := gs[j].Kind == report.KindRun && gs[j].LengthMM < specks; !spot && (gs[j].Kind != report.KindOpenZigzag || gs[j].To-gs[j].From > cornerMost) {
			break
		}
	}
	return end
}

const cornerMost = 6 // stitches that a line sewn forward two and back one makes round a corner at most

// tripleTraces follows triple runs, each hole once, and cuts the way that they go into
// lines as it is done with running stitches: several may be sewn without a cut.
func tripleTraces(p *finder, a, b *report.Passage) []Trace {
	lead := leadIn(p, a)
	pts := points(p, a, b)
	way, at := eachHoleOnce(pts)
	at = append(at, len(pts))
	stitch := geom.PathLength(pts) / float64(b.To-a.From)
	var out []Trace
	for _, c := range p.cutLoops(0, way, way) {
		from, to := lead, lead+at[c.to]
		if c.from > 0 {
			from += at[c.from+1] - 1 // where the last stitch to its first hole is done
		}
		out = append(out, Trace{Stop: a.Stop - 1, Kind: report.KindTripleRun, first: max(from, a.From), times: 3 * c.times, Line: c.line,
			stitch: stitch, sewn: geom.PathLength(p.sewn.Track.Pts[from:to]), whole: c.whole, Spans: [][2]int{{from, to}}})
	}
	return out
}

// eachHoleOnce is the way that stitches go which are made back and forth, and where in
// pts each hole of it is first come to.
func eachHoleOnce(pts []geom.Point) (way []geom.Point, at []int) {
	way, at = make([]geom.Point, 0, len(pts)/2+1), make([]int, 0, len(pts)/2+2)
	for i, q := range pts {
		near := func(hole geom.Point) bool { return geom.Distance(q, hole) < backWithin }
		if slices.ContainsFunc(way[max(0, len(way)-backHoles):], near) {
			continue
		}
		way, at = append(way, q), append(at, i)
	}
	return way, at
}

const (
	backWithin = 0.2 // mm: a needle that comes back to its hole, with rounding
	backHoles  = 3   // that it may come back to: the two of a stitch, and the one before where the line begins with a stitch back
)

// bandTrace follows the centre line of satin or zigzag.
func bandTrace(p *finder, passage int) (Trace, bool) {
	g := &p.sewn.Passages[passage]
	t := Trace{Stop: g.Stop - 1, Kind: g.Kind, first: g.From, times: 1, sewn: g.LengthMM, Spans: [][2]int{{leadIn(p, g), g.To}}}
	banded := 0.0
	for i := int(p.satin.BandOf[passage]); i >= 0 && i < len(p.satin.Bands) && p.satin.Bands[i].Passage == passage; i++ {
		if t.Line == nil {
			t.Line = p.satin.Bands[i].Centre // with room to close
		} else {
			t.Line = append(t.Line, p.satin.Bands[i].Centre...)
		}
		t.Bands = append(t.Bands, i)
		banded += geom.PathLength(p.satin.Bands[i].Centre) // not the ways between bands
	}
	if g.Kind == report.KindOpenZigzag {
		// Too open for bands, as a blanket stitch with wide steps, or in parts.
		if line := middleLine(points(p, g, g)); banded < bandedLeast*geom.PathLength(line) {
			t.Line = line
		}
	}
	return t, len(t.Line) > 1
}

// middleLine runs along the middle of crossings, the mean of each six stitches, or
// along the edge that the teeth of a blanket stitch stand on.
func middleLine(pts []geom.Point) []geom.Point {
	const window, step = 6, 3
	if len(pts) < window {
		return nil
	}
	tip := func(i int) bool { return i > 0 && i+1 < len(pts) && geom.Distance(pts[i-1], pts[i+1]) < sameHole }
	tips := 0
	for i := range pts {
		if tip(i) {
			tips++
		}
	}
	if float64(tips) > blanketHoles*float64(len(pts)) {
		var edge []geom.Point
		for i, q := range pts {
			if !tip(i) && (len(edge) == 0 || geom.Distance(q, edge[len(edge)-1]) >= sameHole) {
				edge = append(edge, q)
			}
		}
		return edge
	}
	mean := func(pts []geom.Point) geom.Point {
		var q geom.Point
		for _, v := range pts {
			q = q.Add(v)
		}
		return q.Times(1 / float64(len(pts)))
	}
	out := append(make([]geom.Point, 0, len(pts)/step+2), mean(pts[:step]))
	for i := 0; i+window <= len(pts); i += step {
		out = append(out, mean(pts[i:i+window]))
	}
	return append(out, mean(pts[len(pts)-step:]))
}
