package stitches

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// The tests of this file hold each tolerance from both sides: what lies just
// within it and what lies just beyond, in figures written out, so that a
// tolerance which moves by a fifth is noticed.

func mm(x, y float64) geom.Point { return geom.Point{X: x, Y: y} }

// kinds are the kinds of stitches, each by the point it ends at, of one thread
// path through points.
func kinds(pts []geom.Point) []report.Kind {
	t := &Track{Pts: pts, Kind: make([]report.Kind, len(pts)), Marks: make([]Mark, len(pts))}
	c := classifier{t: t}
	c.segment(Segment{First: 0, Last: len(pts)})
	return t.Kind
}

// mostly is the kind of the stitch in the middle.
func mostly(pts []geom.Point) report.Kind { return kinds(pts)[len(pts)/2] }

// strokesOf joins the stitches of a thread path to strokes.
func strokesOf(pts []geom.Point) *classifier {
	c := &classifier{t: &Track{Pts: pts, Kind: make([]report.Kind, len(pts)), Marks: make([]Mark, len(pts))}}
	c.makeStrokes(0, len(pts))
	c.markSteps()
	return c
}

// turned is a unit vector so many degrees to the left of X.
func turned(degrees float64) geom.Point {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return mm(cos, sin)
}

func TestTies(t *testing.T) {
	toAndFro := func(step float64, n int) []geom.Point {
		var out []geom.Point
		for i := range n + 1 {
			out = append(out, mm(step*float64(i%2), 0))
		}
		return append(out, mm(5, 0), mm(10, 0))
	}
	corner := func(step float64) []geom.Point {
		return []geom.Point{mm(0, 0), mm(step, 0), mm(step, step), mm(step, 0), mm(0, 0), mm(5, 0)}
	}
	for _, c := range []struct {
		name string
		pts  []geom.Point
		want int
	}{
		{"steps of 0.95 mm", toAndFro(0.95, 4), 4},
		{"steps of 1.15 mm", toAndFro(1.15, 4), 0},
		{"1.1 mm from the hole", corner(0.78), 4},
		{"1.34 mm from the hole", corner(0.95), 0},
		{"fourteen of them", toAndFro(0.6, 14), 10},
		{"back to within 0.1 mm", []geom.Point{mm(0, 0), mm(0.8, 0), mm(0.1, 0), mm(5, 0)}, 2},
		{"back to within 0.14 mm", []geom.Point{mm(0, 0), mm(0.8, 0), mm(0.14, 0), mm(5, 0)}, 0},
		{"three steps of 0.6 mm in line", []geom.Point{mm(0, 0), mm(0.6, 0), mm(1.2, 0), mm(1.8, 0), mm(4, 0), mm(7, 0)}, 3},
		{"three steps of 0.72 mm in line", []geom.Point{mm(0, 0), mm(0.72, 0), mm(1.44, 0), mm(2.16, 0), mm(4.5, 0), mm(7, 0)}, 0},
	} {
		if got := tieLength(c.pts); got != c.want {
			t.Errorf("%s: %d lock stitches, want %d", c.name, got, c.want)
		}
	}
}

func TestLineSewnOverItself(t *testing.T) {
	line := []geom.Point{mm(0, 0), mm(10, 0)}
	for _, c := range []struct {
		off  float64
		want bool
	}{{0.55, true}, {0.66, false}} {
		if got := nearSpan(mm(5, c.off), line, 0, 1); got != c.want {
			t.Errorf("%.2f mm off lies on the line: %v", c.off, got)
		}
	}
	back := func(n int) []geom.Point { // so many stitches of 0.9 mm back
		var out []geom.Point
		for i := range 21 {
			out = append(out, mm(0.9*float64(i), 0))
		}
		for i := range n {
			out = append(out, mm(0.9*float64(19-i), 0))
		}
		return append(out, mm(0.9*float64(19-n+1), 8), mm(0.9*float64(19-n+1), 14))
	}
	for _, c := range []struct {
		stitches int
		want     report.Kind
	}{{3, report.KindRun}, {4, report.KindDoubleRun}} {
		if got := kinds(back(c.stitches))[21]; got != c.want {
			t.Errorf("%.1f mm back over itself is %s, want %s", 0.9*float64(c.stitches), got, c.want)
		}
	}
	// The turn is a small step in the given direction.
	round := func(degrees float64) []geom.Point {
		var out []geom.Point
		for i := range 11 {
			out = append(out, mm(2*float64(i), 0))
		}
		step := turned(degrees).Times(0.4)
		at := mm(20, 0).Add(step)
		out = append(out, at)
		for i := range 6 {
			out = append(out, mm(at.X-2*float64(i+1), at.Y))
		}
		return out
	}
	for _, c := range []struct {
		degrees float64
		want    report.Kind
	}{{155, report.KindDoubleRun}, {144, report.KindRun}} {
		if got := kinds(round(c.degrees))[14]; got != c.want {
			t.Errorf("a line that turns by %.0f degrees goes on as %s, want %s", c.degrees, got, c.want)
		}
	}
}

// zigzag has so many crossings.
func zigzag(x, width, pitch float64, n int) []geom.Point {
	var out []geom.Point
	for i := range n + 1 {
		out = append(out, mm(x+pitch/2*float64(i), width*float64(i%2)))
	}
	return out
}

// Travel is nearly straight.
func TestTravel(t *testing.T) {
	for _, c := range []struct {
		bend float64 // mm to the side, half way along 20 mm
		want report.Kind
	}{{1.8, report.KindTravel}, {3.1, report.KindRun}} {
		pts := zigzag(0, 4, 0.5, 40)
		end := pts[len(pts)-1]
		n := len(pts)
		for i := 1; i <= 10; i++ {
			pts = append(pts, end.Add(mm(2*float64(i), c.bend*(1-math.Abs(float64(i)-5)/5))))
		}
		last := pts[len(pts)-1]
		for _, q := range zigzag(0, 4, 0.5, 40)[1:] {
			pts = append(pts, last.Add(q))
		}
		share := 20 / (2 * math.Hypot(10, c.bend))
		if got := kinds(pts)[n+5]; got != c.want {
			t.Errorf("a line whose ends are %.3f of its length apart is %s, want %s", share, got, c.want)
		}
	}
}

func TestStrokesGoOn(t *testing.T) {
	for _, c := range []struct {
		degrees float64
		want    int
	}{{27, 1}, {34, 2}} {
		pts := []geom.Point{mm(0, 0), mm(3, 0), mm(3, 0).Add(turned(c.degrees).Times(3))}
		if n := len(strokesOf(pts).strokes); n != c.want {
			t.Errorf("stitches that bend by %.0f degrees make %d strokes, want %d", c.degrees, n, c.want)
		}
	}
}

func TestStrokesTurnBack(t *testing.T) {
	// Rows of two stitches.
	rows := func(degrees float64) []geom.Point {
		v := turned(degrees).Times(3)
		return []geom.Point{mm(-6, 0), mm(-3, 0), mm(0, 0), v, v.Times(2)}
	}
	// Crossings of one stitch, turning left and right.
	crossings := func(degrees float64) []geom.Point {
		out := []geom.Point{mm(0, 0)}
		for i := range 5 {
			out = append(out, out[i].Add(turned(degrees*(float64(i%2)-0.5)).Times(3)))
		}
		return out
	}
	// Rows of three stitches that bend.
	bent := func(degrees float64) []geom.Point {
		a, b, c := turned(degrees).Times(3), mm(3, 0), turned(-degrees).Times(3)
		out := []geom.Point{mm(0, 0), a, a.Add(b), a.Add(b).Add(c)}
		end := out[3]
		for _, v := range []geom.Point{mm(0, 0).Sub(c), mm(0, 0).Sub(b), mm(0, 0).Sub(a)} {
			end = end.Add(v).Add(mm(0, 0.1))
			out = append(out, end)
		}
		return out
	}
	for _, c := range []struct {
		name string
		pts  []geom.Point
		want bool
	}{
		{"rows that turn by 124 degrees", rows(124), true},
		{"rows that turn by 116 degrees", rows(116), false},
		{"crossings that turn by 63 degrees", crossings(63), true},
		{"crossings that turn by 57 degrees", crossings(57), false},
		{"rows nearly straight", bent(24), true},
		{"rows bent", bent(29), false},
	} {
		w := strokesOf(c.pts)
		if got := len(w.main) > 1 && w.joined(1); got != c.want {
			t.Errorf("%s turn back: %v (%d strokes)", c.name, got, len(w.main))
		}
	}
}

func TestStepsAlongTheEdge(t *testing.T) {
	rung := func(length, step float64) []geom.Point {
		return []geom.Point{mm(0, 0), mm(0, length), mm(step, length), mm(step, 0)}
	}
	tooth := func(along float64) []geom.Point {
		return []geom.Point{mm(0, 0), mm(0, 3), mm(0, 0), mm(along, 0), mm(along, 3), mm(along, 0), mm(2*along, 0)}
	}
	for _, c := range []struct {
		name string
		pts  []geom.Point
		at   int // stroke
		want bool
	}{
		{"1.2 mm between short rungs", rung(2.2, 1.2), 1, true},
		{"1.45 mm between short rungs", rung(2.6, 1.45), 1, false},
		{"2.0 mm between long rows", rung(7, 2.0), 1, true},
		{"2.4 mm between long rows", rung(7, 2.4), 1, false},
		{"4.2 mm between teeth", tooth(4.2), 2, true},
		{"4.9 mm between teeth", tooth(4.9), 2, false},
	} {
		if got := strokesOf(c.pts).strokes[c.at].step; got != c.want {
			t.Errorf("%s is a step: %v", c.name, got)
		}
	}
}

// split has crossings of so many stitches each.
func split(width, pitch float64, n, stitches int) []geom.Point {
	out := []geom.Point{mm(0, 0)}
	for i := 1; i <= n; i++ {
		from, to := out[len(out)-1], mm(pitch/2*float64(i), width*float64(i%2))
		for k := 1; k <= stitches; k++ {
			out = append(out, geom.Lerp(from, to, float64(k)/float64(stitches)))
		}
	}
	return out
}

// leaning rows turn at the edge without a step.
func leaning(length, spacing float64, n int) []geom.Point {
	out := []geom.Point{mm(0, 0)}
	for i := range n {
		for k := 1; k <= 5; k++ {
			x := length * float64(k) / 5
			if i%2 == 1 {
				x = length - x
			}
			out = append(out, mm(x, spacing*(float64(i)+float64(k)/5)))
		}
	}
	return out
}

// bars are rungs of two stitches, with a step along the edge between. The hole
// between the two lies at the given share of the bar.
func bars(length, spacing, middle float64, n int) []geom.Point {
	out := []geom.Point{mm(0, 0)}
	for i := range n {
		x := spacing * float64(i)
		from, to := 0.0, length
		if i%2 == 1 {
			from, to = length, 0
		}
		out = append(out, mm(x, from+(to-from)*middle), mm(x, to))
		if i+1 < n {
			out = append(out, mm(x+spacing, to))
		}
	}
	return out
}

func TestKindsOfSurfaces(t *testing.T) {
	for _, c := range []struct {
		name string
		pts  []geom.Point
		want report.Kind
	}{
		{"crossings 1.0 mm apart", zigzag(0, 4, 1.0, 40), report.KindSatin},
		{"crossings 1.2 mm apart", zigzag(0, 4, 1.2, 40), report.KindOpenZigzag},
		{"crossings 7.5 mm apart", zigzag(0, 9, 7.5, 40), report.KindOpenZigzag},
		{"crossings 8.8 mm apart", zigzag(0, 9, 8.8, 40), report.KindRun},
		{"split crossings 0.6 mm apart", split(11, 0.6, 60, 3), report.KindSatin},
		{"split crossings 0.72 mm apart", split(11, 0.72, 60, 3), report.KindFill},
		{"split crossings 15 mm long", split(15, 0.4, 60, 4), report.KindSatin},
		{"split crossings 17 mm long", split(17, 0.4, 60, 4), report.KindFill},
		{"rows 1.4 mm apart", leaning(24, 1.4, 14), report.KindFill},
		{"rows 1.65 mm apart", leaning(24, 1.65, 14), report.KindRun},
		{"rows 0.14 mm apart", leaning(24, 0.14, 14), report.KindFill},
		{"bars 0.55 mm apart", bars(4, 0.55, 0.5, 50), report.KindSatin},
		{"bars 0.68 mm apart", bars(4, 0.68, 0.5, 50), report.KindFill},
		{"bars 4.7 mm long", bars(4.7, 0.4, 0.5, 60), report.KindSatin},
		{"bars 5.5 mm long", bars(5.5, 0.4, 0.5, 60), report.KindFill},
		{"bars halved 0.13 off their middle", bars(4, 0.4, 0.5+0.13, 60), report.KindSatin},
		{"bars halved 0.17 off their middle", bars(4, 0.4, 0.5+0.17, 60), report.KindFill},
		{"bars 3.3 times as long together as one", bars(3, 0.4, 0.5, 26), report.KindSatin},
		{"bars 2.7 times as long together as one", bars(3, 0.4, 0.5, 21), report.KindFill},
		{"crossings 0.56 mm long", zigzag(0, 0.55, 0.3, 60), report.KindSatin},
		{"crossings 0.45 mm long", zigzag(0, 0.43, 0.3, 60), report.KindRun},
	} {
		if got := mostly(c.pts); got != c.want {
			t.Errorf("%s are %s, want %s", c.name, got, c.want)
		}
	}
	if got := mostly(leaning(24, 0.1, 14)); got == report.KindFill {
		t.Errorf("rows 0.1 mm apart are %s", got)
	}
}

// Four crossings make a surface, three are a line.
func TestFewestCrossings(t *testing.T) {
	for _, c := range []struct {
		n    int
		want bool
	}{{4, true}, {3, false}} {
		pts := []geom.Point{mm(-12, -3), mm(-9, -2), mm(-6, -1), mm(-3, -0.5)}
		for i := range c.n + 1 {
			pts = append(pts, mm(0.2*float64(i), 5*float64(i%2)))
		}
		if got := kinds(pts)[6]; got.Surface() != c.want {
			t.Errorf("%d crossings are %s", c.n, got)
		}
	}
}

// Split crossings too open for satin are a column where they are slender together, and
// a fill whose rows turn without a step where they are not.
func TestOpenSplitCrossings(t *testing.T) {
	crossings := func(pitch float64, n int) []geom.Point {
		var out []geom.Point
		for i := range n {
			x, y := pitch/2*float64(i), 4*float64(i%2)
			if i > 0 {
				out = append(out, mm(x-pitch/4, 2))
			}
			out = append(out, mm(x, y))
		}
		return out
	}
	for _, c := range []struct {
		name  string
		pitch float64
		mm    float64
		want  report.Kind
	}{
		{"0.9 mm, 20 mm long", 0.9, 20, report.KindFill},
		{"0.9 mm, 28 mm long", 0.9, 28, report.KindSatin},
		{"2 mm, 20 mm long", 2, 20, report.KindFill},
		{"2 mm, 30 mm long", 2, 30, report.KindOpenZigzag},
		{"3 mm, 40 mm long", 3, 40, report.KindOpenZigzag},
		{"close satin of 5 mm", 0.5, 5, report.KindSatin},
	} {
		if got := mostly(crossings(c.pitch, int(2*c.mm/c.pitch))); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}
