package applique

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// A tack-down that goes its line's way, all of it moved aside, is a slip and still a
// tack-down; one that wanders by as much is another line.
func TestTackDownMovedAside(t *testing.T) {
	away := func(line []geom.Point, dx float64) []geom.Point {
		out := make([]geom.Point, len(line))
		for i, q := range line {
			out[i] = q.Add(mm(dx, 0))
		}
		return out
	}
	for _, c := range []struct {
		name string
		tack []geom.Point
		want bool
	}{
		{"moved by 3 mm", away(arc(30, 0, 360), 3), true},
		{"moved by 3 mm and 1.1 mm smaller", away(arc(28.9, 0, 360), 3), true},
		{"moved by 3 mm and 1.5 mm smaller", away(arc(28.5, 0, 360), 3), false},
		{"moved by 3 mm, a tenth of it 0.5 mm in", away(dented(30, 0.5, 0.1), 3), true},
		{"moved by 3 mm, a tenth of it 0.75 mm in", away(dented(30, 0.75, 0.1), 3), false},
		{"open", away(arc(30, 0, 300), 3), false},
	} {
		r := at(1, double, 0.3, 5)
		r.traces = []*Trace{traced(1, report.KindRun, c.tack)}
		ring := newChain(traced(0, report.KindRun, arc(30, 0, 360)))
		if got := ring.movedAside(r); got != c.want {
			t.Errorf("%s: moved aside %t", c.name, got)
		}
		if c.want {
			if got := float64(tackEvidence(r) + ring.movedEvidence(r)); math.Abs(got-(0.4-1.5)) > 0.01 {
				t.Errorf("%s weighs %.2f", c.name, got)
			}
		}
	}
}

// As a raw edge is sewn, what shows at last is no lighter than the line under the cloth.
func TestRawEdgeUnderAHeavyLine(t *testing.T) {
	petals := func(line, tack int, again bool, radius float64) *stitchfile.Design {
		var b st.Builder
		sew := func(p st.Path, times int) {
			if times == 3 {
				b.Bean(p, 2.2, 3).TieOff().Trim()
				return
			}
			b.Run(p, 2.2).TieOff().Trim()
		}
		petal := func(i int, r float64) st.Path {
			sin, cos := math.Sincos(float64(i) * math.Pi / 3)
			return st.Circle(st.Point{X: 40 * cos, Y: 40 * sin}, radius-r)
		}
		for i := range 6 {
			sew(petal(i, 0), line)
		}
		b.Stop()
		for i := range 6 {
			sew(petal(i, 2), tack)
		}
		if again {
			b.Stop()
			for i := range 6 {
				sew(petal(i, 2.5), 3)
			}
		}
		return b.Design()
	}
	for _, c := range []struct {
		name   string
		design *stitchfile.Design
		want   int
	}{
		{"a bean line, a lighter line inside", petals(3, 1, false, 14), 0},
		{"a line, a bean line inside", petals(1, 3, false, 14), 6},
		{"a bean line, a bean line inside", petals(3, 3, false, 14), 6},
		{"a bean line, a lighter line inside, and a bean line on that", petals(3, 1, true, 14), 6},
		// The centres are 40 mm apart. Two cloths of one stop, each with its edge outside
		// its line, have no room where the lines are less than 6 mm apart.
		{"lines 7 mm apart", petals(1, 3, false, 16.5), 6},
		{"lines 5.2 mm apart", petals(1, 3, false, 17.4), 0},
	} {
		if got := len(recognised(t, c.design).Pieces); got != c.want {
			t.Errorf("%s: %d pieces, want %d", c.name, got, c.want)
		}
	}
}

// A line sewn over satin, whose own stop sews its underlay first, is a decoration: no
// cloth was to be laid between. Satin in a stop of its own after the placement line is a
// cover that comes too early.
func TestALineOverSatinHoldsNoCloth(t *testing.T) {
	outline := st.Rect(st.Point{}, 60, 40)
	sewn := func(pause bool) *stitchfile.Design {
		var b st.Builder
		b.Run(outline, 2)
		if pause {
			b.TieOff().Trim().Stop()
		}
		b.Satin(outline, st.SatinAlong{Width: 3.2, Pitch: 0.4}).TieOff().Trim().Stop()
		b.Run(outline, 2).TieOff()
		return b.Design()
	}
	for _, c := range []struct {
		pause bool
		want  int
	}{{false, 0}, {true, 1}} {
		pieces := recognised(t, sewn(c.pause)).Pieces
		if len(pieces) != c.want || c.want == 1 && !pieces[0].CoverFirst {
			t.Errorf("a pause before the satin: %v; %d pieces, want %d", c.pause, len(pieces), c.want)
		}
	}
}

// A line that the satin of its own stop lies on all along is the underlay of that satin,
// and what comes over it in later stops decorates it. A line that another piece's cover
// lies along on one side, in the same stop, marks the place of a piece.
func TestUnderlayIsNoPlacementLine(t *testing.T) {
	piece := st.Rect(st.Point{X: 50}, 40, 40)
	beside := st.Rect(st.Point{X: 90}, 40, 40)
	other := st.Rect(st.Point{X: -30}, 40, 40)
	satin := func(b *st.Builder, p st.Path, width float64) {
		b.Run(p, 2).Satin(p, st.SatinAlong{Width: width, Pitch: 0.4}).TieOff().Trim()
	}
	applique := func(b *st.Builder) {
		b.Run(piece, 2.5).TieOff().Trim().Stop()
		b.Run(piece, 2).TieOff().Trim().Stop()
	}
	var decorated, neighbours st.Builder
	applique(&decorated)
	satin(&decorated, piece, 3.5)
	decorated.Stop()
	satin(&decorated, other, 4)
	decorated.Stop()
	satin(&decorated, other, 1.9)

	applique(&neighbours)
	neighbours.Run(beside, 2.5).TieOff().Trim()
	satin(&neighbours, piece, 3.5)
	neighbours.Stop().Run(beside, 2).TieOff().Trim().Stop()
	satin(&neighbours, beside, 3.5)

	for _, c := range []struct {
		name   string
		design *stitchfile.Design
		want   int
	}{
		{"satin on satin beside a piece", decorated.Design(), 1},
		{"a line that the cover of the piece beside it lies along", neighbours.Design(), 2},
	} {
		if got := len(recognised(t, c.design).Pieces); got != c.want {
			t.Errorf("%s: %d pieces, want %d", c.name, got, c.want)
		}
	}
}
