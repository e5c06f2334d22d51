package resize

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// fannedStar is a star of applique whose satin turns its points in fans: it reaches there
// as far as along the sides, and scissors leave more.
func fannedStar(points int, inner, width float64) *stitchfile.Design {
	var p st.Path
	for i := range 2 * points {
		r := 32.0
		if i%2 == 1 {
			r *= inner
		}
		a := math.Pi/2 + math.Pi*float64(i)/float64(points)
		p = append(p, st.Point{X: r * math.Cos(a), Y: r * math.Sin(a)})
	}
	p = append(p, p[0])
	b := new(st.Builder).Run(p, 2.5).TieOff().Stop().Run(p, 2).TieOff().Stop()
	for i := range 2 * points {
		way := func(i int) float64 {
			d := p[(i+1)%(2*points)]
			return math.Atan2(d.Y-p[i].Y, d.X-p[i].X)
		}
		if i%2 == 0 {
			from, to := way((i+2*points-1)%(2*points))-math.Pi/2, way(i)-math.Pi/2
			if to < from {
				to += 2 * math.Pi
			}
			// Its rails are the point itself and the outside of the cover.
			b.Satin(st.Arc(p[i], width/4, from, to), st.SatinAlong{Width: width / 2, Pitch: 0.2})
		}
		b.Satin(st.Line(p[i], p[i+1]), st.SatinAlong{Width: width, Pitch: 0.4})
	}
	return b.TieOff().Design()
}

// firstBare is the first percent below 100 at which a cut edge shows that does not as the
// design is, of those looked at one by one; 0 for none down to 60.
func firstBare(rec *applique.Recognised, s report.Settings) int {
	was := failingAt(rec, s, 100)
	for p := 99; p > 60; p-- {
		for a := range failingAt(rec, s, p) {
			if _, already := was[a]; a.rule == "edge-uncovered" && !already {
				return p
			}
		}
	}
	return 0
}

// A star may be made smaller as far as its points stay hidden, not as far as its sides do.
func TestPointsOfStarsBoundTheRange(t *testing.T) {
	s := report.DefaultSettings()
	bound := 0
	for _, points := range []int{4, 5, 6} {
		for _, width := range []float64{3.6, 4, 4.4, 5} {
			name := fmt.Sprintf("%d points, %g mm", points, width)
			rec := mustRecognise(fannedStar(points, 0.55, width))
			z := mustLimit(rec, s)
			first := firstBare(rec, s)
			if got := int(math.Round(100 * z.Smallest)); first != 0 && got <= first {
				t.Errorf("%s: said to be safe down to %d %%, and its edge shows at %d %%", name, got, first)
			}
			for _, l := range z.Limits {
				if l.Rule == "edge-uncovered" && l.Direction == report.Shrinking && !l.Already && l.Scale > 0.7 {
					bound++
				}
			}
		}
	}
	if bound < 4 {
		t.Errorf("the points bound %d stars, want 4 at least", bound)
	}
}

// cornerOf is an edge of straight sides, 0.5 mm a sample, that turns by some degrees
// between samples 9 and 10; all reach as far, save one.
func cornerOf(turn float64, short int, reach float64) *report.Piece {
	c := &report.Piece{OuterCoverMM: report.MinMedian{Median: 2}}
	for i := range 20 {
		a := 0.0
		if i >= 10 {
			a = turn * math.Pi / 180
		}
		s := report.EdgeSample{Outward: geom.Point{X: math.Cos(a), Y: math.Sin(a)}, Outer: 2}
		if i == short {
			s.Outer = reach
		}
		c.Edge = append(c.Edge, s)
	}
	// The way back is another ring: it has no corner.
	return c
}

func TestBarestTip(t *testing.T) {
	none := func(_, _ geom.Point) float64 { return math.Inf(1) } // the cover has no end past the point
	tipAt := func(turn float64, short int) tip { return barestTip(cornerOf(turn, short, 1.2), 1, none) }
	// 29 degrees are a bend, 31 a tip.
	if got := tipAt(29, 9); got.falls != 0 {
		t.Errorf("a bend of 29 degrees is taken for a tip: %+v", got)
	}
	if got := tipAt(31, 9); got.reach != 1.2 {
		t.Errorf("a tip of 31 degrees: %+v", got)
	}
	// Two samples to either side lie at it, three do not.
	for short, want := range map[int]float64{7: 2, 8: 1.2, 9: 1.2, 10: 1.2, 11: 1.2, 12: 2} {
		if got := tipAt(90, short); got.reach != want {
			t.Errorf("reach %g at a tip whose sample %d is short, want %g", got.reach, short, want)
		}
	}
	// At a right angle the line that halves it is sqrt 2 times as long.
	if got, want := tipAt(90, 9).falls, 2*math.Sqrt2; math.Abs(got-want) > 1e-9 {
		t.Errorf("it falls by %g mm, want %g", got, want)
	}
}

// The point itself is asked along the line that halves the corner, where cloth sticks out.
func TestBarestTipAtThePoint(t *testing.T) {
	c := &report.Piece{}
	corner := []geom.Point{{X: 0, Y: 0}, {X: 1, Y: 0}, {X: 1, Y: -1}, {X: 0, Y: -1}}
	for i := range corner {
		from, to := corner[i], corner[(i+1)%4]
		way := to.Sub(from)
		c.Edge = append(c.Edge, report.EdgeSample{From: from, To: to, Outward: geom.Point{X: -way.Y, Y: way.X}, Outer: 2})
	}
	at := func(over float64) tip {
		return barestTip(c, 1, func(q, way geom.Point) float64 {
			if math.Abs(math.Abs(way.X)-math.Sqrt2/2) > 1e-9 || q.Sub(geom.Point{X: 0.5, Y: -0.5}).Dot(way) <= 0 {
				t.Errorf("asked at %v along %v, which does not halve a corner", q, way)
			}
			return over
		})
	}
	if got := at(0.2); math.Abs(got.reach-1.2) > 1e-9 || math.Abs(got.falls-(math.Sqrt2+0.2)) > 1e-9 {
		t.Errorf("a cover that goes 0.2 mm past the point: %+v", got)
	}
	if got := at(-0.2); got.holds(1-measure.ReachSlackMM) != 0 {
		t.Errorf("a point that sticks out of its cover is said to hold: %+v", got)
	}
	slices.Reverse(c.Edge) // a hole: no cloth sticks out at its corners
	for i := range c.Edge {
		e := &c.Edge[i]
		e.From, e.To = e.To, e.From
		e.Outward = e.Outward.Times(-1)
	}
	if got := at(-0.2); got.reach != 2 {
		t.Errorf("the corner of a hole: %+v", got)
	}
}

// Where two columns end at a sharp corner they leave a notch, which no line square to either
// side meets: a triangle may be made smaller only as far as its points stay hidden there.
func TestNotchedPointsBoundTheRange(t *testing.T) {
	s := report.DefaultSettings()
	bound := 0
	for _, past := range []float64{1.4, 1.5, 1.6, 1.7} {
		var p st.Path
		for i := range 4 {
			a := math.Pi/2 + 2*math.Pi*float64(i%3)/3
			p = append(p, st.Point{X: 26 * math.Cos(a), Y: 26 * math.Sin(a)})
		}
		b := new(st.Builder).Run(p, 2.5).TieOff().Stop().Run(p, 2).TieOff().Stop()
		for i := range 3 {
			from, to := p[i], p[i+1]
			l := math.Hypot(to.X-from.X, to.Y-from.Y)
			over := st.Point{X: past * (to.X - from.X) / l, Y: past * (to.Y - from.Y) / l}
			b.Satin(st.Line(st.Point{X: from.X - over.X, Y: from.Y - over.Y}, st.Point{X: to.X + over.X, Y: to.Y + over.Y}), st.SatinAlong{Width: 4.2, Pitch: 0.4})
		}
		rec := mustRecognise(b.TieOff().Design())
		z := mustLimit(rec, s)
		first := firstBare(rec, s)
		if got := int(math.Round(100 * z.Smallest)); first != 0 {
			bound++
			if got <= first {
				t.Errorf("columns that go %g mm past the corners: said to be safe down to %d %%, and the edge shows at %d %%", past, got, first)
			}
		}
	}
	if bound < 2 {
		t.Errorf("the points bound %d triangles, want 2 at least", bound)
	}
}

func TestTipHolds(t *testing.T) {
	for _, c := range []struct {
		tip  tip
		want float64
	}{
		{tip{}, math.SmallestNonzeroFloat64},     // none
		{tip{1, 4}, 0},                           // reaches just so far
		{tip{1.1, 4}, 0},                         // 0.975, and within the grain of edges of 1
		{tip{2, 4}, 0.75 * (1 + edgeGrain)},      // a millimetre to spare
		{tip{9, 4}, math.SmallestNonzeroFloat64}, // more than all
	} {
		if got := c.tip.holds(1); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%+v holds down to %g, want %g", c.tip, got, c.want)
		}
	}
}

// What was found to fail is measured again where it is asked for, whatever is foretold.
func TestWhatFailsIsMeasuredAgain(t *testing.T) {
	z := newResizer(t.Context(), mustPass(mustRecognise(fannedStar(5, 0.55, 3.6)), report.DefaultSettings()))
	for i := range checks {
		c := &checks[i]
		if c.rule.ID != "edge-uncovered" || c.way != report.Shrinking {
			continue
		}
		s := z.search(c)
		defer s.done()
		if _, f := s.fails(0.8); f == nil {
			t.Fatal("the points of a star do not show at 80 %")
		}
		for at := range z.known {
			z.known[at] = []figures{{scale: 1, reach: 100, allow: 1}}
		}
		if s.pass(0.8) == nil {
			t.Error("a scale at which an edge fails is taken to pass")
		}
		if s.pass(0.81) != nil {
			t.Error("a scale at which an edge is foretold to pass is measured")
		}
	}
}
