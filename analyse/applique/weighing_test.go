package applique

import (
	"context"
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/internal/watch"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/stitches"
)

// apart is a finder in whose design there is much more than the line weighed.
func apart() *finder {
	return &finder{all: geom.Box{Lo: mm(-500, -500), Hi: mm(500, 500)}, watch: watch.New(context.Background()),
		sewnMM: []float64{100, 100, 100, 100}, lineMM: []float64{100, 100, 100, 100}, followMM: make([]float64, 4),
		sewn: &stitches.Sewn{Stops: make([]report.Stop, 4)}, firstOf: make([]int32, 5)}
}

// at is a round of a stop that lies so far inside its line.
func at(stop int, made sewing, middle, width float64) *round {
	return &round{stop: stop, made: made, share: 1, middle: middle, lo: middle - width/2, hi: middle + width/2,
		traces: []*Trace{{Stop: stop, Spans: [][2]int{{100 * stop, 100*stop + 50}}}}}
}

func ringChain(rounds ...*round) *chain {
	c := newChain(traced(0, report.KindRun, arc(40, 0, 360)))
	c.rounds = rounds
	return c
}

// Two things are weighed alike or not; more says which way.
func weighsMore(t *testing.T, name string, a, b evidence, more bool) {
	t.Helper()
	if (a > b+0.01) != more || !more && math.Abs(float64(a-b)) > 0.01 {
		t.Errorf("%s: %.2f against %.2f, weighs more: %v", name, a, b, !more)
	}
}

func TestHowATackDownLies(t *testing.T) {
	on := at(1, single, 0, 0)
	weighsMore(t, "1.1 mm inside", tooFar(on), tooFar(at(1, single, 1.1, 0)), false)
	weighsMore(t, "1.4 mm inside", tooFar(on), tooFar(at(1, single, 1.4, 0)), true)
	weighsMore(t, "wanders by 1.45 mm", tackEvidence(on), tackEvidence(at(1, single, 0, 1.45)), false)
	weighsMore(t, "wanders by 1.9 mm", tackEvidence(on), tackEvidence(at(1, single, 0, 1.9)), true)
}

// A raw edge shows where the tack-down lies well inside its line.
func TestHowARawEdgeShows(t *testing.T) {
	raw := func(middle float64) evidence {
		r := at(1, double, middle, 0)
		return apart().rawEvidence(ringChain(r), &option{tack: r})
	}
	weighsMore(t, "0.8 mm inside is on the line", raw(0.8), raw(0), false)
	weighsMore(t, "1.0 mm inside leaves an edge", raw(1.0), raw(0), true)
	weighsMore(t, "4.5 mm inside leaves an edge", raw(4.5), raw(0), true)
	weighsMore(t, "5.8 mm inside is too much", raw(5.8), raw(0), false)
	weighsMore(t, "0.37 mm outside is on the line", raw(0), raw(-0.37), false)
	weighsMore(t, "0.46 mm outside is an echo", raw(0), raw(-0.46), true)
}

// Two lines of one stop, one on each side of the middle of a satin, are its
// underlay, if they lie so far apart.
func TestHowAnUnderlayLies(t *testing.T) {
	order := func(middle, cover float64) evidence {
		tack := at(0, single, middle, 0)
		r := at(1, satinMade, cover, 3.5)
		return apart().orderEvidence(ringChain(tack, r), &option{tack: tack, cover: []*round{r}})
	}
	weighsMore(t, "lines 0.8 mm apart are no underlay", order(0.8, 0.4), order(0, 0), false)
	weighsMore(t, "lines 1.05 mm apart are", order(0, 0), order(1.05, 0.525), true)
	weighsMore(t, "the satin's middle lies 0.45 mm off theirs", order(0, 0), order(1.6, 0.8+0.45), true)
	weighsMore(t, "the satin's middle lies 0.57 mm off theirs", order(0, 0), order(1.6, 0.8+0.57), false)
}

func TestHowACoverLiesOverClothCutBeforehand(t *testing.T) {
	cover := func(middle float64) evidence {
		r := at(1, satinMade, middle, 1) // narrow, so that no underlay is in question
		r.lo, r.hi = middle-0.1, middle+0.1
		return apart().preCutEvidence(ringChain(r), &option{cover: []*round{r}})
	}
	weighsMore(t, "0.9 mm off the line", cover(0), cover(0.9), false)
	weighsMore(t, "1.15 mm off the line", cover(0), cover(1.15), true)
	aside := func(mean float64) evidence {
		r := at(1, satinMade, 0, 1)
		r.mean = mean
		return apart().preCutEvidence(ringChain(r), &option{cover: []*round{r}})
	}
	weighsMore(t, "aside of the line by 1.9 mm on average", cover(0), aside(1.9), false)
	weighsMore(t, "aside of the line by 2.1 mm on average", cover(0), aside(2.1), true)
}

// A piece without a cover among others with one lacks it, if it is tacked down
// as they are.
func TestHowAlikeTackDownsAre(t *testing.T) {
	m := manner{stops: map[[2]int]int{}}
	m.count(ringChain(), &option{tack: at(1, double, 0.5, 0), cover: []*round{at(2, satinMade, 0, 3.5)}}, 1)
	for _, c := range []struct {
		middle float64
		want   bool
	}{{0.95, true}, {1.08, false}} {
		if got := m.like(ringChain(), &option{tack: at(3, double, c.middle, 0), bare: true}) > 0; got != c.want {
			t.Errorf("tacked down %.2f mm inside, the other at 0.5: its cover is missing: %v", c.middle, got)
		}
	}
}

// A line that encloses nothing is no piece whose cover is missing.
func TestOpenLineLacksNoCover(t *testing.T) {
	m := manner{stops: map[[2]int]int{}}
	m.count(ringChain(), &option{tack: at(1, double, 0.5, 0), cover: []*round{at(2, satinMade, 0, 3.5)}}, 1)
	open := newChain(traced(0, report.KindRun, arc(40, 0, 60)))
	if e := m.like(open, &option{tack: at(3, double, 0.5, 0)}); e != 0 {
		t.Errorf("an open line among pieces with covers weighs %.1f for a cover that is missing", e)
	}
}

func TestHowSmallAPieceIs(t *testing.T) {
	across := func(d float64) evidence {
		return newChain(traced(0, report.KindRun, arc(d/2, 0, 360))).lineEvidence()
	}
	weighsMore(t, "10.5 mm across", across(40), across(10.5), false)
	weighsMore(t, "8.8 mm across", across(40), across(8.8), true)
}

func TestLineRoundEverything(t *testing.T) {
	square := func(stop int, half float64) *chain {
		return newChain(traced(stop, report.KindRun, []geom.Point{mm(-half, -half), mm(half, -half), mm(half, half), mm(-half, half), mm(-half, -half)}))
	}
	for _, c := range []struct {
		inside float64
		want   bool
	}{{8.3, true}, {10, false}} {
		p := apart()
		p.all = geom.Box{Lo: mm(-60, -60), Hi: mm(60, 60)}
		line := square(0, 60-c.inside)
		p.chains = []*chain{line, square(2, 20)}
		if got := p.roundEverything(line); got != c.want {
			t.Errorf("a line %.1f mm inside all that is sewn goes round it: %v", c.inside, got)
		}
	}
}

// What lies inside a line weighs from a certain share of it on.
func TestHowMuchLiesInside(t *testing.T) {
	inside := func(what byte, share float64, tacked bool) evidence {
		tack, cover := at(1, double, 0.5, 0), at(2, satinMade, 0, 3.5)
		c, o := ringChain(tack, cover), &option{tack: tack, cover: []*round{cover}}
		end := 50
		c.line.Spans = [][2]int{{0, end}}
		first := 200
		if !tacked {
			o.tack = nil
		} else {
			first = 100
		}
		for _, k := range []known{{'f', end, 200, 0}, {'b', 0, c.line.first, 0}, {'n', end, first, 0}, {'i', end, 200, 0}} {
			if k.what == what {
				k.share = share
			}
			c.known = append(c.known, k)
		}
		return apart().insideEvidence(c, o)
	}
	// Lines, tack-down and cover are sewn one after the other here.
	weighsMore(t, "0.55 of the inside is filled", inside('f', 0, true), inside('f', 0.55, true), false)
	weighsMore(t, "0.68 of the inside is filled", inside('f', 0, true), inside('f', 0.68, true), true)
	weighsMore(t, "0.55 of the inside is filled before", inside('b', 0, true), inside('b', 0.55, true), false)
	weighsMore(t, "0.68 of the inside is filled before", inside('b', 0, true), inside('b', 0.68, true), true)
	weighsMore(t, "a net over 0.45 of the line", inside('n', 0, false), inside('n', 0.45, false), false)
	weighsMore(t, "a net over 0.57 of the line", inside('n', 0, false), inside('n', 0.57, false), true)
	weighsMore(t, "0.11 of the inside sewn on", inside('i', 0, false), inside('i', 0.11, false), false)
	weighsMore(t, "0.135 of the inside sewn on", inside('i', 0, false), inside('i', 0.135, false), true)
}

func TestHowMuchElseAStopSews(t *testing.T) {
	lines := func(share float64) evidence {
		tack, cover := at(1, double, 0.5, 0), at(2, satinMade, 0, 3.5)
		c := ringChain(tack, cover)
		end := 50
		c.line.Spans = [][2]int{{0, end}}
		c.known = []known{{'f', end, 200, 0}, {'b', 0, c.line.first, 0}, {'n', end, 100, 0}}
		p := apart()
		p.lineMM[0] = 100 * share
		return p.insideEvidence(c, &option{tack: tack, cover: []*round{cover}})
	}
	weighsMore(t, "lines are 0.66 of the stop", lines(1), lines(0.66), false)
	weighsMore(t, "lines are 0.54 of the stop", lines(1), lines(0.54), true)
}

// sewnAt is a finder whose design has needle holes in columns: at each x, dense
// from one y to the other.
func sewnAt(kind report.Kind, columns ...[3]float64) *finder {
	p := apart()
	for _, c := range columns {
		for y := c[1]; y <= c[2]; y += 0.1 {
			p.sewn.Track.Pts = append(p.sewn.Track.Pts, mm(c[0], y))
		}
	}
	p.sewn.Passages = []report.Passage{{Kind: kind, From: 0, To: len(p.sewn.Track.Pts)}}
	return p
}

// box is a closed square from the origin. Sixteen places across it are looked at.
func box(side float64) *Trace {
	return traced(0, report.KindRun, []geom.Point{mm(0, 0), mm(side, 0), mm(side, side), mm(0, side), mm(0, 0)})
}

func TestHowFarAHoleFills(t *testing.T) {
	const all = 1 << 30
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		// Places stand 0.5 mm apart, from 0.25 mm: five of sixteen columns lie within
		// 2.5 mm of holes at -0.05, the fifth at 2.3 and the sixth at 2.8.
		{"filled", sewnAt(report.KindFill, [3]float64{-0.05, -3, 11}).fills(box(8), 0, 0, all), 5.0 / 16},
		// Away from the edge, from 3.25 to 4.75, two of four lie within 1.5 mm of holes
		// at 5.55, at 0.8 and 1.3 mm; the third at 1.8.
		{"sewn on", sewnAt(report.KindRun, [3]float64{5.55, -3, 11}).sewnInside(newChain(box(8)), 0, all), 2.0 / 4},
		// And three of four within 1.5 mm of holes at 2.9, were there not more places
		// nearer to the edge or fewer.
		{"sewn on beside the edge", sewnAt(report.KindRun, [3]float64{2.9, -3, 11}).sewnInside(newChain(box(8)), 0, all), 3.0 / 4},
		// One of four sides.
		{"a net 1.8 mm beside one side", sewnAt(report.KindRun, [3]float64{-1.8, 0, 40}).netOver(newChain(box(40)), 0, 0, all), 0.25},
		{"a net 2.2 mm beside one side", sewnAt(report.KindRun, [3]float64{-2.2, 2, 38}).netOver(newChain(box(40)), 0, 0, all), 0},
		// What lies 5 mm outside is filled by holes from 2.5 to 7.5 mm outside.
		{"a fill that begins 7.2 mm outside", beyond(-7.2), 0.25},
		{"a fill that ends 2.8 mm outside", beyond(-2.8), 0.25},
		{"a fill that ends 2.2 mm outside", beyond(-2.2), 0},
	} {
		if math.Abs(c.got-c.want) > 0.03 {
			t.Errorf("%s: %.3f of the ground, want %.3f", c.name, c.got, c.want)
		}
	}
}

// beyond is the share of the ground outside a square of 40 mm that holes along one
// side fill.
func beyond(x float64) float64 {
	p := sewnAt(report.KindFill, [3]float64{x, 0, 40})
	line := box(40)
	line.first = len(p.sewn.Track.Pts)
	p.fills(line, 0, 0, line.first)
	return p.fillsBeyond(line)
}

// A fill that goes on beyond a line is a ground, one that ends there is what the
// line goes round.
func TestFillThatGoesOnBeyond(t *testing.T) {
	for _, c := range []struct {
		sides float64 // of four, along which the fill goes on
		ends  bool
	}{{1.05, true}, {1.4, false}} {
		var columns [][3]float64
		for x := 0.0; x <= 40; x++ {
			columns = append(columns, [3]float64{x, 0, 40})
			if x > 40*(2-c.sides) {
				columns = append(columns, [3]float64{x, -5, -4.9})
			}
		}
		columns = append(columns, [3]float64{-5, 0, 40})
		p := sewnAt(report.KindFill, columns...)
		line := box(40)
		line.first = len(p.sewn.Track.Pts)
		if got := p.fillsUpTo(line) > 0.9; got != c.ends {
			t.Errorf("a fill that goes on along %.2f of four sides ends at the line: %v", c.sides, got)
		}
	}
}

func TestNextReadingIsTold(t *testing.T) {
	for _, c := range []struct {
		lead float64
		want bool
	}{{2.0, true}, {2.45, false}} {
		tack, cover := at(1, double, 0.5, 0), at(2, satinMade, 0, 3.5)
		line := traced(1, report.KindDoubleRun, arc(39.5, 0, 360))
		tack.traces = []*Trace{line}
		ch := ringChain(tack, cover)
		ch.options = []option{{tack: tack, cover: []*round{cover}, score: c.lead}}
		if got := apart().piece(ch, 0).Next != ""; got != c.want {
			t.Errorf("a lead of %.2f: the next reading is told: %v", c.lead, got)
		}
	}
	for _, c := range []struct {
		score float64
		want  bool
	}{{-1.1, true}, {-1.35, false}} {
		tack := at(1, double, 0.5, 0)
		ch := ringChain(tack)
		ch.options = []option{{tack: tack, score: c.score}}
		p := apart()
		if p.perhaps(ch); (p.maybe[0] != "") != c.want {
			t.Errorf("plain stitching, by %.2f: may be applique: %v", -c.score, !c.want)
		}
	}
}

func TestRoundOfSeveralLinesCloses(t *testing.T) {
	for _, c := range []struct {
		share float64
		want  bool
	}{{0.97, true}, {0.9, false}} {
		a, b := traced(1, report.KindRun, arc(39.5, 2, 176)), traced(1, report.KindRun, arc(39.5, 180, 353))
		ch := ringChain()
		if got := ch.joined(&round{stop: 1, share: c.share, traces: []*Trace{a, b}}).Closed; got != c.want {
			t.Errorf("lines that reach along %.2f of the way round make a closed line: %v", c.share, got)
		}
	}
}
