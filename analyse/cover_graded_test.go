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

// gradedCovers are plants of what covers leave bare.
func gradedCovers(t *testing.T) []plant {
	line := st.Circle(st.Point{}, 25)
	moved := sewnPiece{outline: st.Rect(st.Point{}, 60, 60), tack: "run", inwards: map[int]float64{1: 2}}
	bare, _ := moved.bare(t)
	laid := report.DefaultSettings()
	w := laid.LaidWidth()
	tack := line.Offset(1.2)
	inside := new(st.Builder).Run(line, 2.5).TieOff().Stop().DoubleRun(tack, 2).TieOff().Stop().Satin(line, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Design()
	return []plant{
		{rule: "edge-uncovered", limit: "edge-uncovered", figure: bare, above: true, least: report.Caution, design: moved.design()},
		// A zigzag hides so much: the simple rule for two rows of parallel threads.
		{rule: "thin-cover", limit: "thin-cover-stretch", figure: 1 - math.Pow(1-w/1.5, 2), least: report.Caution, design: covered(line, "leaning", 1.5, 0, 0)},
		// Half of 4 mm of satin, less the way from its middle to the tack-down.
		{rule: "tack-down-in-sight", limit: "tack-down-in-sight", figure: 4.0/2 - 1.2, least: report.Caution, design: inside},
	}
}

// gradedHands are plants of lines and pauses between which hands work.
func gradedHands(*testing.T) []plant {
	circle := st.Circle(st.Point{}, 25)
	cover := func(b *st.Builder) *stitchfile.Design {
		return b.Stop().Satin(circle, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Design()
	}
	square := func(x, side float64) st.Path { return st.Rect(st.Point{X: x}, side, side) }
	// A tack-down that ends 10 mm before it closes.
	const opening = 10.0
	turn := 2 * math.Asin(opening/50)
	var open st.Path
	for k := range 201 {
		sin, cos := math.Sincos(turn/2 + float64(k)/200*(2*math.Pi-turn))
		open = append(open, st.Point{X: 25 * cos, Y: 25 * sin})
	}
	opened := new(st.Builder).Run(circle, 2.5).TieOff().Stop().Run(open, 2.5).TieOff()
	// Line and tack-down in one stop, the thread cut between.
	atOnce := new(st.Builder).Run(square(0, 100), 2.5).TieOff().Stop().Run(square(0, 102), 2.5).TieOff().Stop()
	atOnce.Run(circle, 2.5).TieOff().Trim().DoubleRun(circle.Offset(0.5), 2).TieOff()
	// A hold-down 4 mm inside on one side, after a piece with its satin.
	aside := new(st.Builder).Run(square(0, 100), 2.5).TieOff().Stop().Run(square(0, 102), 2.5).TieOff().Stop()
	aside.Run(circle, 2.5).TieOff().Stop().DoubleRun(circle.Offset(0.5), 2).TieOff()
	cover(aside)
	aside.Stop().Run(square(6, 104), 2.5).TieOff().Stop().Run(square(0, 105), 2.5).TieOff()
	pause := report.DefaultSettings().TrimSeconds
	return []plant{
		{rule: "open-outline", limit: "open-outline", figure: opening, above: true, least: report.Caution, design: cover(opened)},
		{rule: "missing-pause", limit: "missing-pause", figure: pause, least: report.Fault, design: cover(atOnce)},
		{rule: "drawn-in", limit: "drawn-in", figure: 4, above: true, least: report.Caution, design: aside.Design()},
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
