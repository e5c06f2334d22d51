package analyse_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// covered is a piece of applique with a cover sewn along its line, open in a stretch of
// so many mm from its first point on, where stretch is not 0.
func covered(line st.Path, kind string, pitch, stretch, openPitch float64) *stitchfile.Design {
	var b st.Builder
	b.Run(line, 2.5).TieOff().Stop().DoubleRun(line.Offset(0.5), 2).TieOff().Stop()
	s := st.SatinAlong{Width: 4, Pitch: pitch}
	switch kind {
	case "straight across":
		s.Slant = true
	case "split":
		s.Split = 2.2
	}
	if stretch == 0 {
		return b.Satin(line, s).TieOff().Design()
	}
	o := s
	o.Pitch = openPitch
	line = line.Sample(int(line.Length() / 0.5))
	var open, rest st.Path
	at := 0.0
	for i, q := range line {
		if i > 0 {
			at += math.Hypot(q.X-line[i-1].X, q.Y-line[i-1].Y)
		}
		if at <= stretch {
			open = append(open, q)
		}
		if at >= stretch {
			rest = append(rest, q)
		}
	}
	rest = append(st.Path{open[len(open)-1]}, rest...)
	return b.Satin(open, o).Satin(rest, s).TieOff().Design()
}

// thinness is what thin-cover says of a design.
func thinness(d *stitchfile.Design) (found bool, f report.Finding) {
	r := mustRun(d, report.DefaultSettings())
	i := slices.IndexFunc(r.Findings, func(f report.Finding) bool { return f.Rule == "thin-cover" })
	if i < 0 {
		return false, report.Finding{}
	}
	return true, r.Findings[i]
}

var coverKinds = []string{"leaning", "straight across", "split"}

// The more open a cover, the worse it is called, from sound satin at 0.4 mm to a zigzag
// at 3 mm, without a gap. Files round to 0.1 mm, by which a share of a fifth may waver.
func TestThinCoverGrowsWithThePitch(t *testing.T) {
	for name, line := range map[string]st.Path{"circle": st.Circle(st.Point{}, 25), "oval": st.Circle(st.Point{}, 25).Map(func(q st.Point) st.Point { return st.Point{X: 1.4 * q.X, Y: q.Y} })} {
		for _, kind := range coverKinds {
			last := 1.0
			for pitch := 0.4; pitch < 3.05; pitch += 0.1 {
				what := fmt.Sprintf("%s, %s, %.1f mm", name, kind, pitch)
				found, f := thinness(covered(line, kind, pitch, 0, 0))
				switch {
				case found != (pitch > 0.45):
					t.Errorf("%s: thin: %v", what, found)
				case !found:
				case f.Measured >= last+0.003:
					t.Errorf("%s: %.3f under thread, and %.3f where it is closer", what, f.Measured, last)
				case pitch > 0.95 && f.Severity != report.Fault:
					t.Errorf("%s: %s, want a fault", what, f.Severity)
				}
				if found {
					last = f.Measured
				}
			}
		}
	}
}

// Ten millimetres of open stitches in a sound cover are found at any pitch.
func TestOpenStretchOfACover(t *testing.T) {
	for _, kind := range coverKinds {
		for _, pitch := range []float64{0.8, 1, 1.2, 1.5, 2, 2.5, 3} {
			d := covered(st.Circle(st.Point{}, 25), kind, 0.4, 10, pitch)
			r := mustRun(d, report.DefaultSettings())
			if !slices.ContainsFunc(r.Findings, func(f report.Finding) bool {
				return (f.Rule == "thin-cover" || f.Rule == "edge-uncovered") && f.Severity.AtLeast(report.Caution)
			}) {
				var p report.Piece
				if len(r.Pieces) > 0 {
					p = r.Pieces[0]
				}
				t.Errorf("%s, %.1f mm over 10 mm: nothing found; %d pieces, least share %.3f, %.1f mm open, gaps %+v", kind, pitch, len(r.Pieces), p.CoverShare.Min, p.OpenMM, p.Gaps)
			}
		}
	}
}

// What covers leave bare is told on the right side of each limit.
func TestGradedCovers(t *testing.T) {
	line := st.Circle(st.Point{}, 25)
	moved := sewnPiece{outline: st.Rect(st.Point{}, 60, 60), tack: "run", inwards: map[int]float64{1: 2}}
	bare, _ := moved.bare(t)
	w := report.DefaultSettings().LaidWidth()
	tack := line.Offset(1.2)
	inside := new(st.Builder).Run(line, 2.5).TieOff().Stop().DoubleRun(tack, 2).TieOff().Stop().Satin(line, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Design()
	for _, c := range []struct {
		rule, limit string
		figure      float64
		above       bool // told above the limit, not below it
		design      *stitchfile.Design
	}{
		{"edge-uncovered", "edge-uncovered", bare, true, moved.design()},
		// A zigzag hides so much: the simple rule for two rows of parallel threads.
		{"thin-cover", "thin-cover-stretch", 1 - math.Pow(1-w/1.5, 2), false, covered(line, "leaning", 1.5, 0, 0)},
		// Half of 4 mm of satin, less the way from its middle to the tack-down.
		{"tack-down-in-sight", "tack-down-in-sight", 4.0/2 - 1.2, false, inside},
	} {
		for _, share := range []float64{0.8, 0.95, 1.05, 1.2} {
			s := report.DefaultSettings()
			s.Only = []string{c.rule}
			s.Limits = map[string]float64{c.limit: c.figure / share}
			if c.rule == "thin-cover" {
				s.Limits["thin-cover"] = 0
			}
			told := slices.ContainsFunc(mustRun(c.design, s).Findings, func(f report.Finding) bool { return f.Severity.AtLeast(report.Caution) })
			if told != (share > 1 == c.above) {
				t.Errorf("%s: %.3g is %.2f of the limit %s, told: %v", c.rule, c.figure, share, c.limit, told)
			}
		}
	}
}

// Gaps in the middle of a side are found from 0.75 mm of bare edge up, and no less
// than that is told. The ends of the columns beside a gap are half a thread wide.
func TestPlantedGaps(t *testing.T) {
	for gap := 0.4; gap < 3; gap += 0.15 {
		s := sewnPiece{outline: st.Rect(st.Point{}, 60, 60), tack: "run", gaps: map[int]float64{2: gap}}
		least, most := s.bare(t)
		if least < most {
			continue // the grain of the stitches
		}
		set := report.DefaultSettings()
		set.Only = []string{"edge-uncovered"}
		set.Limits = map[string]float64{"edge-uncovered": 0.5}
		told := len(mustRun(s.design(), set).Findings) > 0
		switch {
		case least >= 0.85 && !told:
			t.Errorf("a gap of %.2f mm of bare edge is not told", least)
		case least < 0.65 && told:
			t.Errorf("%.2f mm of bare edge are told", least)
		}
	}
}
