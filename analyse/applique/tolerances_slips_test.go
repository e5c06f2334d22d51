package applique

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/satin"
	"github.com/stopcard/stopcard/analyse/stitches"
)

// A loop sewn once more, and a line beside it.
func TestRoundAgainBeside(t *testing.T) {
	loop := arc(25, 0, 360)
	for _, c := range []struct {
		off, share float64
		again      bool
	}{{0.27, 1, true}, {0.34, 1, false}, {0.45, 0.75, true}, {0.45, 0.85, false}} {
		_, used := roundAgain(loop, arc(25-c.off, 0, 360*c.share))
		if (used > 0) != c.again {
			t.Errorf("%.2f of a round, %.2f mm beside a loop, is the loop again: %v", c.share, c.off, used > 0)
		}
	}
}

// Teeth in a row, and what corners take out of it.
func TestRowsOfFlatTeeth(t *testing.T) {
	row := func(n int, from geom.Point) (out []geom.Point) {
		for i := range n {
			out = append(out, from.Add(mm(2.5*float64(i), float64(i%2))))
		}
		return out
	}
	on := func(pts []geom.Point, n int) []geom.Point {
		for range n {
			pts = append(pts, pts[len(pts)-1].Add(mm(2.5, 0)))
		}
		return pts
	}
	marked := func(pts []geom.Point) (n int) {
		for _, tooth := range flatTeeth(pts) {
			if tooth {
				n++
			}
		}
		return n
	}
	// A row of n points has two less that are teeth.
	for n := range 14 {
		if n < 3 {
			continue
		}
		want := 0
		if n-2 >= 8 {
			want = n - 2
		}
		if got := marked(row(n, mm(0, 0))); got != want {
			t.Errorf("a row of %d points has %d teeth, want %d", n, got, want)
		}
	}
	// Beside a long row, a short one counts from three teeth on.
	for _, c := range []struct{ n, want int }{{2, 0}, {3, 3}, {4, 4}} {
		pts := on(row(21, mm(0, 0)), 6)
		alone := marked(pts)
		pts = on(append(pts, row(c.n, pts[len(pts)-1].Add(mm(2.5, 0)))...), 6)
		if got := marked(pts) - alone; got < c.want-1 || got > c.want+1 || (got == 0) != (c.want == 0) {
			t.Errorf("a short row of %d points has %d teeth, want %d or so", c.n, got, c.want)
		}
	}
}

// A row that closes, and how often it goes round.
func TestRowCloses(t *testing.T) {
	ring := func(open float64) []geom.Point {
		turn := open / 25
		var out []geom.Point
		for i := range 63 {
			sin, cos := math.Sincos(turn/2 + float64(i)/62*(2*math.Pi-turn))
			out = append(out, mm((25+float64(i%2))*cos, (25+float64(i%2))*sin))
		}
		return out
	}
	for _, c := range []struct {
		open float64
		want bool
	}{{3.5, true}, {4.6, false}} {
		pts := ring(c.open)
		out := apart().toothedTraces(0, pts, [][2]int{{0, len(pts)}}, 0, 0)
		if got := len(out) == 1 && geom.Distance(out[0].Line[0], out[0].Line[len(out[0].Line)-1]) < 0.01; got != c.want {
			t.Errorf("a row open by %.1f mm closes: %v", c.open, got)
		}
	}
	for _, c := range []struct {
		round float64
		want  bool
	}{{1.35, false}, {1.65, true}} {
		var row []geom.Point
		for at := 0.0; at < 40*c.round; at++ {
			switch d := math.Mod(at, 10); int(at/10) % 4 {
			case 0:
				row = append(row, mm(d, 0))
			case 1:
				row = append(row, mm(10, d))
			case 2:
				row = append(row, mm(10-d, 10))
			case 3:
				row = append(row, mm(0, 10-d))
			}
		}
		if got := windsTwice(row); got != c.want {
			t.Errorf("%.2f times round goes round twice: %v", c.round, got)
		}
	}
}

// A line of which a share is a surface is a zigzag.
func TestLineThatIsAZigzag(t *testing.T) {
	for _, c := range []struct {
		surface int
		want    report.Kind
	}{{22, report.KindOpenZigzag}, {18, report.KindRun}} {
		p := &finder{sewn: &stitches.Sewn{Passages: []report.Passage{{Kind: report.KindOpenZigzag, From: 30, To: 30 + c.surface}}}, satin: &satin.Satin{BandOf: []int32{-1}}}
		tr := &Trace{Kind: report.KindRun, Line: arc(25, 0, 360), Spans: [][2]int{{0, 100}}}
		if p.asZigzag(tr, 0, 1); tr.Kind != c.want {
			t.Errorf("%d of 100 needle points of a surface: %v", c.surface, tr.Kind)
		}
	}
}

// What a corner takes out of a row of teeth at most.
func TestCornerInARow(t *testing.T) {
	for gap := range 6 {
		var pts []geom.Point
		x := 0.0
		add := func(y float64) { pts = append(pts, mm(x, y)); x += 2.5 }
		for i := range 12 {
			add(float64(i % 2))
		}
		for range gap {
			add(1) // in line with the last
		}
		for i := range 12 {
			add(float64((i + 1) % 2))
		}
		want := 2
		if gap <= 3 {
			want = 1
		}
		if n := len(toothed(pts)); n != want {
			t.Errorf("%d needle points in line between two rows: %d rows, want %d", gap, n, want)
		}
	}
}

// Lock stitches between line and tack-down speak for a pause that was lost.
func TestWhatLockStitchesWeigh(t *testing.T) {
	score := func(locks int) float64 {
		for _, c := range recognised(t, sewnOn(locks, 0.6, false)).chains {
			for _, o := range c.options {
				if o.tack != nil && o.tack.stop == 0 && len(o.cover) > 0 {
					return o.score
				}
			}
		}
		t.Fatal("no reading with a tack-down")
		return 0
	}
	if d := score(2) - score(0); math.Abs(d-1) > 0.1 {
		t.Errorf("lock stitches weigh %.2f, want 1", d)
	}
}
