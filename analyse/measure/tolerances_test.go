package measure

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// The tests of this file hold the figures by which edges are judged from both sides:
// what lies just within one and what lies just beyond, written out, so that one which
// moves by a fifth is noticed.

// ringOf is a ring of 60 mm of edge, of which the places are hidden that a function tells,
// under satin that reaches past it on both sides.
func ringOf(hidden func(at float64) bool) *ringWork {
	w := &ringWork{allow: 1, half: 0.15}
	for i := range 120 {
		c := edgeCell{from: geom.Point{X: cellMM * float64(i)}, along: geom.Point{X: 1}, away: geom.Point{Y: 1}, length: cellMM, spare: 1.5, inner: 1.5}
		for b := range cellBits {
			if hidden(cellMM * (float64(i) + (float64(b)+0.5)/cellBits)) {
				for k := range c.hidden {
					c.hidden[k] |= 1 << b
				}
			}
		}
		w.cells = append(w.cells, c)
	}
	return w
}

// gap is bare from 30 mm on along so many mm; beside it so much of each 0.5 mm is hidden,
// up to so far to either side, and beyond that a tenth.
func gap(long, share, upTo float64) func(float64) bool {
	return func(at float64) bool {
		off := max(30-at, at-30-long)
		if off < 0 {
			return false
		}
		of := share
		if off > upTo {
			of = 0.1
		}
		_, part := math.Modf(off / 0.5)
		return part < of
	}
}

func TestGapsOfAnEdge(t *testing.T) {
	for _, c := range []struct {
		name              string
		long, share, upTo float64
		want              int
	}{
		{"0.45 mm in a closed cover", 0.45, 1, 60, 0},
		{"0.58 mm in a closed cover", 0.58, 1, 60, 1},
		{"2 mm beside 55 % hidden", 2, 0.55, 60, 0},
		{"2 mm beside 68 % hidden", 2, 0.68, 60, 1},
		{"2 mm in a cover that is closed for 2.7 mm", 2, 1, 2.7, 0},
		{"2 mm in a cover that is closed for 3.3 mm", 2, 1, 3.3, 1},
		{"7.3 mm in an open cover", 7.3, 0.4, 60, 0},
		{"8.7 mm in an open cover", 8.7, 0.4, 60, 1},
	} {
		w := ringOf(gap(c.long, c.share, c.upTo))
		w.judge(0)
		if len(w.gaps) != c.want {
			t.Errorf("%s: %+v, want %d", c.name, w.gaps, c.want)
		}
	}
}

// What enlarging may make a gap of.
func TestSlotsOfAnEdge(t *testing.T) {
	for _, c := range []struct {
		name        string
		long, share float64
		want        bool
	}{
		{"0.13 mm in a closed cover", 0.13, 1, false},
		{"0.17 mm in a closed cover", 0.17, 1, true},
		{"1 mm beside 44 % hidden", 1, 0.44, false},
		{"1 mm beside 57 % hidden", 1, 0.57, true},
		{"2.7 mm beside 20 % hidden", 2.7, 0.2, false},
		{"3.4 mm beside 20 % hidden", 3.4, 0.2, true},
	} {
		w := ringOf(gap(c.long, c.share, 60))
		w.judge(0)
		found := false
		for _, l := range w.slots {
			found = found || math.Abs(l-c.long) < 0.3 || c.long < 0.3
		}
		if found != c.want {
			t.Errorf("%s: slots of %.2f mm", c.name, w.slots)
		}
	}
}

// The share of cloth that is hidden is taken over 10 mm, where so much of them is edge.
func TestWindowsOfAnEdge(t *testing.T) {
	w := ringOf(func(at float64) bool {
		_, part := math.Modf(at / 0.5)
		return at < 30 || at > 38 || part < 0.5
	})
	if w.judge(0.75); math.Abs(w.least-0.6) > 0.02 {
		t.Errorf("8 mm of edge are half hidden: %.2f hidden at least over 10 mm, want 0.60", w.least)
	}
	for _, c := range []struct {
		edge int // cells of six
		want bool
	}{{3, false}, {4, true}} {
		w := ringOf(func(at float64) bool {
			_, part := math.Modf(at / 0.5)
			return part < 0.5
		})
		for i := range w.cells {
			w.cells[i].noEdge = i%6 >= c.edge
		}
		if w.judge(0.75); (w.open > 0) != c.want {
			t.Errorf("%d of 6 cells are edge: half hidden along %.1f mm", c.edge, w.open)
		}
	}
}

// Along a rim the edge is looked at a lane further in; where the end of satin but crosses
// it, on the edge.
func TestRimOfSatin(t *testing.T) {
	for _, c := range []struct {
		cells int
		spare float64
		want  bool
	}{{3, 0.05, false}, {4, 0.05, true}, {9, 0.09, true}, {9, 0.11, false}} {
		w := ringOf(func(float64) bool { return true })
		for i := range c.cells {
			w.cells[40+i].spare = c.spare
		}
		if got := w.rim()[41]; got != c.want {
			t.Errorf("satin ends %.2f mm from the edge along %d cells: on its rim: %v", c.spare, c.cells, got)
		}
	}
}

// A cover that reaches a little less than to the edge is rounded.
func TestReachSlack(t *testing.T) {
	for _, c := range []struct {
		spare float64
		want  int
	}{{-0.035, 0}, {-0.045, 1}} {
		w := ringOf(func(float64) bool { return true })
		for i := 40; i < 50; i++ {
			w.cells[i].spare, w.cells[i].hidden[fringe] = c.spare, 0
		}
		w.judge(0)
		if len(w.gaps) != c.want {
			t.Errorf("satin ends %.3f mm from the edge: %+v, want %d", c.spare, w.gaps, c.want)
		}
	}
}

// What a thread hides of an edge: to a little past its holes, and of the fringe outside
// as well; without a trim allowance cloth is looked at to 0.4 mm in.
func TestWhatAThreadHides(t *testing.T) {
	const edge, deepest = 0, lanes - 1
	for _, c := range []struct {
		name  string
		a, b  geom.Point
		allow float64
		lane  int
		want  bool
	}{
		{"a hole 0.045 mm short of the edge", geom.Point{X: 0.25, Y: -2}, geom.Point{X: 0.25, Y: -0.045}, 1, edge, true},
		{"a hole 0.055 mm short of the edge", geom.Point{X: 0.25, Y: -2}, geom.Point{X: 0.25, Y: -0.055}, 1, edge, false},
		{"a hole 0.055 mm outside, of the fringe", geom.Point{X: 0.25, Y: -2}, geom.Point{X: 0.25, Y: 0.055}, 1, fringe, true},
		{"a hole 0.045 mm outside, of the fringe", geom.Point{X: 0.25, Y: -2}, geom.Point{X: 0.25, Y: 0.045}, 1, fringe, false},
		{"a thread to 0.43 mm in", geom.Point{X: -1, Y: -0.28}, geom.Point{X: 2, Y: -0.28}, 0, deepest, true},
		{"a thread to 0.35 mm in", geom.Point{X: -1, Y: -0.2}, geom.Point{X: 2, Y: -0.2}, 0, deepest, false},
	} {
		e := edgeCell{along: geom.Point{X: 1}, away: geom.Point{Y: 1}, length: cellMM}
		e.under(c.a, c.b, 0.15, c.allow)
		if got := e.hidden[c.lane] != 0; got != c.want {
			t.Errorf("%s: hides it: %v", c.name, got)
		}
	}
}

// The edge of a piece that reaches to the border of its block lies in the seam.
func TestEdgeInTheSeam(t *testing.T) {
	border := &applique.Trace{Line: []geom.Point{{X: -50}, {X: 50}}}
	part := &applique.Piece{Place: &applique.Trace{Stop: 2}}
	p := &Pass{Recognised: &applique.Recognised{Round: []*applique.Trace{border}}, Scale: 1}
	for _, c := range []struct {
		off  float64
		want bool
	}{{2.25, true}, {2.8, false}} {
		if got := (&seamLook{Pass: p}).has(&cutRing{part: part}, geom.Point{Y: c.off}); got != c.want {
			t.Errorf("an edge %.2f mm from the border: in the seam: %v", c.off, got)
		}
	}
	// Places one after another are judged as each alone is.
	along := seamLook{Pass: p}
	for x := range 200 {
		q := geom.Point{X: -45 + float64(x)*0.45, Y: 12 + 12*math.Cos(float64(x)/9)}
		if got := along.has(&cutRing{part: part}, q); got != (q.Y <= seamNear) {
			t.Errorf("an edge at %.2f, after those before it: in the seam: %v", q, got)
		}
	}
}

// A cover that does not reach in to its tack-down is told where it is no corner.
func TestCoverOffItsCloth(t *testing.T) {
	for _, c := range []struct {
		inner, along float64
		want         int
	}{{0.09, 5, 1}, {0.11, 5, 0}, {-0.5, 1.8, 0}, {-0.5, 2.2, 1}} {
		var edge []report.EdgeSample
		for i := range 200 {
			s := report.EdgeSample{From: geom.Point{X: 0.1 * float64(i)}, To: geom.Point{X: 0.1 * float64(i+1)}, Inner: 1.5}
			if x := s.From.X - 5; x > -0.01 && x < c.along-0.01 {
				s.Inner = c.inner
			}
			edge = append(edge, s)
		}
		if got := offCloth(edge); len(got) != c.want {
			t.Errorf("a cover that reaches in %.2f mm along %.1f mm: %+v, want %d", c.inner, c.along, got, c.want)
		}
	}
}
