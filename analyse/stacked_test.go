package analyse_test

import (
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// stackedPieces sews pieces one after another, each line, tack-down and cover, the pitch
// of whose satin is given.
func stackedPieces(pitch float64, lines ...st.Path) *stitchfile.Design {
	b := new(st.Builder)
	for i, p := range lines {
		if i > 0 {
			b.Stop()
		}
		b.Run(p, 2.5).TieOff().Stop().DoubleRun(p.Offset(0.5), 2).TieOff().Stop()
		b.Satin(p, st.SatinAlong{Width: 4, Pitch: pitch}).TieOff()
	}
	return b.Design()
}

// ringAt is a ring about a place.
func ringAt(x, y, r float64) st.Path { return st.Circle(st.Point{X: x, Y: y}, r) }

// stackedSays is how gravely stacked-layers is told of a design, where its limit is such
// that the most layers are so many times as much; empty where it is not.
func stackedSays(d *stitchfile.Design, times float64) (report.Severity, float64) {
	most := mustRun(d, report.DefaultSettings()).Density.MaxLayers
	s := report.DefaultSettings()
	s.Limits = map[string]float64{"stacked-layers": most / times}
	r := mustRun(d, s)
	i := slices.IndexFunc(r.Findings, func(f report.Finding) bool { return f.Rule == "stacked-layers" })
	if i < 0 {
		return "", most
	}
	return r.Findings[i].Severity, most
}

// Covers that cross on a spot are a note; what lies on one another along a stretch, or is
// far past the limit, or comes without any piece, is an alarm.
func TestCoversThatCross(t *testing.T) {
	crossed := stackedPieces(0.4, ringAt(0, 0, 30), ringAt(42, 0, 30))
	same := stackedPieces(0.4, ringAt(0, 0, 30), ringAt(0, 0, 30))
	aslant := stackedPieces(0.4, ringAt(0, 0, 30), ringAt(4, 0, 30))
	plain := new(st.Builder).Satin(st.Line(st.Point{X: -20}, st.Point{X: 20}), st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Stop().
		Satin(st.Line(st.Point{Y: -20}, st.Point{Y: 20}), st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Design()
	// The covers cross, and elsewhere three satins lie on one another.
	b := new(st.Builder)
	for i, p := range []st.Path{ringAt(0, 0, 30), ringAt(42, 0, 30)} {
		if i > 0 {
			b.Stop()
		}
		b.Run(p, 2.5).TieOff().Stop().DoubleRun(p.Offset(0.5), 2).TieOff().Stop()
		b.Satin(p, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
	}
	b.Stop()
	for range 2 {
		b.Satin(st.Line(st.Point{X: -60, Y: 50}, st.Point{X: -20, Y: 50}), st.SatinAlong{Width: 4, Pitch: 0.36}).TieOff().Trim()
	}
	elsewhere := b.Design()
	for _, c := range []struct {
		name   string
		design *stitchfile.Design
		times  float64
		want   report.Severity
	}{
		{"covers that cross", crossed, 0.98, ""},
		{"covers that cross", crossed, 1.05, report.Note},
		{"covers that cross", crossed, 1.17, report.Note},
		{"covers that cross", crossed, 1.23, report.Caution},
		{"one cover on another all round", same, 1.1, report.Caution},
		{"covers that lie over one another along a stretch", aslant, 1.17, report.Caution},
		{"satins that cross, of no piece", plain, 1.1, report.Caution},
		{"covers that cross, and two satins on one another", elsewhere, 1.19, report.Caution},
	} {
		if got, most := stackedSays(c.design, c.times); got != c.want {
			t.Errorf("%s, %.2f layers, %.2f times the limit: %q, want %q", c.name, most, c.times, got, c.want)
		}
	}
}

// roofed sews a piece whose sides are satins of their own, capped past each corner so that
// they lap there, the joint in a corner, as many times over one another as told at the
// first one; other is stitching of another stop over that corner.
func roofed(times int, other bool) *stitchfile.Design {
	corner := st.Point{X: 20, Y: 20}
	p := st.Rect(st.Point{}, 40, 40)
	b := new(st.Builder).Run(p, 2.5).TieOff().Stop().DoubleRun(p, 2).TieOff().Stop()
	for i := 1; i < len(p); i++ {
		u := st.Point{X: (p[i].X - p[i-1].X) / 40, Y: (p[i].Y - p[i-1].Y) / 40}
		b.Satin(st.Line(st.Point{X: p[i-1].X - 2*u.X, Y: p[i-1].Y - 2*u.Y}, st.Point{X: p[i].X + 2*u.X, Y: p[i].Y + 2*u.Y}), st.SatinAlong{Width: 4, Pitch: 0.36}).TieOff().Trim()
	}
	for range times {
		b.Satin(st.Line(st.Point{X: corner.X - 2, Y: corner.Y}, st.Point{X: corner.X + 2, Y: corner.Y}), st.SatinAlong{Width: 4, Pitch: 0.36}).TieOff().Trim()
	}
	if other {
		b.Stop()
		b.Satin(st.Line(st.Point{X: corner.X - 3, Y: corner.Y - 3}, st.Point{X: corner.X + 20, Y: corner.Y + 20}), st.SatinAlong{Width: 4, Pitch: 0.36}).TieOff()
	}
	return b.Design()
}

// Where a cover laps itself in a corner or at its joint it is a note, and far past the limit
// no fault; where other stitching lies there too, or where it is a stretch, it is no lap.
func TestCoverThatLaps(t *testing.T) {
	twice := st.Rect(st.Point{}, 40, 40)
	b := new(st.Builder).Run(twice, 2.5).TieOff().Stop().DoubleRun(twice, 2).TieOff().Stop()
	for range 2 {
		b.Satin(twice, st.SatinAlong{Width: 4, Pitch: 0.36}).TieOff().Trim()
	}
	for _, c := range []struct {
		name   string
		design *stitchfile.Design
		times  float64
		want   report.Severity
	}{
		{"corner", roofed(1, false), 0.98, ""},
		{"corner", roofed(1, false), 1.02, report.Note},
		{"corner", roofed(1, false), 1.38, report.Note},
		{"corner", roofed(1, false), 1.42, report.Caution},
		{"corner far past", roofed(2, false), 1.6, report.Caution},
		{"corner under another satin", roofed(0, true), 1.1, report.Caution},
		{"corner under another satin far past", roofed(0, true), 1.6, report.Fault},
		{"cover on cover all round", b.Design(), 1.6, report.Fault},
	} {
		if got, most := stackedSays(c.design, c.times); got != c.want {
			t.Errorf("%s, %.2f layers, %.2f times the limit: %q, want %q", c.name, most, c.times, got, c.want)
		}
	}
}
