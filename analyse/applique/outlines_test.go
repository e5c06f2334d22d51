package applique

import (
	"math"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// blockOf lays a block 120 mm square with one round piece and lets more be sewn
// with its outline, and after its cover.
func blockOf(t *testing.T, first, last func(b *st.Builder)) []StopRole {
	t.Helper()
	return recognised(t, blockDesign(first, last)).Roles
}

func recognisedBlock(t *testing.T, last func(b *st.Builder)) *Recognised {
	t.Helper()
	return recognised(t, blockDesign(nil, last))
}

func blockDesign(first, last func(b *st.Builder)) *stitchfile.Design {
	var b st.Builder
	around := func(in float64) st.Path { return st.Rect(st.Point{}, 120-2*in, 120-2*in) }
	b.Run(around(0), 2.5).TieOff()
	if first != nil {
		b.Trim()
		first(&b)
	}
	b.Stop()
	b.Run(around(0), 2.5).TieOff().Stop()
	ring := st.Circle(st.Point{}, 20)
	b.Run(ring, 2.5).TieOff().Stop()
	b.DoubleRun(ring.Offset(0.5), 2.2).TieOff().Stop()
	b.Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
	if last != nil {
		b.Stop()
		last(&b)
	}
	return b.Design()
}

func inBlock(in float64) st.Path { return st.Rect(st.Point{}, 120-2*in, 120-2*in) }

// A line after the cover goes round the block if it follows its outline, inside by
// a little at most; batting may lie a seam's width inside, where the backing hides
// it.
func TestHowFarInsideAHoldDownLies(t *testing.T) {
	for _, c := range []struct {
		name  string
		lines []float64 // mm inside the outline
		want  []string
	}{
		{"a backing 3.7 mm inside", []float64{3.7}, []string{report.RoleBackingHoldDown}},
		{"a line 4.4 mm inside", []float64{4.4}, []string{report.RoleDecoration}},
		{"batting 7.8 mm inside", []float64{7.8, -1}, []string{report.RoleBattingHoldDown, report.RoleBackingHoldDown}},
		{"a line 9.4 mm inside", []float64{9.4, -1}, []string{report.RoleDecoration, report.RoleBackingHoldDown}},
	} {
		roles := blockOf(t, nil, func(b *st.Builder) {
			for i, in := range c.lines {
				if i > 0 {
					b.Stop()
				}
				b.Run(inBlock(in), 2.5).TieOff()
			}
		})
		for i, want := range c.want {
			if got := roles[5+i].Role; got != want {
				t.Errorf("%s: stop %d is %s, want %s", c.name, 6+i, got, want)
			}
		}
	}
}

// What a stop sews besides must leave its line round the block most of the thread,
// unless nothing is sewn outside it.
func TestHowMuchOfAStopGoesRoundTheBlock(t *testing.T) {
	for _, c := range []struct {
		besides float64 // mm
		want    string
	}{{270, report.RoleClothOutline}, {390, report.RoleDecoration}} {
		roles := blockOf(t, func(b *st.Builder) {
			b.Run(st.Line(st.Point{X: -50, Y: 40}, st.Point{X: -50 + c.besides/4, Y: 40}), 2.5).Trim()
			b.Run(st.Line(st.Point{X: -50, Y: 45}, st.Point{X: -50 + c.besides/4, Y: 45}), 2.5).Trim()
			b.Run(st.Line(st.Point{X: -50, Y: -40}, st.Point{X: -50 + c.besides/4, Y: -40}), 2.5).Trim()
			b.Run(st.Line(st.Point{X: -50, Y: -45}, st.Point{X: -50 + c.besides/4, Y: -45}), 2.5)
		}, nil)
		if got := roles[0].Role; got != c.want {
			t.Errorf("an outline with %.0f mm of other lines is %s, want %s", c.besides, got, c.want)
		}
	}
	for _, c := range []struct {
		in   float64
		want bool
	}{{0.9, true}, {1.2, false}} {
		roles := blockOf(t, nil, func(b *st.Builder) {
			b.Run(inBlock(c.in), 2.5).TieOff().Trim()
			for i := range 6 {
				y := -50 + 20*float64(i)
				b.Run(st.Line(st.Point{X: -55, Y: y}, st.Point{X: 55, Y: y}), 2.5).Trim()
			}
		})
		is := func(role string) bool {
			return roles[5].Role == role || slices.ContainsFunc(roles[5].Parts, func(p report.Part) bool { return p.Role == role })
		}
		if got := is(report.RoleBackingHoldDown) || is(report.RoleBattingHoldDown); got != c.want {
			t.Errorf("a line %.2f mm inside all that is sewn, with much else in its stop, holds something: %v", c.in, got)
		}
	}
}

func TestWhatReachesRoundTheBlock(t *testing.T) {
	for _, c := range []struct {
		in   float64
		want bool
	}{{11, true}, {13.2, false}} {
		p := &finder{all: geom.Box{Lo: mm(-60, -60), Hi: mm(60, 60)}}
		half := 60 - c.in
		line := traced(6, report.KindRun, []geom.Point{mm(-half, -half), mm(half, -half), mm(half, half), mm(-half, half), mm(-half, -half)})
		if got := blockLine(p, nil, []*Trace{line}) != nil; got != c.want {
			t.Errorf("a line %.1f mm inside all that is sewn is the block's: %v", c.in, got)
		}
	}
}

// A block is turned through a gap in its last seam.
func TestGapToTurnThrough(t *testing.T) {
	block := traced(0, report.KindRun, dense(points4(100)...))
	// seam goes round half a mm inside, from so many mm after the beginning of the
	// outline, and strays from it over 30 mm of one side.
	seam := func(gap, strays float64) *Trace {
		side := 99.0
		line := []geom.Point{mm(-49.5+gap, -49.5)}
		if gap > side {
			line = []geom.Point{mm(49.5, -49.5+gap-side)}
		} else {
			line = append(line, mm(49.5, -49.5))
		}
		line = append(line, mm(49.5, 49.5))
		if strays > 0 {
			line = append(line, mm(15, 49.5), mm(14.9, 50-strays), mm(-14.9, 50-strays), mm(-15, 49.5))
		}
		return traced(6, report.KindRun, dense(append(line, mm(-49.5, 49.5), mm(-49.5, -49.5))...))
	}
	for _, c := range []struct {
		name string
		line *Trace
		want bool
	}{
		{"a gap of 22 mm", seam(22, 0), true},
		{"a gap of 17.5 mm", seam(17.5, 0), false},
		{"a gap of 0.32 of the way round", seam(0.32*400, 0), true},
		{"a gap of 0.38 of the way round", seam(0.38*400, 0), false},
		{"a seam that strays by 3.2 mm", seam(0, 3.2), false},
		{"a seam that strays by 4.1 mm", seam(0, 4.1), true},
	} {
		if got := gapOf(block, c.line); (got > 0) != c.want {
			t.Errorf("%s: %.1f mm to turn through", c.name, got)
		}
	}
}

// dense is the line through points, with one every 2 mm or so, as it is sewn.
func dense(through ...geom.Point) []geom.Point {
	out := through[:1:1]
	for i := 1; i < len(through); i++ {
		n := max(1, int(geom.Distance(through[i-1], through[i])/2))
		for k := 1; k <= n; k++ {
			out = append(out, geom.Lerp(through[i-1], through[i], float64(k)/float64(n)))
		}
	}
	return out
}

func points4(side float64) []geom.Point {
	h := side / 2
	return []geom.Point{mm(-h, -h), mm(h, -h), mm(h, h), mm(-h, h), mm(-h, -h)}
}

// The satin edge of a badge reaches a little past its last line.
func TestEdgeOfABadge(t *testing.T) {
	for _, c := range []struct {
		width float64
		want  string
	}{{10, report.RoleBackingHoldDown}, {12.6, report.RoleEdgeRun}} {
		var b st.Builder
		ring := st.Circle(st.Point{}, 40)
		b.Run(ring, 2.5).TieOff().Stop()
		b.Run(ring.Offset(0.4), 2.5).TieOff().Stop()
		b.Fill(st.Rect(st.Point{}, 20, 12), 0.45, 3, 0).TieOff().Stop()
		b.Run(ring.Offset(0.6), 2.5).TieOff().Stop()
		b.Satin(ring, st.SatinAlong{Width: c.width, Pitch: 0.5}).TieOff()
		if got := recognised(t, b.Design()).Roles[3].Role; got != c.want {
			t.Errorf("a badge whose edge is %.1f mm wide: its last line is %s, want %s", c.width, got, c.want)
		}
	}
}

// A line that runs along satin is an edge run.
func TestLineBesideSatin(t *testing.T) {
	roleOf := func(line st.Path) string {
		var b st.Builder
		ring := st.Circle(st.Point{}, 40)
		b.Run(ring, 2.5).TieOff().Stop()
		b.DoubleRun(ring.Offset(0.5), 2.2).TieOff().Stop()
		b.Satin(ring, st.SatinAlong{Width: 6, Pitch: 0.4}).TieOff().Stop()
		b.Bean(line, 2.5, 3).TieOff()
		return recognised(t, b.Design()).Roles[3].Role
	}
	along := func(share float64) st.Path {
		// Along the satin, then away from it.
		p := st.Arc(st.Point{}, 44, 0, 2)
		rest := p.Length() * (1 - share) / share
		sin, cos := math.Sincos(2)
		return append(p, st.Point{X: (44 + rest/2) * cos, Y: (44 + rest/2) * sin}, st.Point{X: (44 + rest) * cos, Y: (44 + rest) * sin})
	}
	for _, c := range []struct {
		name string
		line st.Path
		want bool
	}{
		{"1.4 mm beside", st.Arc(st.Point{}, 44.4, 0, 3), true},
		{"1.85 mm beside", st.Arc(st.Point{}, 44.85, 0, 3), false},
		{"0.86 of it beside", along(0.86), true},
		{"0.74 of it beside", along(0.74), false},
	} {
		if got := roleOf(c.line); (got == report.RoleEdgeRun) != c.want {
			t.Errorf("a line %s is %s", c.name, got)
		}
	}
}

// A gap between dashes may lie at a corner; one much wider leads to another line.
func TestGapsOfDashesAreEven(t *testing.T) {
	for _, c := range []struct {
		gap  float64
		want int
	}{{7.3, 1}, {8.1, 2}} { // the others are 2.5 mm, the dashes 6
		in := dashes(5, 6, 2.5)
		for _, d := range dashes(5, 6, 2.5) {
			var line []geom.Point
			for _, q := range d.Line {
				line = append(line, mm(40+q.Y, c.gap+q.X)) // round a corner
			}
			in = append(in, *traced(0, report.KindRun, line))
		}
		if n := len(joinDashes(in)); n != c.want {
			t.Errorf("dashes with a gap of %.2f mm make %d lines, want %d", c.gap, n, c.want)
		}
	}
}

// What goes along a piece once more is told with less certainty than the piece.
func TestLineThatGoesAlongAgain(t *testing.T) {
	var b st.Builder
	rings := []st.Path{st.Circle(st.Point{X: -100}, 25), st.Circle(st.Point{}, 40)}
	for i, ring := range rings {
		b.Run(ring, 2.5).TieOff().Stop()
		b.DoubleRun(ring.Offset(0.5), 2.2).TieOff().Stop()
		if i == 1 {
			b.Run(ring.Offset(1.2), 2.5).TieOff().Stop()
		}
		b.Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Stop()
	}
	roles := recognised(t, b.Design()).Roles
	if c := roles[5].Confidence; c < 0.65 || c > 0.85 || c >= roles[4].Confidence {
		t.Errorf("%s with confidence %.2f, the tack-down with %.2f", roles[5].Role, c, roles[4].Confidence)
	}
}

// Embroidery on a piece lets its trim wait; a few stitches do not.
func TestEmbroideryOnAPiece(t *testing.T) {
	for _, c := range []struct {
		holes int
		want  bool
	}{{17, false}, {23, true}} {
		var b st.Builder
		ring := st.Circle(st.Point{}, 40)
		b.Run(ring, 2.5).TieOff().Stop()
		b.DoubleRun(ring.Offset(0.5), 2.2).TieOff().Stop()
		b.Run(st.Line(st.Point{X: -20}, st.Point{X: -20 + 1.5*float64(c.holes-1)}), 1.5).Stop()
		b.Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
		waits := slices.ContainsFunc(recognised(t, b.Design()).Rehearsal.Steps, func(s HandStep) bool {
			return s.Kind == report.StepTrim && s.Manner == MayWait
		})
		if waits != c.want {
			t.Errorf("%d needle holes on a piece: its trim may wait: %v", c.holes, waits)
		}
	}
}

// What is sewn inside a piece's line in the stop that tacks it down would be buried
// under the cloth: a figure is, and a line that passes over it is not.
func TestStitchingThatClothWouldBury(t *testing.T) {
	line := func(x, y, length float64) st.Path {
		return st.Line(st.Point{X: x, Y: y}, st.Point{X: x + length, Y: y})
	}
	satin := func(length float64) func(b *st.Builder) {
		return func(b *st.Builder) { b.Satin(line(-5, 1, length), st.SatinAlong{Width: 3, Pitch: 0.4}).TieOff().Trim() }
	}
	for _, c := range []struct {
		name   string
		before func(b *st.Builder)
		want   bool
	}{
		{"satin of 9 mm", satin(9), false},
		{"satin of 11.6 mm", satin(11.6), true},
		{"a figure", func(b *st.Builder) { b.Run(st.Circle(st.Point{}, 8), 2).TieOff().Trim() }, true},
		{"a lead from the middle", func(b *st.Builder) { b.Run(line(0, 0, 39), 2.5) }, false},
		{"a lead across the piece", func(b *st.Builder) { b.Run(line(-45, 0, 84), 2.5) }, false},
		{"a lead in a bean line", func(b *st.Builder) { b.Bean(line(-45, 0, 84), 2.5, 3) }, false},
		{"a bean line that is cut off", func(b *st.Builder) { b.Bean(line(-30, 0, 60), 2.5, 3).TieOff().Trim() }, true},
		{"lines that hold the cloth across", func(b *st.Builder) {
			b.Run(line(-38, 2, 76), 3).Trim().Run(st.Line(st.Point{Y: -38}, st.Point{Y: 38}), 3).Trim()
		}, false},
	} {
		var b st.Builder
		ring := st.Circle(st.Point{}, 40)
		b.Run(ring, 2.5).TieOff().Stop()
		c.before(&b)
		b.DoubleRun(ring.Offset(0.5), 2.2).TieOff().Stop()
		b.Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
		if got := len(recognised(t, b.Design()).Rehearsal.Missing) > 0; got != c.want {
			t.Errorf("%s sewn inside before the tack-down: a pause is missing: %v", c.name, got)
		}
	}
}
