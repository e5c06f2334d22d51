package rules

import (
	"math"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

func TestDrawnInFigures(t *testing.T) {
	const batting, backing = report.RoleBattingHoldDown, report.RoleBackingHoldDown
	for _, c := range []struct {
		name        string
		role        string
		least, most float64 // mm that the line lies inside the first, on its sides
		sewn        float64 // m of satin between the two
		want        int
	}{
		{"0.13 mm inside on one side", batting, -0.5, 0.13, 1, 0},
		{"0.17 mm inside on one side", batting, -0.5, 0.17, 1, 1},
		{"2 mm inside after 0.18 m of satin", backing, -0.5, 2, 0.18, 0},
		{"2 mm inside after 0.22 m of satin", backing, -0.5, 2, 0.22, 1},
		{"batting 2.2 mm inside all round", batting, 2.2, 2.2, 1, 0},
		{"batting 1.8 mm inside all round", batting, 1.8, 1.8, 1, 1},
		{"batting 3 to 3.9 mm inside", batting, 3, 3.9, 1, 0},
		{"batting 3 to 4.1 mm inside", batting, 3, 4.1, 1, 1},
		{"a last seam 3 to 3.9 mm inside", backing, 3, 3.9, 1, 0},
		{"a last seam 3 to 4.1 mm inside", backing, 3, 4.1, 1, 1},
	} {
		s := report.DefaultSettings()
		r := &report.Report{Settings: &s, Stops: []report.Stop{{Number: 1}, {Number: 2}, {Number: 3, Role: c.role}},
			Passages:        []report.Passage{{Stop: 2, Kind: report.KindSatin, LengthMM: 1000 * c.sewn}},
			HoldDownOffsets: []report.HoldDownOffset{{OutlineStop: 1, Stop: 3, Left: -c.least, Right: -c.most, Bottom: -c.least, Top: -c.least}}}
		if f := drawnIn(&Pass{&measure.Pass{Settings: s, Report: r}, &DrawnInRule}); len(f) != c.want {
			t.Errorf("%s: %+v, want %d", c.name, f, c.want)
		}
	}
}

// Of a long stitch a third of the limit must lie free of what is sewn later, which holds
// what lies near it too.
func TestHeldLongStitch(t *testing.T) {
	held := func(free, beside float64) *stitchfile.Design { // along 12 mm but for so much, by a line so far beside
		b := new(st.Builder).StitchTo(st.Point{}).StitchTo(st.Point{X: 12}).StitchTo(st.Point{X: 12, Y: 3}).Stop()
		return b.Run(st.Line(st.Point{X: -0.5, Y: beside}, st.Point{X: 12 - free, Y: beside}), 1).Design()
	}
	for _, c := range []struct {
		name         string
		free, beside float64
		scale        float64
		want         int
	}{
		{"3.1 mm free", 3.1, 0, 1, 0},
		{"3.6 mm free", 3.6, 0, 1, 1},
		{"a line 0.34 mm beside it", 0, 0.4, 0.85, 0},
		{"a line 0.38 mm beside it", 0, 0.4, 0.95, 1},
	} {
		f := slices.DeleteFunc(says(t, LongStitchRule, held(c.free, c.beside), c.scale), func(f report.Finding) bool { return f.Stop != 1 })
		if len(f) != c.want {
			t.Errorf("%s: %+v, want %d", c.name, f, c.want)
		}
	}
}

// What a stop sews near an opening holds the cloth there.
func TestSewnAcrossAnOpening(t *testing.T) {
	for _, off := range []float64{0.5, 1.35, 1.7, 2.5, 4} {
		line := st.Arc(st.Point{}, 30, 0.1, 2*math.Pi-0.1) // open by 6 mm
		b := new(st.Builder).Run(line, 2).Trim()
		x := line[0].X + off
		b.Run(st.Line(st.Point{X: x, Y: -6}, st.Point{X: x, Y: 6}), 2)
		p := &Pass{measured(t, b.Design(), 1), &OpenOutlineRule}
		open := &p.Recognised.Traces[0]
		got := freeAcross(p, open, open.Line[0], open.Line[len(open.Line)-1])
		if want := min(2*off, open.Opening); math.Abs(got-want) > 0.15 {
			t.Errorf("a line %.2f mm outside an opening of %.2f mm: %.2f mm free, want %.2f", off, open.Opening, got, want)
		}
	}
}

// An opening of a tack-down is an alarm past its limit and a note from two thirds of it; that
// of a placement line, which holds nothing, is a note.
func TestHowGraveAnOpening(t *testing.T) {
	const r = 30.0
	ring := st.Circle(st.Point{}, r)
	open := func(by float64) st.Path { return st.Arc(st.Point{}, r, by/2/r, 2*math.Pi-by/2/r) }
	for _, c := range []struct {
		name       string
		line, tack st.Path
		want       report.Severity
		stop       int
	}{
		{"closed", ring, ring, "", 0},
		{"tack-down open by 2.4 mm", ring, open(2.4), report.Note, 2},
		{"tack-down open by 2.9 mm", ring, open(2.9), report.Note, 2},
		{"tack-down open by 3.2 mm", ring, open(3.2), report.Caution, 2},
		{"tack-down open by 8 mm", ring, open(8), report.Caution, 2},
		{"line open by 8 mm", open(8), ring, report.Note, 1},
		{"both open by 8 mm", open(8), open(8), report.Caution, 2},
	} {
		b := new(st.Builder).Run(c.line, 2.5).Stop().Run(c.tack, 2.2).Stop()
		f := says(t, OpenOutlineRule, b.Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Design(), 1)
		switch {
		case c.want == "" && len(f) > 0:
			t.Errorf("%s: %+v", c.name, f)
		case c.want != "" && (len(f) != 1 || f[0].Severity != c.want || f[0].Stop != c.stop):
			t.Errorf("%s: %+v, want a %s of stop %d", c.name, f, c.want, c.stop)
		}
	}
}

// A tack-down that lies far inside its line all round is told by how far it does; where it
// lies farther still, there is no line of its own.
func TestFarInsideIsAstray(t *testing.T) {
	for _, dent := range []float64{0, 1.6} {
		line, tack := st.Circle(st.Point{}, 30), slices.Clone(st.Circle(st.Point{}, 25.8))
		for i, q := range tack {
			if a := math.Atan2(q.Y, q.X); math.Abs(a)*25 < 4 {
				tack[i] = st.Point{X: q.X * (25.8 - dent) / 25.8, Y: q.Y * (25.8 - dent) / 25.8}
			}
		}
		b := new(st.Builder).Run(line, 2.5).TieOff().Stop().DoubleRun(tack, 2.2).TieOff().Stop()
		f := says(t, AstrayRule, b.Satin(line, st.SatinAlong{Width: 6.6, Pitch: 0.4}).TieOff().Design(), 1)
		if len(f) != 1 || math.Abs(f[0].Measured-1.7) > 0.1 {
			t.Errorf("a tack-down 4.2 mm inside, %.1f mm more along 8 mm: %+v, want 4.2 less the 2.5 mm that are usual", dent, f)
		}
	}
}

func TestKnownGap(t *testing.T) {
	for _, c := range []struct {
		gap  float64
		want int
	}{{0.7, 0}, {0.8, 1}} {
		piece := report.Piece{Number: 1, CoverStop: 3, TackDownStop: 2, Finish: report.FinishSatin,
			Gaps: []report.Gap{{LengthMM: c.gap}, {LengthMM: c.gap}}}
		s := report.DefaultSettings()
		p := &Pass{&measure.Pass{Settings: s, Report: &report.Report{Settings: &s, Pieces: []report.Piece{piece}}}, &EdgeUncoveredRule}
		if f := edgeUncovered(p); len(f) != c.want {
			t.Errorf("two gaps of %.1f mm: %+v, want %d", c.gap, f, c.want)
		}
	}
}
