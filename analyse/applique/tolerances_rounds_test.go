package applique

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/stitches"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// roundOver is the first round of another stop over a circle of 40 mm radius.
func roundOver(t *testing.T, sew func(b *st.Builder, ring st.Path)) *round {
	t.Helper()
	var b st.Builder
	ring := st.Circle(st.Point{}, 40)
	b.Run(ring, 2.5).Stop()
	sew(&b, ring)
	for _, c := range recognised(t, b.Design()).chains {
		for _, r := range c.rounds {
			if r.stop > 0 && c.line.Stop == 0 {
				return r
			}
		}
	}
	return nil
}

func TestReachOfACoverMovedAside(t *testing.T) {
	for _, c := range []struct {
		in, width float64
		whole     bool
	}{{3.4, 11.4, true}, {4.3, 11.8, false}} {
		r := roundOver(t, func(b *st.Builder, ring st.Path) {
			b.Satin(ring.Offset(c.in), st.SatinAlong{Width: c.width, Pitch: 0.5})
		})
		if r == nil {
			t.Fatal("no round")
		}
		if got := r.hi > c.in+c.width/2-0.4; got != c.whole {
			t.Errorf("satin %.1f mm wide, %.1f mm inside, is seen from %.1f to %.1f", c.width, c.in, r.lo, r.hi)
		}
	}
}

// measured is a round of the given kind over a circle of 40 mm radius with so many
// mm of thread a mm along it and its holes as given, each by how far inside the
// circle it lies and at which place of n.
func measured(kind report.Kind, thread float64, n int, hole func(i int) (in float64, at int)) *round {
	pts := make([]geom.Point, n)
	for i := range pts {
		in, at := hole(i)
		sin, cos := math.Sincos(2 * math.Pi * float64(at) / float64(n))
		pts[i] = mm((40-in)*cos, (40-in)*sin)
	}
	p := &finder{sewn: &stitches.Sewn{Track: stitches.Track{Pts: pts}}}
	c := newChain(traced(0, report.KindRun, arc(40, 0, 360)))
	r := &round{share: 1, traces: []*Trace{{Kind: kind, sewn: thread * c.line.Length, Spans: [][2]int{{0, n}}}}}
	p.measureRound(c, r)
	return r
}

func TestHowARoundIsMade(t *testing.T) {
	straight := func(i int) (float64, int) { return 0, i }
	waves := func(width float64) func(i int) (float64, int) {
		return func(i int) (float64, int) { return width * (float64(i%2) - 0.5), i }
	}
	// A tooth there and back among so many stitches that go on.
	teeth := func(among int) func(i int) (float64, int) {
		return func(i int) (float64, int) {
			switch i % among {
			case 1:
				return 3, i
			case 2:
				return 0, i - 2
			}
			return 0, i
		}
	}
	for _, c := range []struct {
		name string
		got  *round
		want sewing
	}{
		{"1.4 times the thread", measured(report.KindRun, 1.4, 200, straight), single},
		{"1.65 times the thread", measured(report.KindRun, 1.65, 200, straight), double},
		{"2.3 times the thread", measured(report.KindRun, 2.3, 200, straight), double},
		{"2.8 times the thread", measured(report.KindRun, 2.8, 200, straight), triple},
		{"1.08 mm wide, 1.45 times the thread", measured(report.KindRun, 1.45, 200, waves(1.08)), single},
		{"1.4 mm wide, 1.45 times the thread", measured(report.KindRun, 1.45, 200, waves(1.4)), motif},
		{"1.4 mm wide, 1.08 times the thread", measured(report.KindRun, 1.08, 200, waves(1.4)), single},
		{"1.4 mm wide, 1.26 times the thread", measured(report.KindRun, 1.26, 200, waves(1.4)), motif},
		{"a tooth among six stitches", measured(report.KindOpenZigzag, 2, 240, teeth(6)), zigzag},
		{"two teeth among nine stitches", measured(report.KindOpenZigzag, 2, 243, func(i int) (float64, int) {
			switch i % 9 {
			case 1, 5:
				return 3, i
			case 2, 6:
				return 0, i - 2
			}
			return 0, i
		}), blanket},
	} {
		if c.got.made != c.want {
			t.Errorf("%s: %s, %.2f mm wide; want %s", c.name, c.got.made, c.got.width(), c.want)
		}
	}
}

func TestWhatMayCover(t *testing.T) {
	for _, c := range []struct {
		lo, hi float64
		want   bool
	}{{-6, -1.8, true}, {-6, -2.3, false}, {1.8, 6, true}, {2.3, 6, false}} {
		r := &round{made: satinMade, lo: c.lo, hi: c.hi}
		if got := r.mayCover(0); got != c.want {
			t.Errorf("satin from %.1f to %.1f mm inside the line may cover its edge: %v", c.lo, c.hi, got)
		}
	}
}

func TestWhatIsTooNarrowToCover(t *testing.T) {
	for _, c := range []struct {
		width float64
		want  bool
	}{{2.1, true}, {1.6, false}} {
		tack := &round{stop: 2}
		ch := &chain{line: &Trace{}, rounds: []*round{{made: satinMade, stop: 1, lo: -c.width / 2, hi: c.width / 2}, tack}}
		if got := ch.coverBefore(tack) != nil; got != c.want {
			t.Errorf("satin %.1f mm wide covers: %v", c.width, got)
		}
	}
}

// A scrap of thread is no line.
func TestScrapsAreNoLines(t *testing.T) {
	for _, c := range []struct {
		length float64
		want   int
	}{{0.7, 1}, {0.9, 2}} {
		var b st.Builder
		b.Run(st.Line(st.Point{}, st.Point{X: 20}), 2.5).Trim()
		b.JumpTo(st.Point{Y: 30}).As(st.Run).StitchTo(st.Point{Y: 30}).StitchTo(st.Point{X: c.length, Y: 30})
		if n := len(recognised(t, b.Design()).Traces); n != c.want {
			t.Errorf("a line and %.1f mm of thread: %d lines, want %d", c.length, n, c.want)
		}
	}
}

// The middle line of teeth is the edge that they stand on, where they come back to
// their holes.
func TestTeethStandOnTheirEdge(t *testing.T) {
	for _, c := range []struct {
		miss float64
		want bool
	}{{0.22, true}, {0.29, false}} {
		var pts []geom.Point
		for i := range 12 {
			x := 4 * float64(i)
			pts = append(pts, mm(x, 0), mm(x, 3), mm(x+c.miss, 0))
		}
		most := 0.0
		for _, q := range middleLine(pts) {
			most = max(most, q.Y)
		}
		if got := most < 0.5; got != c.want {
			t.Errorf("teeth that miss their holes by %.2f mm: the middle line runs along their edge: %v", c.miss, got)
		}
	}
}

// The middle of a zigzag ends a little short of where its seam closes.
func TestZigzagWhoseSeamCloses(t *testing.T) {
	for _, c := range []struct {
		opening float64
		want    bool
	}{{7.5, true}, {8.8, false}} {
		tr := traced(1, report.KindOpenZigzag, arc(39.5, 0, 360-c.opening/39.5*180/math.Pi))
		got := ringChain().joined(&round{stop: 1, made: zigzag, share: 1, traces: []*Trace{tr}}).Closed
		if got != c.want {
			t.Errorf("a zigzag whose middle is open by %.1f mm is closed: %v", c.opening, got)
		}
	}
}

func TestLineSewnTwiceRoundTheBlock(t *testing.T) {
	for _, c := range []struct {
		apart float64
		want  int
	}{{0.22, 1}, {0.28, 2}} {
		lines := []*Trace{traced(1, report.KindRun, arc(60, 0, 360)), traced(1, report.KindRun, arc(60-c.apart, 0, 360))}
		if n := len(sameLines(lines)); n != c.want {
			t.Errorf("lines of one stop %.2f mm apart are %d, want %d", c.apart, n, c.want)
		}
	}
}

// Satin whose crossings stand far apart may be what holds cloth, close satin covers.
func TestSparseSatin(t *testing.T) {
	for _, c := range []struct {
		thread float64 // mm a mm along the line, over 4 mm across
		want   bool
	}{{9.5, true}, {11.8, false}} {
		across := func(i int) (float64, int) { return 4 * (float64(i%2) - 0.5), i }
		if got := measured(report.KindSatin, c.thread, 400, across).sparse; got != c.want {
			t.Errorf("satin of %.1f mm of thread a mm is sparse: %v", c.thread, got)
		}
	}
}

// What a machine can sew is followed in steps; what no machine can is left as it is.
func TestLongestStitch(t *testing.T) {
	for _, c := range []struct {
		mm   float64
		want int
	}{{0.9, 2}, {1.1, 3}, {49.5, 51}, {50.5, 2}} {
		if got := len(traced(0, report.KindRun, []geom.Point{{}, {X: c.mm}}).Line); got != c.want {
			t.Errorf("a stitch of %v mm gives %d points, want %d", c.mm, got, c.want)
		}
	}
}

// A line that heads one way has no loop, however steep its steps aside are.
func TestHeadsOneWay(t *testing.T) {
	zigzag := func(degrees float64) (line []geom.Point) {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		q := geom.Point{}
		for i := range 24 {
			line = append(line, q)
			q = q.Add(geom.Point{X: 2 * cos, Y: 2 * sin * float64(1-i/2%2*2)})
		}
		return line
	}
	heads := 0
	for degrees := 0.0; degrees < 90; degrees++ {
		line := zigzag(degrees)
		if !new(course).begin(line).headsOneWay(0, len(line)) {
			continue
		}
		heads++
		if from, to := new(course).begin(line).firstCrossing(0, len(line)); to > 0 {
			t.Errorf("steps of %.0f degrees: a line that heads one way meets itself from %d to %d", degrees, from, to)
		}
	}
	if heads < 70 || new(course).begin(zigzag(88)).headsOneWay(0, 24) {
		t.Errorf("of steps up to 89 degrees aside %d head one way, want those up to 70 and not that of 88", heads)
	}
}
