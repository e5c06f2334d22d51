package applique

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
)

// Each thing that is looked for changes the log-odds of a reading by what it is
// judged to be worth, and by nothing else: the same chain is weighed with it and
// without.
func TestWhatEachThingWeighs(t *testing.T) {
	ring := func(stop int, kind report.Kind, radius float64) *Trace {
		return traced(stop, kind, arc(radius, 0, 360))
	}
	// The line.
	line := func(kind report.Kind, change func(c *chain)) evidence {
		c := newChain(ring(0, kind, 40))
		if change != nil {
			change(c)
		}
		return c.lineEvidence()
	}
	nothing := evidence(0)
	closed := line(report.KindRun, nil)
	open := line(report.KindRun, func(c *chain) { c.line.Closed = false })

	// Order: a line, a tack-down and a cover, each in the stop given, and others.
	order := func(stops [3]int, change func(c *chain, o *option)) evidence {
		tack, cover := at(stops[1], double, 0.5, 0), at(stops[2], satinMade, 0, 3.5)
		c := ringChain(tack, cover)
		c.line.Stop = stops[0]
		o := &option{tack: tack, cover: []*round{cover}}
		if change != nil {
			change(c, o)
		}
		return apart().orderEvidence(c, o)
	}
	usual := order([3]int{0, 1, 2}, nil)
	other := func(stop int, made sewing, when int) func(c *chain, o *option) {
		return func(c *chain, o *option) {
			r := at(stop, made, 0.3, 0)
			r.traces[0].Spans = [][2]int{{when, when + 10}}
			c.rounds = append([]*round{r}, c.rounds...)
		}
	}
	one := func(c *chain, o *option) { o.tack.made = single }

	// Cover.
	cover := func(made sewing, change func(c *chain, r *round)) evidence {
		tack, r := at(1, double, 0.5, 0), at(2, made, 0, 3.5)
		c := ringChain(tack, r)
		for i := range c.samples {
			r.mask.set(i)
		}
		if change != nil {
			change(c, r)
		}
		return c.coverEvidence(&option{tack: tack, cover: []*round{r}})
	}
	satin := cover(satinMade, nil)

	// Cloth cut beforehand, and a raw edge.
	before := func(stop int, made sewing, middle float64, change func(p *finder, c *chain)) evidence {
		r := at(stop, made, middle, 0.3)
		c, p := ringChain(r), apart()
		if change != nil {
			change(p, c)
		}
		return p.preCutEvidence(c, &option{cover: []*round{r}})
	}
	everything := func(p *finder, c *chain) {
		p.all = c.line.Box
		p.chains = []*chain{c, newChain(ring(2, report.KindRun, 10))}
	}
	raw := func(made sewing, middle float64, change func(p *finder, c *chain)) evidence {
		r := at(1, made, middle, 0)
		c, p := ringChain(r), apart()
		if change != nil {
			change(p, c)
		}
		return p.rawEvidence(c, &option{tack: r})
	}
	onLine := raw(double, 0, nil)
	opened := func(p *finder, c *chain) { c.line.Closed = false }

	// What lies inside.
	inside := func(what byte, o func(tack, cover *round) *option) evidence {
		tack, r := at(1, double, 0.5, 0), at(2, satinMade, 0, 3.5)
		c, p := ringChain(tack, r), apart()
		c.line.Spans = [][2]int{{0, 50}}
		for _, k := range []known{{'f', 50, 200, 0}, {'f', 50, 100, 0}, {'b', 0, c.line.first, 0}, {'n', 50, 100, 0}, {'n', 50, 200, 0}, {'i', 50, 200, 0}} {
			if k.what == what {
				k.share = 0.99
			}
			c.known = append(c.known, k)
		}
		if what == 'm' {
			p.lineMM[0] = 1
		}
		return p.insideEvidence(c, o(tack, r))
	}
	// How the other pieces of the design are made: one is, with a double line and satin.
	style := func(line, stop int, o *option) evidence {
		m := manner{stops: map[[2]int]int{}}
		m.count(&chain{line: &Trace{Stop: 0}}, &option{tack: at(1, double, 0.5, 0), cover: []*round{at(2, satinMade, 0, 3.5)}}, 1)
		return evidence(m.like(&chain{line: &Trace{Stop: line, Closed: true}}, o))
	}
	blanketed := []*round{at(5, blanket, 0, 3.5)}
	// A whole reading.
	whole := func(change func(p *finder, c *chain)) evidence {
		tack, r := at(1, double, 0.5, 0), at(2, satinMade, 0, 3.5)
		c, p := ringChain(tack, r), apart()
		c.line.Spans = [][2]int{{0, 50}}
		for i := range c.samples {
			r.mask.set(i)
		}
		c.known = []known{{'f', 50, 200, 0}, {'b', 0, c.line.first, 0}, {'n', 50, 100, 0}}
		if change != nil {
			change(p, c)
		}
		return p.weigh(c, &option{tack: tack, cover: []*round{r}})
	}
	held := func(tack, cover *round) *option { return &option{tack: tack, cover: []*round{cover}} }
	loose := func(tack, cover *round) *option { return &option{cover: []*round{cover}} }

	for _, c := range []struct {
		name          string
		with, without evidence
		want          float64
	}{
		{"a line sewn twice", line(report.KindDoubleRun, nil), closed, -1.4},
		{"a triple line", line(report.KindTripleRun, nil), closed, -0.9},
		{"a zigzag for a line", line(report.KindOpenZigzag, nil), closed, -1.2},
		{"a single closed line", closed, nothing, 0.9},
		{"an open line", open, closed, -1.5},
		{"a line that follows another", line(report.KindRun, func(c *chain) { c.ahead = 1 }), closed, -2},
		{"a line that follows three others", line(report.KindRun, func(c *chain) { c.ahead = 3 }), closed, -4},
		{"one of those is the same line", line(report.KindRun, func(c *chain) { c.ahead, c.second = 1, true }), line(report.KindRun, func(c *chain) { c.ahead = 1 }), -1.5},
		{"a line of a tack-down in rounds", line(report.KindRun, func(c *chain) { c.again = true }), closed, -5},
		{"a piece of 9 mm", newChain(ring(0, report.KindRun, 4.5)).lineEvidence(), closed, -1.2},

		{"three stops", usual, nothing, 2},
		{"line and tack-down in one stop", order([3]int{1, 1, 2}, one), nothing, -0.7},
		{"the same, and the second sewn twice", order([3]int{1, 1, 2}, nil), order([3]int{1, 1, 2}, one), 2},
		{"tack-down and cover in one stop", order([3]int{0, 1, 1}, nil), nothing, -0.6},
		{"all in one stop", order([3]int{1, 1, 1}, nil), nothing, -7.9},
		{"three stops between", order([3]int{0, 4, 5}, nil), usual, -0.3},
		{"nine stops between", order([3]int{0, 10, 11}, nil), usual, -0.6},
		{"another line after the tack-down", order([3]int{0, 1, 3}, other(2, single, 260)), usual, -0.6},
		{"another line before the tack-down", order([3]int{0, 2, 3}, other(1, single, 110)), order([3]int{0, 2, 3}, nil), -1.5},
		{"a net along it before the tack-down", order([3]int{0, 2, 3}, other(1, zigzag, 110)), order([3]int{0, 2, 3}, nil), -3},
		{"the cover first", order([3]int{0, 2, 1}, func(c *chain, o *option) { o.reverse = true }), usual, -0.6},
		{"open satin first", order([3]int{0, 2, 1}, func(c *chain, o *option) { o.reverse, o.cover[0].sparse = true, true }),
			order([3]int{0, 2, 1}, func(c *chain, o *option) { o.reverse = true }), -5},
		{"a zigzag in the tack-down's stop, and a finish later", order([3]int{0, 1, 1}, func(c *chain, o *option) {
			o.cover[0].made, c.rounds = zigzag, append(c.rounds, at(2, triple, 1.5, 0))
		}), order([3]int{0, 1, 1}, func(c *chain, o *option) { o.cover[0].made = zigzag }), -3},
		{"a satin along it that is no cover", order([3]int{0, 1, 3}, other(2, satinMade, 400)), usual, -2},
		{"one of several lines side by side, its tack-down under the cover", order([3]int{0, 1, 1}, func(c *chain, _ *option) { c.echo = true }), order([3]int{0, 1, 1}, nil), -2},
		{"a sparse satin for a tack-down", tackEvidence(at(1, satinMade, 0, 0)), nothing, -0.5},
		{"an underlay of two lines", order([3]int{0, 0, 1}, func(c *chain, o *option) {
			o.tack.made, o.tack.middle = single, 1.6
			o.cover[0].lo, o.cover[0].hi = -0.95, 2.55
		}), order([3]int{0, 0, 1}, one), -2.5},

		{"a line for a tack-down", tackEvidence(at(1, single, 0, 0)), nothing, 0.4},
		{"a triple line for a tack-down", tackEvidence(at(1, triple, 0, 0)), nothing, 0.4},
		{"a zigzag for a tack-down", tackEvidence(at(1, zigzag, 0, 0)), nothing, 0.5},
		{"satin for a tack-down", tackEvidence(at(1, satinMade, 0, 0)), nothing, -0.5},
		{"a motif for a tack-down", tackEvidence(at(1, motif, 0, 0)), nothing, -1.5},
		{"a tack-down of half the line", tackEvidence(&round{made: single, share: 0.5}), tackEvidence(at(1, single, 0, 0)), -1},
		{"a tack-down 2.2 mm inside", tooFar(at(1, single, 2.2, 0)), nothing, -0.6},
		{"a tack-down that wanders by 2.6 mm", tackEvidence(at(1, single, 0, 2.6)), tackEvidence(at(1, single, 0, 0)), -1},

		{"satin for a cover", satin, nothing, 1.8},
		{"a zigzag for a cover", cover(zigzag, nil), nothing, 1},
		{"a blanket stitch for a cover", cover(blanket, nil), nothing, 1.2},
		{"a motif for a cover", cover(motif, nil), nothing, 0.9},
		{"a cover 1.2 mm wide", cover(satinMade, func(c *chain, r *round) { r.lo, r.hi = -0.6, 0.6 }), satin, -1.5},
		{"a cover 1 mm off the tack-down", cover(satinMade, func(c *chain, r *round) { r.lo, r.hi = 1.5, 5 }), satin, -1.5 - 1.5*0.5},
		{"a cover 0.4 mm off the line, over the tack-down", cover(satinMade, func(c *chain, r *round) { r.lo, r.hi = 0.4, 4 }), satin, -0.2},
		{"a cover of half the line", cover(satinMade, func(c *chain, r *round) { r.mask = some(0, c.samples/2) }), satin, -1},

		{"cloth cut beforehand", before(2, satinMade, 1.4, func(p *finder, c *chain) { c.rounds[0].lo = 1.3 }), nothing, -1.2},
		{"the cover evenly over the line", before(2, satinMade, 0, nil), before(2, satinMade, 1.4, nil), 0.9},
		{"the cover in the next stop", before(1, satinMade, 0, nil), before(2, satinMade, 0, nil), 0.8},
		{"a zigzag over cloth cut beforehand", before(2, zigzag, 0, nil), before(2, satinMade, 0, nil), -1},
		{"an open line for cloth cut beforehand", before(2, satinMade, 0, opened), before(2, satinMade, 0, nil), -2},
		{"a line that is another, moved aside", before(2, satinMade, 0, func(_ *finder, c *chain) { c.from = c.line }), before(2, satinMade, 0, nil), 3},
		{"a tack-down astray", before(2, satinMade, 0, func(_ *finder, c *chain) { c.astray = c.line }), before(2, satinMade, 0, nil), 1},
		{"a zigzag round everything", before(2, zigzag, 0, everything), before(2, zigzag, 0, nil), -6},

		{"a line sewn once more", onLine, nothing, -2},
		{"a tack-down well inside, its edge raw", raw(double, 2, nil), nothing, 1.4},
		{"a line outside", raw(double, -1, nil), nothing, -4},
		{"a zigzag, its edge raw", raw(zigzag, 0, nil), nothing, 0.2},
		{"lines side by side", raw(double, 0, func(p *finder, c *chain) { c.echo = true }), onLine, -2.5},
		{"a heavier line inside", raw(single, 0, func(p *finder, c *chain) { c.rounds = append(c.rounds, at(2, double, 2, 0)) }), raw(single, 0, nil), 0.6},
		{"a bean line inside that finishes it", raw(double, 0, func(p *finder, c *chain) { c.rounds = append(c.rounds, at(2, triple, 1.5, 0)) }), onLine, 4},
		{"a line inside a zigzag", raw(zigzag, 0, func(p *finder, c *chain) { c.rounds = append(c.rounds, at(2, double, 2, 0)) }), raw(zigzag, 0, nil), 0.6},
		{"a like line inside", raw(double, 0, func(p *finder, c *chain) { c.rounds = append(c.rounds, at(2, double, 2, 0)) }), onLine, 0},
		{"an open line, its edge raw", raw(double, 0, opened), onLine, -2},
		{"a line round everything", raw(double, 0, everything), onLine, -6},
		{"heavier than its tack-down", raw(double, 2, func(p *finder, c *chain) { c.line.times = 3 }), raw(double, 2, nil), -3},
		{"as heavy as its tack-down", raw(triple, 2, func(p *finder, c *chain) { c.line.times = 3 }), raw(triple, 2, nil), 0},
		{"with no room between two cloths", raw(double, 2, func(p *finder, c *chain) { c.known = []known{{'c', 0, 0, 1}} }), raw(double, 2, nil), -2.5},
		{"a tack-down between two lines of a stop", raw(double, 0, func(p *finder, c *chain) {
			p.followed = map[int32][]*chain{c.rounds[0].traces[0].index: {c, newChain(ring(c.line.Stop, report.KindRun, 10))}}
		}), onLine, -2.5},

		{"filled", inside('f', held), inside('-', held), -6},
		{"filled up to the line", inside('b', held), inside('-', held), -4},
		{"a net over the line", inside('n', held), inside('-', held), -5},
		{"sewn on while loose", inside('i', loose), inside('-', loose), -2.5},
		{"a line of a stop that sews much else", inside('m', loose), inside('-', loose), -1.5},
		{"a chain in itself, well made", whole(nil), nothing, -1 + 0.9 + 2 + 0.4 + 1.8},
		{"round everything, with a cover", whole(everything), whole(nil), -1},
		{"another piece", style(3, 4, &option{tack: at(4, zigzag, 0.5, 0), cover: blanketed}), nothing, 1.5},
		{"with such a tack-down", style(3, 4, &option{tack: at(4, double, 0.5, 0), cover: blanketed}), nothing, 2.1},
		{"with such a cover", style(3, 4, &option{tack: at(4, zigzag, 0.5, 0), cover: []*round{at(5, satinMade, 0, 3)}}), nothing, 1.9},
		{"in the same stops", style(0, 1, &option{tack: at(1, zigzag, 0.5, 0), cover: blanketed}), nothing, 2.7},
		{"without a tack-down where the other has one", style(3, 4, &option{cover: blanketed}), nothing, 0.5},
		{"its line among those of another, and no tack-down", style(0, 4, &option{cover: blanketed}), nothing, 4},
		{"the same with such a cover", style(0, 4, &option{cover: []*round{at(5, satinMade, 0, 3)}}), nothing, 4.4},
		{"its cover missing", style(3, 4, &option{tack: at(4, double, 0.5, 0), bare: true}), nothing, 4.3},
		{"its cover missing, tacked down otherwise", style(3, 4, &option{tack: at(4, triple, 0.5, 0), bare: true, alone: true}), nothing, 3},
		{"the same with a tack-down to follow", inside('m', held), inside('-', held), -0.4},
	} {
		if got := float64(c.with - c.without); math.Abs(got-c.want) > 0.03 {
			t.Errorf("%s weighs %.2f, want %.2f", c.name, got, c.want)
		}
	}
}
