package applique

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// tackedAt is a round piece whose tack-down lies so far inside its line, moved aside by
// some of it, under satin of a width along the line.
func tackedAt(in, aside, width float64) *stitchfile.Design {
	line, tack := st.Circle(st.Point{}, 30), st.Circle(st.Point{X: aside}, 30-in)
	b := new(st.Builder).Run(line, 2.5).TieOff().Stop().DoubleRun(tack, 2.2).TieOff().Stop()
	return b.Satin(line, st.SatinAlong{Width: width, Pitch: 0.4}).TieOff().Design()
}

// farRounds are the rounds of a design that lie evenly and far inside a line.
func farRounds(rec *Recognised) (n int) {
	for _, c := range rec.chains {
		for _, r := range c.rounds {
			if r.far {
				n++
			}
		}
	}
	return n
}

func TestFarInside(t *testing.T) {
	for _, c := range []struct {
		name      string
		in, aside float64
		want      int
	}{
		{"2.3 mm inside", 2.3, 0, 0},
		{"2.7 mm inside", 2.7, 0, 1},
		{"6.2 mm inside", 6.2, 0, 1},
		{"6.8 mm inside", 6.8, 0, 0},
		{"4.5 mm inside, and 0.5 mm aside", 4.5, 0.5, 1},
		{"4.5 mm inside, and 0.75 mm aside", 4.5, 0.75, 0},
	} {
		if n := farRounds(recognised(t, tackedAt(c.in, c.aside, 4))); n != c.want {
			t.Errorf("a tack-down %s: %d lines far inside, want %d", c.name, n, c.want)
		}
	}
}

// A tack-down that lies further in on two sides than on the others lies evenly inside
// while that is little.
func TestEvenInside(t *testing.T) {
	for _, c := range []struct {
		uneven float64
		want   int
	}{{1.15, 1}, {1.4, 0}} {
		tack := make(st.Path, 241)
		for i := range tack {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / 240)
			tack[i] = st.Point{X: 26 * cos, Y: (26 - c.uneven) * sin}
		}
		line := st.Circle(st.Point{}, 30)
		b := new(st.Builder).Run(line, 2.5).TieOff().Stop().DoubleRun(tack, 2.2).TieOff().Stop()
		rec := recognised(t, b.Satin(line, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Design())
		if n := farRounds(rec); n != c.want {
			t.Errorf("a tack-down 4 to %.2f mm inside: %d lines far inside, want %d", 4+c.uneven, n, c.want)
		}
	}
}

// A tack-down of another size of the design lies unevenly inside, and as far from the
// middle everywhere.
func TestCopyInside(t *testing.T) {
	for _, c := range []struct {
		name        string
		w, h        float64 // of the line
		fw, fh      float64 // of the tack-down, as shares of it
		aside       float64
		far, missed bool
	}{
		{"0.87 times as large", 95, 43, 0.87, 0.87, 0, true, true},
		{"0.95 times as large", 95, 43, 0.95, 0.95, 0, false, false}, // 2.4 mm and 1.1 mm
		{"0.87 times as large, and 0.5 mm aside", 95, 43, 0.87, 0.87, 0.5, true, true},
		{"0.87 times as large, and 0.7 mm aside", 95, 43, 0.87, 0.87, 0.7, false, false},
		{"0.87 times as wide, 0.85 times as high", 95, 43, 0.87, 0.86, 0, true, true},
		{"0.87 times as wide, 0.81 times as high", 95, 43, 0.87, 0.81, 0, false, false},
		{"0.87 times as large, 1.3 mm inside on two sides", 60, 20, 0.87, 0.87, 0, true, true},
		{"0.87 times as large, 9.7 mm inside on two sides", 150, 50, 0.87, 0.87, 0, true, true},
		{"0.87 times as large, 12.3 mm inside on two sides", 190, 50, 0.87, 0.87, 0, false, false},
		{"0.885 times as large, 1.15 mm inside on two sides", 60, 20, 0.885, 0.885, 0, true, true},
		{"0.91 times as large, 0.9 mm inside on two sides", 60, 20, 0.91, 0.91, 0, false, false},
	} {
		line, tack := st.Rect(st.Point{}, c.w, c.h), st.Rect(st.Point{X: c.aside}, c.fw*c.w, c.fh*c.h)
		b := new(st.Builder).Run(line, 2.5).TieOff().Stop().DoubleRun(tack, 2.2).TieOff().Stop()
		rec := recognised(t, b.Mitred(line, 4, 0.4).TieOff().Design())
		missed := len(rec.Pieces) == 1 && rec.Pieces[0].Missed
		if n := farRounds(rec); (n > 0) != c.far || missed != c.missed {
			t.Errorf("a tack-down %s: %d lines far inside, its cover misses it: %v", c.name, n, missed)
		}
	}
}

// What the line leaves out at a bulge is no matter, if it is little.
func TestFarInsideAlong(t *testing.T) {
	for _, c := range []struct {
		share float64
		want  bool
	}{{0.06, true}, {0.14, false}} {
		line := traced(0, report.KindRun, dented(38, 8, 1-c.share))
		inner := traced(1, report.KindRun, arc(26, 0, 359.9))
		p := apart()
		if got := p.farRound(newChain(line), inner) != nil; got != c.want {
			t.Errorf("a line whose bulge is %.2f of it has one far inside: %v", c.share, got)
		}
	}
	// In a triangle 4 mm inside lies 8 mm from each corner: there the line is not
	// followed along 3.9 mm.
	triangle := func(stop int, side float64) *Trace {
		r := side / math.Sqrt(3)
		return traced(stop, report.KindRun, []geom.Point{mm(r, 0), mm(-r/2, side/2), mm(-r/2, -side/2), mm(r, 0)})
	}
	for _, c := range []struct {
		side float64
		want bool
	}{{48, true}, {25, false}} {
		inner := c.side - 4*2*math.Sqrt(3)
		if got := apart().farRound(newChain(triangle(0, c.side)), triangle(1, inner)) != nil; got != c.want {
			t.Errorf("a triangle of %.0f mm has a line far inside: %v", c.side, got)
		}
	}
}

// A cover misses the edge that trimming leaves, 1 mm outside the tack-down, or reaches it.
func TestCoverMissesFarTackDown(t *testing.T) {
	for _, c := range []struct {
		width float64
		want  bool
	}{{5.2, true}, {5.9, true}, {6.4, false}} {
		rec := recognised(t, tackedAt(4.1, 0, c.width))
		if len(rec.Pieces) != 1 || !rec.Pieces[0].Held || rec.Pieces[0].Missed != c.want {
			t.Errorf("satin %.1f mm wide over the line, 4.1 mm outside the tack-down: %d pieces, want one, missed: %v", c.width, len(rec.Pieces), c.want)
		}
		under := false
		for _, s := range rec.Rehearsal.Steps {
			under = under || s.Kind == report.StepTrim && s.Manner == UnderCover
		}
		if under != c.want {
			t.Errorf("satin %.1f mm wide: trimmed along its line: %v", c.width, under)
		}
	}
}

// What speaks for a tack-down drawn in too far, and for pauses that were lost.
func TestWhatSlipsWeigh(t *testing.T) {
	weigh := func(far bool, in float64) evidence {
		tack, r := at(1, double, in, 0), at(2, satinMade, 0, 4)
		c, p := ringChain(tack, r), apart()
		tack.far = far
		c.line.Spans = [][2]int{{0, 50}}
		for i := range c.samples {
			r.mask.set(i)
		}
		c.known = []known{{'f', 50, 200, 0}, {'b', 0, c.line.first, 0}, {'n', 50, 100, 0}}
		return p.weigh(c, &option{tack: tack, cover: []*round{r}})
	}
	before := func(change func(c *chain, r *round)) evidence {
		r := at(2, satinMade, 0, 4)
		c := ringChain(r)
		r.q1, r.q3 = -2, 2
		change(c, r)
		return apart().preCutEvidence(c, &option{cover: []*round{r}})
	}
	raw := func(made sewing, in float64, more ...*round) evidence {
		r := at(1, made, in, 0)
		return apart().rawEvidence(ringChain(append([]*round{r}, more...)...), &option{tack: r})
	}
	usual := before(func(*chain, *round) {})
	aside := func(q1, q3 float64) evidence {
		return before(func(_ *chain, r *round) { r.q1, r.q3 = q1, q3 })
	}
	buried := func(stop int, far bool) evidence {
		return before(func(c *chain, _ *round) {
			r := at(stop, single, 4, 0)
			r.far = far
			c.rounds = append([]*round{r}, c.rounds...)
		})
	}
	for _, c := range []struct {
		name          string
		with, without evidence
		want          float64
	}{
		{"a tack-down 4 mm inside, and the cover 2 mm short of it", weigh(true, 4), weigh(false, 0.5), -1.2 - 1.5*1.0},
		{"the same 5 mm inside", weigh(true, 5), weigh(true, 4), 0},
		{"the cover 0.5 mm short of it", weigh(true, 2.5), weigh(false, 0.5), -1.2 - 1.5*0.5},
		{"a line drawn in, sewn before cloth cut beforehand", buried(1, true), usual, -2},
		{"a line that is not", buried(1, false), usual, 0},
		{"a line drawn in, sewn with the cover", buried(2, true), usual, 0},
		{"half of the satin beyond 0.7 mm", aside(0.7, 3), usual, -2 - 0.9},
		{"half of the satin beyond 0.5 mm", aside(0.5, 3), usual, 0},
		{"half of it beyond 0.7 mm outside", aside(-3, -0.7), usual, -2 - 0.9},
		{"a zigzag 2 mm inside, its edge raw", raw(zigzag, 2), raw(zigzag, 0), 1.2},
		{"the same under a cover", raw(zigzag, 2, at(2, blanket, 0, 3)), raw(zigzag, 0, at(2, blanket, 0, 3)), 0},
	} {
		if got := float64(c.with - c.without); math.Abs(got-c.want) > 0.03 {
			t.Errorf("%s weighs %.2f, want %.2f", c.name, got, c.want)
		}
	}
}
