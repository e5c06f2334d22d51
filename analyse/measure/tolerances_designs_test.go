package measure

import (
	"context"
	"math"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// passOver begins to measure a design under the usual settings.
func passOver(t *testing.T, d *stitchfile.Design, steps ...*Step) *Pass {
	t.Helper()
	rec, err := applique.Recognise(context.Background(), d)
	if err != nil {
		t.Fatal(err)
	}
	p, err := NewPass(context.Background(), rec, report.DefaultSettings(), 1)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range steps {
		if err := p.Do(s); err != nil {
			t.Fatal(err)
		}
	}
	return p
}

// A line says where a seam is left open for turning if it is open by more than its ends
// leave.
func TestOpeningToTurnThrough(t *testing.T) {
	for _, c := range []struct {
		opening float64
		want    int
	}{{9, -1}, {11.5, 1}} {
		half := c.opening / 2
		line := []geom.Point{{X: 50, Y: half}, {X: 50, Y: 50}, {X: -50, Y: 50}, {X: -50, Y: -50}, {X: 50, Y: -50}, {X: 50, Y: -half}}
		tr := &applique.Trace{Line: line, Opening: c.opening}
		if got := gapSide(tr, geom.BoxOf(line)); got != c.want {
			t.Errorf("a line open by %.1f mm on its right: side %d, want %d", c.opening, got, c.want)
		}
	}
}

// What crowds a place is told with the stops that make a good share of it.
func TestStopsThatCrowdAPlace(t *testing.T) {
	for _, c := range []struct {
		few  int // needle points of the second stop; the first has 85
		want []int
	}{{13, []int{1}}, {17, []int{1, 2}}} {
		b := new(st.Builder)
		for i := range 85 {
			b.StitchTo(st.Point{X: 0.1 * float64(i%20), Y: 0.3 * float64(i/20)})
		}
		b.Stop()
		for i := range c.few {
			b.StitchTo(st.Point{X: 0.1 * float64(i), Y: 0.5})
		}
		p := passOver(t, b.Design(), Sizes)
		if got := stopsAround(p, geom.Point{}, 5, func(int) float64 { return 1 }); !slices.Equal(got, c.want) {
			t.Errorf("%d holes beside 85: stops %v, want %v", c.few, got, c.want)
		}
	}
}

// Spacing is told of so much stitching that it says something.
func TestLeastOfASpacing(t *testing.T) {
	bar := func(length float64) *stitchfile.Design {
		return new(st.Builder).Satin(st.Line(st.Point{}, st.Point{X: length}), st.SatinAlong{Width: 4, Pitch: 0.4}).Design()
	}
	run := func(n int) *stitchfile.Design {
		return new(st.Builder).Run(st.Arc(st.Point{}, 40, 0, 2.5*float64(n)/40), 2.5).Design()
	}
	fill := func(side float64) *stitchfile.Design {
		return new(st.Builder).Fill(st.Rect(st.Point{}, side, side), 0.4, 3, 0).Design()
	}
	rows := func(spacing float64) *stitchfile.Design {
		return new(st.Builder).Fill(st.Rect(st.Point{}, 30, 30), spacing, 3, 0).Design()
	}
	satin := func(s *Spacing) float64 { return s.SatinPitchMM }
	runs := func(s *Spacing) float64 { return s.RunStitchMM }
	fills := func(s *Spacing) float64 { return s.FillSpacingMM }
	for _, c := range []struct {
		name   string
		design *stitchfile.Design
		figure func(*Spacing) float64
		want   float64
	}{
		{"13.5 mm of satin", bar(13.5), satin, 0},
		{"17 mm of satin", bar(17), satin, 0.4},
		{"27 stitches of a run", run(27), runs, 0},
		{"34 stitches of a run", run(34), runs, 2.5},
		{"a fill of 8 mm", fill(8), fills, 0},
		{"a fill of 8.5 mm", fill(8.5), fills, 0.4},
		{"rows 0.9 mm apart", rows(0.9), fills, 0.9},
		{"rows 1.15 mm apart", rows(1.15), fills, 0},
	} {
		p := passOver(t, c.design, Sizes, Columns)
		s := SpacingOf(p.Sewn, p.Report, EnoughFill)
		if got := c.figure(&s); math.Abs(got-c.want) > 0.06*c.want {
			t.Errorf("%s: %.3f mm, want %.3f", c.name, got, c.want)
		}
	}
}

// The outside of a zigzag are its outer needle points (the first of which has no way yet), and those that lie a third of its
// width in; what goes to and fro by less than a short stitch is a line.
func TestOutsideOfAZigzag(t *testing.T) {
	zigzag := func(height, one float64) []geom.Point { // one of the outer points lies elsewhere
		var out []geom.Point
		for i := range 41 {
			y := height / 2
			if i%2 == 1 {
				y = -y
			}
			if i == 20 {
				y = one
			}
			out = append(out, geom.Point{X: float64(i), Y: y})
		}
		return out
	}
	tr := &applique.Trace{Line: []geom.Point{{X: -5}, {X: 20}, {X: 45}}}
	for _, c := range []struct {
		name        string
		height, one float64
		want        int
	}{
		{"one point 31 % in", 3, -0.36, 20},
		{"one point 40 % in", 3, -0.9, 19},
		{"0.44 mm to and fro", 0.44, 0.22, 20},
		{"0.36 mm to and fro", 0.36, 0.18, 41},
	} {
		if got := len(outerRail(tr, zigzag(c.height, c.one), 1)); got != c.want {
			t.Errorf("%s: %d outer points, want %d", c.name, got, c.want)
		}
	}
}

// A stitch longer than any machine sews is a damaged file, and covers nothing.
func TestLongestThatCovers(t *testing.T) {
	for _, c := range []struct {
		length float64
		want   bool
	}{{46, true}, {55, false}} {
		b := new(st.Builder).Run(st.Line(st.Point{}, st.Point{X: 10}), 2.5).Stop()
		p := passOver(t, b.StitchTo(st.Point{}).StitchTo(st.Point{X: c.length}).Design())
		pts := p.Sewn.Track.Pts
		a, z := pts[len(pts)-2], pts[len(pts)-1]
		cells := []edgeCell{{from: geom.Lerp(a, z, 0.5), along: geom.Point{X: 1}, away: geom.Point{Y: 1}, length: cellMM}}
		p.room = new(edgeRoom)
		p.hide([]cutRing{{part: &applique.Piece{Tack: &applique.Trace{Stop: 0}}, allow: 1}}, cells)
		if got := cells[0].hidden[0] != 0; got != c.want {
			t.Errorf("a stitch of %.0f mm along the edge hides it: %v", c.length, got)
		}
	}
}

// Any thread will do for a placement line, but not where satin beside it is seen.
func TestLinesThatAreSeen(t *testing.T) {
	for _, c := range []struct {
		satin float64 // mm of it
		want  bool
	}{{2, true}, {2.4, false}} { // 9 and 11 % of the stop's thread
		p := passOver(t, new(st.Builder).Run(st.Circle(st.Point{}, 30), 2.5).Trim().
			Satin(st.Line(st.Point{X: -5}, st.Point{X: -5 + c.satin}), st.SatinAlong{Width: 2, Pitch: 0.4}).Design(), Sizes, Columns, Pieces, Roles)
		s := &p.Report.Stops[0]
		s.Role, s.Parts = report.RolePlacementLine, nil
		if got := p.anyThread(0); got != c.want {
			t.Errorf("a line with %.1f mm of satin: any thread will do: %v", c.satin, got)
		}
	}
}
