package applique

import (
	"math"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// Bean lines that no cut parts are lines of their own: each closed, a triple line, with
// its own needle points and its own thread.
func TestBeanLinesAreCutIntoLoops(t *testing.T) {
	rings := []st.Path{st.Circle(st.Point{}, 20), st.Circle(st.Point{X: 60, Y: 4}, 16), st.Circle(st.Point{X: 120}, 22)}
	for _, way := range []string{"single stitches", "bean stitches"} {
		var b st.Builder
		for i, r := range rings {
			if i > 0 && way == "bean stitches" {
				b.Bean(st.Line(b.At(), r[0]), 2.5, 3)
			}
			b.Bean(r, 2.2, 3)
		}
		rec := recognised(t, b.Design())
		var closed []*Trace
		last := 0
		for i := range rec.Traces {
			tr := &rec.Traces[i]
			for _, s := range tr.Spans {
				if s[0] < last-1 || s[1] <= s[0] || s[1] > len(rec.Sewn.Track.Pts) {
					t.Errorf("%s: line %d has the points %v, and those up to %d are of others", way, i, s, last)
				}
				last = s[1]
			}
			if tr.Closed {
				closed = append(closed, tr)
			}
		}
		if len(closed) != len(rings) {
			t.Errorf("%s between %d rings: %d closed lines", way, len(rings), len(closed))
			continue
		}
		for i, tr := range closed {
			want := rings[i].Length()
			if tr.Kind != report.KindTripleRun || tr.times != 3 || math.Abs(tr.Length-want) > 0.02*want || math.Abs(tr.sewn-3*want) > 0.08*want {
				t.Errorf("%s: ring %d of %.0f mm is a %v, sewn %d times, %.0f mm, %.0f mm of thread", way, i, want, tr.Kind, tr.times, tr.Length, tr.sewn)
			}
			for _, s := range tr.Spans {
				for _, q := range rec.Sewn.Track.Pts[s[0]:s[1]] {
					if tr.Near().Nearest(q, 5) > 2.6 { // a stitch and rounding
						t.Errorf("%s: ring %d has a needle point at %.1f, off it", way, i, q)
					}
				}
			}
		}
	}
}

// What stitches on the spot part is one bean line; a stretch of single stitches parts it.
func TestBeanLineWithStitchesOnTheSpot(t *testing.T) {
	for _, c := range []struct {
		between func(b *st.Builder)
		want    bool
	}{
		{func(b *st.Builder) {
			for range 4 {
				b.StitchTo(b.At())
			}
		}, true},
		{func(b *st.Builder) { b.Run(st.Line(b.At(), st.Point{X: 60, Y: 9}), 2.25) }, false},
	} {
		var b st.Builder
		b.Bean(st.Line(st.Point{}, st.Point{X: 60}), 2.5, 3)
		c.between(&b)
		b.Bean(st.Line(b.At(), st.Point{X: 60, Y: 50}), 2.5, 3)
		p := &finder{sewn: recognised(t, b.Design()).Sewn}
		first := 0
		for p.sewn.Passages[first].Kind != report.KindTripleRun {
			first++
		}
		if got := p.tripleUntil(first) > first+1; got != c.want {
			t.Errorf("goes on past what is between: %v, want %v, in %v", got, c.want, p.sewn.Passages)
		}
	}
}

// A needle comes back to its hole, whatever the rounding, and where a line begins with a
// stitch back to one hole more.
func TestEachHoleOnce(t *testing.T) {
	for _, c := range []struct {
		off  float64
		want int
	}{{0.19, 3}, {0.21, 7}} {
		way, at := eachHoleOnce([]geom.Point{mm(0, 0), mm(2, 0), mm(0, c.off), mm(2, c.off), mm(4, 0), mm(2, -c.off), mm(4, c.off)})
		if len(way) != c.want || len(at) != len(way) {
			t.Errorf("%.2f mm from its hole: %d holes, want %d", c.off, len(way), c.want)
		}
	}
	back := []geom.Point{mm(2, 0), mm(0, 0), mm(2, 0), mm(4, 0), mm(2, 0), mm(4, 0), mm(6, 0), mm(4, 0), mm(6, 0)}
	if way, at := eachHoleOnce(back); len(way) != 4 || at[3] != 6 {
		t.Errorf("a line that begins with a stitch back goes by %v, first at %v", way, at)
	}
}

// A lead that crosses its loop, or meets one loop without a corner before it comes to the
// next, hides neither.
func TestLeadsThatHideLoops(t *testing.T) {
	ring := arc(20, 90, 450) // from the top, to the left
	lead := func(from geom.Point) (out []geom.Point) {
		for i := range 40 {
			out = append(out, geom.Lerp(from, ring[0], float64(i)/40))
		}
		return out
	}
	for _, c := range []struct {
		name string
		pts  []geom.Point
		from int
	}{
		{"crosses", append(append(lead(mm(80, -20)), ring...), mm(-20, 20), mm(-40, 20)), 40},
		// It closes where it comes within 0.7 mm of the lead.
		{"touches", append(append(lead(mm(80, 20)), ring...), mm(-20, 20), mm(-40, 20)), 40},
		{"touches a ring sewn twice", append(append(lead(mm(80, 20)), ring...), ring[1:]...), 40},
	} {
		from, to := new(course).begin(c.pts).firstLoop(0)
		if from < c.from-2 || from > c.from+1 || to < c.from+len(ring)-8 || to > c.from+len(ring)+2 {
			t.Errorf("a lead that %s: the loop is found from %d to %d, and it begins at %d", c.name, from, to, c.from)
		}
	}
	// On past one ring, which is closed or open, to one that is met at a
	// corner: where the way on only crosses the open one, no loop begins.
	for _, c := range []struct {
		name        string
		first       []geom.Point
		on          geom.Point // from point to point
		least, most int
	}{
		{"closed", append(lead(mm(80, 20)), ring...), mm(-2.5, 0), 38, 42},
		{"all but closed", arc(20, 94, 446), mm(-1.1, -2.2), 150, 153},
		{"open", arc(20, 150, 390), mm(-2.5, -0.6), 110, 113},
	} {
		way := slices.Clone(c.first)
		for range 30 {
			way = append(way, way[len(way)-1].Add(c.on))
		}
		end := way[len(way)-1]
		for i := range 40 {
			a := 2 * math.Pi * float64(i+1) / 40
			way = append(way, end.Add(mm(15*math.Sin(a), 15*(math.Cos(a)-1))))
		}
		for i := range 6 {
			way = append(way, end.Add(mm(0, 2.5*float64(i+1))))
		}
		if from, to := new(course).begin(way).firstLoop(0); from < c.least || from > c.most || to < from {
			t.Errorf("after a ring that is %s the first loop is found from %d to %d, of %d points, %d of them of the ring", c.name, from, to, len(way), len(c.first))
		}
	}
}
