package applique

import (
	"context"
	"math"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// The tests of this file and of its neighbours hold each tolerance from both
// sides: what lies just within it and what lies just beyond. Their figures are
// those of the tolerances as they are meant, written out, so that a tolerance
// which moves by a fifth is noticed.

func recognised(t testing.TB, d *stitchfile.Design) *Recognised {
	t.Helper()
	rec, err := Recognise(context.Background(), d)
	if err != nil {
		t.Fatal(err)
	}
	return rec
}

func mm(x, y float64) geom.Point { return geom.Point{X: x, Y: y} }

// arc is the part of a circle about the origin from one angle to another, in
// degrees, with a point every mm or so.
func arc(radius, from, to float64) []geom.Point {
	n := max(2, int(math.Abs(to-from)*math.Pi/180*radius))
	out := make([]geom.Point, n+1)
	for i := range out {
		sin, cos := math.Sincos((from + (to-from)*float64(i)/float64(n)) * math.Pi / 180)
		out[i] = mm(radius*cos, radius*sin)
	}
	return out
}

// traced is a line of a stop as findTraces makes it.
func traced(stop int, kind report.Kind, line []geom.Point) *Trace {
	t := &Trace{Stop: stop, Kind: kind, Line: slices.Clone(line), times: 1, Spans: [][2]int{{0, len(line)}}}
	t.finish(nil)
	t.sewn = t.Length
	return t
}

// dented is a circle of which a share of the way round is moved in by so many mm.
func dented(radius, in, share float64) []geom.Point {
	return append(arc(radius, 0, 360*(1-share)), arc(radius-in, 360*(1-share)+0.01, 359.9)...)
}

func TestLineCloses(t *testing.T) {
	for _, c := range []struct {
		opening float64
		want    bool
	}{{1.8, true}, {2.3, false}} {
		line := arc(20, 0, 360-c.opening/20*180/math.Pi)
		if got := traced(0, report.KindRun, line).Closed; got != c.want {
			t.Errorf("a line open by %.1f mm is closed: %v", c.opening, got)
		}
	}
}

func TestPartsOfALineAreJoined(t *testing.T) {
	for _, c := range []struct {
		apart float64
		want  int
	}{{1.05, 1}, {1.4, 2}} {
		var b st.Builder
		b.Run(st.Line(st.Point{}, st.Point{X: 20}), 2.5).Trim()
		b.Run(st.Line(st.Point{X: 20 + c.apart}, st.Point{X: 45}), 2.5)
		if n := len(recognised(t, b.Design()).Traces); n != c.want {
			t.Errorf("parts %.2f mm apart make %d lines, want %d", c.apart, n, c.want)
		}
	}
}

func TestLoopReturns(t *testing.T) {
	square := func(miss float64) []geom.Point {
		return []geom.Point{mm(0, 0), mm(10, 0), mm(10, 10), mm(0, 10), mm(0, 5), mm(0, miss), mm(-3, miss-4)}
	}
	strip := func(width float64) []geom.Point {
		return []geom.Point{mm(0, 0), mm(20, 0), mm(40, 0), mm(40, width), mm(20, width), mm(2, width), mm(0, 0)}
	}
	ring := func(round float64) []geom.Point {
		r := round / (2 * math.Pi)
		out := make([]geom.Point, 41)
		for i := range out {
			sin, cos := math.Sincos(2 * math.Pi * float64(i%40) / 40)
			out[i] = mm(r*cos, r*sin)
		}
		return out
	}
	for _, c := range []struct {
		name string
		line []geom.Point
		want bool
	}{
		{"comes back within 0.62 mm", square(0.62), true},
		{"misses its beginning by 0.8 mm", square(0.8), false},
		{"8.8 mm round", ring(8.8), true},
		{"7.2 mm round", ring(7.2), false},
		{"a strip of 1.02 mm", strip(1.02), true},
		{"a strip of 0.84 mm, as a line sewn there and back", strip(0.84), false},
	} {
		if to := new(course).begin(c.line).returnsTo(0, len(c.line)); (to > 0) != c.want {
			t.Errorf("%s: a loop: %v", c.name, to > 0)
		}
	}
}

// dashes are n dashes of the given length in a row, a gap apart.
func dashes(n int, length, gap float64) []Trace {
	var out []Trace
	for i := range n {
		x := float64(i) * (length + gap)
		out = append(out, *traced(0, report.KindRun, []geom.Point{mm(x, 0), mm(x+length/2, 0), mm(x+length, 0)}))
	}
	return out
}

func TestDashesAreJoined(t *testing.T) {
	for _, c := range []struct {
		name string
		in   []Trace
		want int
	}{
		{"five dashes", dashes(5, 6, 2.5), 1},
		{"four dashes", dashes(4, 6, 2.5), 1},
		{"three dashes", dashes(3, 6, 2.5), 3},
		{"dashes of 18.5 mm", dashes(6, 18.5, 3), 1},
		{"lines of 22 mm", dashes(6, 22, 3), 6},
		{"gaps of 8 mm", dashes(6, 9, 8), 1},
		{"gaps of 10 mm", dashes(6, 9, 10), 6},
	} {
		if n := len(joinDashes(slices.Clone(c.in))); n != c.want {
			t.Errorf("%s: %d lines, want %d", c.name, n, c.want)
		}
	}
}

func TestSmallestLineOfAPiece(t *testing.T) {
	for _, c := range []struct {
		round float64
		want  bool
	}{{22, true}, {18.4, false}} {
		ring := st.Circle(st.Point{}, c.round/(2*math.Pi))
		var b st.Builder
		b.Run(ring, 1.5).Stop()
		b.Rounds(ring, 1.5, 2).Stop()
		b.Satin(ring, st.SatinAlong{Width: 2, Pitch: 0.4})
		if n := len(recognised(t, b.Design()).chains); (n > 0) != c.want {
			t.Errorf("a line %.0f mm round begins %d chains", c.round, n)
		}
	}
}

func TestLineThatWinds(t *testing.T) {
	for _, c := range []struct {
		turns int
		want  bool
	}{{4, false}, {5, true}} {
		// A square of 40 mm, 160 mm round, filled with so many lines there and back.
		var line []geom.Point
		for i := range 2 * c.turns {
			y := 40 * float64(i) / float64(2*c.turns-1)
			if i%2 == 0 {
				line = append(line, mm(0, y), mm(40, y))
			} else {
				line = append(line, mm(40, y), mm(0, y))
			}
		}
		if tr := traced(0, report.KindRun, line); winds(tr) != c.want {
			t.Errorf("a line %.2f times as long as the way round it winds: %v", tr.Length/160, !c.want)
		}
	}
}

// Stitching follows a line that it stays near to, the middle of a zigzag from a
// little further, and never from the other side of a thin piece.
func TestHowNearFollows(t *testing.T) {
	ring := newChain(traced(0, report.KindRun, arc(40, 0, 360)))
	strip := func(width float64) []geom.Point {
		return []geom.Point{mm(0, 0), mm(60, 0), mm(60, width), mm(0, width), mm(0, 0)}
	}
	in := func(d float64) []geom.Point {
		return []geom.Point{mm(d, d), mm(60-d, d), mm(60-d, 6-d), mm(d, 6-d), mm(d, d)}
	}
	thin := newChain(traced(0, report.KindRun, strip(6)))
	for _, c := range []struct {
		name  string
		chain *chain
		line  *Trace
		want  bool
	}{
		{"a line 3.8 mm inside", ring, traced(1, report.KindRun, arc(36.2, 0, 360)), true},
		{"a line 4.3 mm inside", ring, traced(1, report.KindRun, arc(35.7, 0, 360)), false},
		{"a zigzag 4.4 mm inside", ring, traced(1, report.KindOpenZigzag, arc(35.6, 0, 360)), true},
		{"a zigzag 5.1 mm inside", ring, traced(1, report.KindOpenZigzag, arc(34.9, 0, 360)), false},
		{"a line 2.5 mm inside a strip", thin, traced(1, report.KindRun, in(2.5)), true},
		{"a line 2.95 mm inside a strip", thin, traced(1, report.KindRun, in(2.95)), false},
		{"a line that strays for 0.16 of its length", ring, traced(1, report.KindRun, dented(40, 8, 0.16)), true},
		{"a line that strays for 0.25 of its length", ring, traced(1, report.KindRun, dented(40, 8, 0.25)), false},
	} {
		if _, got := c.chain.along(c.line); got != c.want {
			t.Errorf("%s follows: %v", c.name, got)
		}
	}
}

func TestLineAlongAPieceIsItsEdge(t *testing.T) {
	p := &finder{work: []*Piece{{Tack: traced(0, report.KindRun, arc(40, 0, 360))}}}
	w := &roleWork{p: p}
	for _, c := range []struct {
		strays float64
		want   bool
	}{{0.12, true}, {0.19, false}} {
		if got := w.edgeOfPiece(traced(1, report.KindRun, dented(40, 6, c.strays))); got != c.want {
			t.Errorf("a line of which %.2f strays is the edge: %v", c.strays, got)
		}
	}
}

// some marks n samples from the first given.
func some(first, n int) (m mask) {
	for i := range n {
		m.set(first + i)
	}
	return m
}

func TestWhatGoesOnARound(t *testing.T) {
	for _, c := range []struct {
		name   string
		over   int // samples of the second stretch that lie over the first
		length int
		want   int // rounds
	}{
		{"over the same ground for 13 of 50", 13, 50, 1},
		{"over the same ground for 18 of 50", 18, 50, 2},
		{"a stitch or two over the same ground", 5, 5, 1},
		{"a little more", 6, 6, 2},
	} {
		ch := &chain{samples: 100}
		line := traced(1, report.KindRun, arc(40, 0, 100))
		ch.join(line, stretch{mask: some(0, 50)})
		ch.join(line, stretch{mask: some(50-c.over, c.length)})
		if len(ch.rounds) != c.want {
			t.Errorf("%s: %d rounds, want %d", c.name, len(ch.rounds), c.want)
		}
	}
}

func TestHowMuchOfALineARoundReaches(t *testing.T) {
	for _, c := range []struct {
		share float64
		want  int
	}{{0.4, 1}, {0.3, 0}} {
		var b st.Builder
		b.Run(st.Circle(st.Point{}, 40), 2.5).Stop()
		b.Run(st.Arc(st.Point{}, 39.5, 0, 2*math.Pi*c.share), 2.5)
		n := 0
		for _, ch := range recognised(t, b.Design()).chains {
			n += len(ch.rounds)
		}
		if n != c.want {
			t.Errorf("an arc along %.2f of a line: %d rounds, want %d", c.share, n, c.want)
		}
	}
}
