package rules

import (
	"context"
	"math"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// The tests of this file hold the figures of rules from both sides: what lies just within
// one and what lies just beyond, written out, so that one which moves by a fifth is noticed.

// measured is a pass over a design at a scale, under the usual settings.
func measured(t *testing.T, d *stitchfile.Design, scale float64) *measure.Pass {
	t.Helper()
	rec, err := applique.Recognise(context.Background(), d)
	if err != nil {
		t.Fatal(err)
	}
	p, err := measure.NewPass(context.Background(), rec, report.DefaultSettings(), scale)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// says is what a rule finds in a design.
func says(t *testing.T, r Rule, d *stitchfile.Design, scale float64) []report.Finding {
	t.Helper()
	out, err := r.Findings(measured(t, d, scale))
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// bar is a satin column of a length, a width and a pitch.
func bar(length, width, pitch float64) *stitchfile.Design {
	return new(st.Builder).Satin(st.Line(st.Point{}, st.Point{X: length}), st.SatinAlong{Width: width, Pitch: pitch}).Design()
}

func TestWhichColumnsAreJudged(t *testing.T) {
	for _, c := range []struct {
		name   string
		design *stitchfile.Design
		rule   Rule
		want   int
	}{
		{"4.6 mm of open satin", bar(4.6, 4, 0.6), ThinCoverRule, 0},
		{"5.5 mm of open satin", bar(5.5, 4, 0.6), ThinCoverRule, 1},
		{"6 mm of satin so open that it has 11 crossings", bar(5.5, 4, 1.1), ThinCoverRule, 0},
		{"7 mm of it, with 13", bar(6.6, 4, 1.1), ThinCoverRule, 1},
	} {
		if got := says(t, c.rule, c.design, 1); len(got) != c.want {
			p := measured(t, c.design, 1)
			p.Do(measure.Columns)
			t.Errorf("%s: %d findings, want %d %+v", c.name, len(got), c.want, p.Report.SatinColumns)
		}
	}
}

// Where a column is crossed no more for some millimetres, its parts are figures of their
// own, however short.
func TestColumnThatLeaps(t *testing.T) {
	for _, c := range []struct {
		leap, scale float64
		want        bool
	}{{2.5, 1, true}, {3.5, 1, false}, {2.5, 2, true}, {3.5, 0.5, false}} {
		column := report.SatinColumn{Crossings: 20, LengthMM: c.scale * (4 + c.leap)}
		for _, x := range []float64{0, 1, 2, 3, 4, 4 + c.leap} {
			column.Centre = append(column.Centre, geom.Point{X: c.scale * x})
		}
		if got := JudgesCover(&column, c.scale); got != c.want {
			t.Errorf("4 mm of satin and a stitch %.1f mm on, at %.1f: judged: %v", c.leap, c.scale, got)
		}
	}
}

// covered is a piece of applique under satin of a pitch.
func covered(pitch float64) *stitchfile.Design {
	ring := st.Circle(st.Point{}, 25)
	b := new(st.Builder).Run(ring, 2.5).TieOff().Stop().DoubleRun(ring.Offset(0.5), 2.2).TieOff().Stop()
	return b.Satin(ring, st.SatinAlong{Width: 4, Pitch: pitch}).TieOff().Design()
}

func TestHowThinACoverIsAFault(t *testing.T) {
	for _, c := range []struct {
		pitch float64
		want  report.Severity
	}{{0.64, report.Caution}, {0.68, report.Fault}} { // 71.4 and 68.6 % under thread, where 85 are needed
		f := says(t, ThinCoverRule, covered(c.pitch), 1)
		if len(f) != 1 || f[0].Severity != c.want {
			t.Errorf("a cover whose stitches lie %.2f mm apart: %+v, want a %s", c.pitch, f, c.want)
		}
	}
}

func TestHowDenseIsAFault(t *testing.T) {
	for _, c := range []struct {
		is   float64
		want report.Severity
	}{{4.6, report.Caution}, {6.6, report.Caution}, {6.9, report.Fault}} {
		f := dense(4.5, c.is, geom.Place{}, nil, "holes/mm2", "")
		if len(f) != 1 || f[0].Severity != c.want {
			t.Errorf("%.1f holes: %+v, want a %s", c.is, f, c.want)
		}
	}
}

// necked is a satin column of 40 mm, 2 mm wide, but so wide along a part.
func necked(width, along, pitch float64) *stitchfile.Design {
	rail := func(side float64) st.Path {
		return st.Path{{X: 0, Y: side}, {X: 20 - along/2, Y: side}, {X: 20 - along/2 + 0.01, Y: side * width / 2}, {X: 20 + along/2 - 0.01, Y: side * width / 2}, {X: 20 + along/2, Y: side}, {X: 40, Y: side}}
	}
	return new(st.Builder).Rails(rail(1), rail(-1), pitch, 0).Design()
}

// A neck of 3.6 mm is narrow along 3 mm: at its ends widths are averaged.
func TestNarrowOver(t *testing.T) {
	for _, c := range []struct {
		along float64
		want  int
	}{{3.5, 0}, {3.7, 1}} {
		if f := says(t, NarrowSatinRule, necked(0.6, c.along, 0.3), 1); len(f) != c.want {
			t.Errorf("a neck of %.1f mm: %d findings, want %d", c.along, len(f), c.want)
		}
	}
}

// sewnLengths is a line of stitches of these lengths in mm, one after another.
func sewnLengths(lengths ...float64) *stitchfile.Design {
	b := new(st.Builder).StitchTo(st.Point{})
	x := 0.0
	for _, l := range lengths {
		x += l
		b.StitchTo(st.Point{X: x})
	}
	return b.Design()
}

// times is a length so many times.
func times(n int, length float64) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = length
	}
	return out
}

func TestShortStitches(t *testing.T) {
	apart := func(n int, short, beside float64) []float64 { // short ones each between two others
		var out []float64
		for range n {
			out = append(out, beside, beside, short, beside)
		}
		return out
	}
	for _, c := range []struct {
		name    string
		lengths []float64
		want    int
	}{
		{"eight short stitches", slices.Concat(times(100, 2.5), apart(8, 0.2, 0.8)), 0},
		{"nine", slices.Concat(times(100, 2.5), apart(9, 0.2, 0.8)), 1},
		{"eleven in a row among many", slices.Concat(times(400, 2.5), times(11, 0.2), times(400, 2.5)), 0},
		{"thirteen in a row", slices.Concat(times(400, 2.5), times(13, 0.2), times(400, 2.5)), 1},
		{"of 0.4 mm beside stitches of 1.1 mm", apart(30, 0.4, 1.1), 0},
		{"of 0.4 mm beside stitches of 0.9 mm", apart(30, 0.4, 0.9), 1},
	} {
		if f := says(t, ShortStitchRule, sewnLengths(c.lengths...), 1); len(f) != c.want {
			t.Errorf("%s: %+v, want %d", c.name, f, c.want)
		}
	}
}

// A needle that comes back to its hole, but for what a smaller size leaves of 0.1 mm, knots
// nothing.
func TestSameHole(t *testing.T) {
	b := new(st.Builder)
	for i := range 60 {
		b.StitchTo(st.Point{X: 2*float64(i/2) + 0.1*float64(i%2)})
	}
	d := b.Design()
	for _, c := range []struct {
		scale float64
		want  int
	}{{0.45, 0}, {0.56, 1}} { // 0.045 and 0.056 mm
		if f := says(t, ShortStitchRule, d, c.scale); len(f) != c.want {
			t.Errorf("moves of 0.1 mm at %.2f: %+v, want %d", c.scale, f, c.want)
		}
	}
}

// No enlarging makes long what is short on the design as it is.
func TestLeastLong(t *testing.T) {
	for _, c := range []struct {
		length, scale float64
		want          int
	}{{3.8, 2.6, 0}, {4.3, 2.6, 1}, {8.8, 1, 0}, {9.3, 1, 1}} {
		if f := says(t, LongStitchRule, sewnLengths(times(30, c.length)...), c.scale); len(f) != c.want {
			t.Errorf("stitches of %.1f mm at %.1f: %+v, want %d", c.length, c.scale, f, c.want)
		}
	}
}

// A cover that lies outside its tack-down along a tenth of the edge is a fault in the
// design; less is a corner.
func TestTackDownInSightShare(t *testing.T) {
	for _, c := range []struct{ percent, want int }{{9, 0}, {11, 1}} {
		piece := report.Piece{Number: 1, CoverStop: 3, TackDownStop: 2, Finish: report.FinishSatin}
		for i := range 100 {
			inner := 1.5
			if i < c.percent {
				inner = -0.5
			}
			x := float64(i)
			piece.Edge = append(piece.Edge, report.EdgeSample{From: geom.Point{X: x}, To: geom.Point{X: x + 1}, At: geom.Point{X: x + 0.5}, Outer: 2, Inner: inner})
		}
		s := report.DefaultSettings()
		p := &Pass{&measure.Pass{Settings: s, Report: &report.Report{Settings: &s, Pieces: []report.Piece{piece}}}, &InSightRule}
		if f := inSight(p); len(f) != c.want {
			t.Errorf("the tack-down is in sight along %d %%: %+v, want %d", c.percent, f, c.want)
		}
	}
}

// Where two covers cross, what is past the limit reaches no further than they do, and
// both lie over the spot.
func TestWhereCoversCross(t *testing.T) {
	b := new(st.Builder)
	for i, x := range []float64{-21, 21} {
		if i > 0 {
			b.Stop()
		}
		ring := st.Circle(st.Point{X: x}, 30)
		b.Run(ring, 2.5).TieOff().Stop().DoubleRun(ring.Offset(0.5), 2).TieOff().Stop()
		b.Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
	}
	m := measured(t, b.Design(), 1)
	if err := m.Do(measure.DensityGrid); err != nil {
		t.Fatal(err)
	}
	p := &Pass{m, &StackedRule}
	y := math.Sqrt(30*30 - 21*21)
	const crossed = "the covers of two pieces cross"
	for _, c := range []struct {
		across, most float64
		how          string
	}{{9, crossingMost, crossed}, {11, 1, ""}} {
		g := &report.Grid{CellMM: 1, X: -c.across/2 - 0.5, Y: y - 0.5, NX: int(c.across) + 1, NY: 1}
		v := make([]float32, g.NX)
		for x := range v {
			v[x] = 5 - float32(math.Abs(float64(x)-c.across/2))/100
		}
		places := placesPast(g, v, 4.4)
		if len(places) != 1 {
			t.Fatalf("cells side by side: %d places", len(places))
		}
		if l := lapping(p, &places[0]); l.how != c.how || l.most != c.most {
			t.Errorf("what is past the limit is %.0f mm across: %+v", c.across, l)
		}
	}
	// Outside the one ring, on the other: two lie over the spot, and further out one, where other thread lies too.
	for _, c := range []struct {
		off float64
		how string
	}{{1.35, crossed}, {1.7, ""}} {
		at := geom.Place{}
		for turn := 0.0; turn < math.Pi; turn += 0.001 { // where the other lies so far off the first
			sin, cos := math.Sincos(turn)
			q := geom.Point{X: 21 + 30*cos, Y: 30 * sin}
			if off := geom.Distance(q, geom.Point{X: -21}) - 32; math.Abs(off-c.off) < 0.03 {
				at = q.Place()
			}
		}
		s := gridPlace{value: 5, at: geom.Point{X: at[0], Y: at[1]}}
		if l := lapping(p, &s); l.how != c.how || at == (geom.Place{}) {
			t.Errorf("%.2f mm off the one cover, at %v: %+v", c.off, at, l)
		}
	}
}

// A cover laps itself on a spot, and no further.
func TestWhereACoverLaps(t *testing.T) {
	ring := st.Circle(st.Point{}, 30)
	d := new(st.Builder).Run(ring, 2.5).TieOff().Stop().DoubleRun(ring.Offset(0.5), 2).TieOff().Stop().
		Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Design()
	m := measured(t, d, 1)
	if err := m.Do(measure.DensityGrid); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		across float64
		want   lap
	}{{5.8, lap{"the cover of a piece laps itself", lapMost, true}}, {6.2, lap{most: 1}}} {
		if got := lapping(&Pass{m, &StackedRule}, &gridPlace{value: 5, at: geom.Point{X: 30}, across: c.across}); got != c.want {
			t.Errorf("%.1f mm across: %+v, want %+v", c.across, got, c.want)
		}
	}
}

// A tack-down that strays is told where it does so along a stretch.
func TestStrayOver(t *testing.T) {
	for _, c := range []struct {
		along float64 // 3 mm outside; its ends are cut off by the stitches that lead there
		want  int
	}{{7.25, 0}, {8, 1}} {
		ring := st.Circle(st.Point{}, 30)
		tack := slices.Clone(ring)
		for i, q := range tack {
			if a := math.Atan2(q.Y, q.X); math.Abs(a)*33 < c.along/2 {
				tack[i] = st.Point{X: q.X * 33 / 30, Y: q.Y * 33 / 30}
			}
		}
		b := new(st.Builder).Run(ring, 2.5).TieOff().Stop().DoubleRun(tack, 2.2).TieOff().Stop()
		if f := says(t, AstrayRule, b.Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Design(), 1); len(f) != c.want {
			t.Errorf("a tack-down that strays along %.2f mm: %d findings, want %d", c.along, len(f), c.want)
		}
	}
}

// Two figures that are off alike are looked at, one is not.
func TestStretchedByItself(t *testing.T) {
	for _, c := range []struct {
		name string
		s    measure.Spacing
		want bool
	}{
		{"satin and runs 1.3 times the usual", measure.Spacing{SatinPitchMM: 0.52, RunStitchMM: 3.2}, true},
		{"satin alone", measure.Spacing{SatinPitchMM: 0.52}, false},
	} {
		if got := mayBeStretched(&c.s, 0); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}
