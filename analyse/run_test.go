package analyse_test

import (
	"fmt"
	"image/color"
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// block is a small applique block: outline, hold-down, one piece, satin with
// triple lines beside it, batting, backing, quilting.
func block() *stitchfile.Design {
	var b stitchtest.Builder
	mid := stitchtest.Point{}
	ring := stitchtest.Circle(mid, 25)
	b.Run(stitchtest.Rect(mid, 90, 90), 2.5).Stop()
	b.Run(stitchtest.Rect(mid, 92, 92), 2.5).Stop()
	b.Run(ring, 2.5).Stop()
	b.DoubleRun(stitchtest.Circle(mid, 24.5), 2).Stop()
	b.Satin(ring, stitchtest.SatinAlong{Width: 3.5, Pitch: 0.4}).Stop()
	b.TripleRun(stitchtest.Circle(mid, 27), 2.5).Stop()
	b.Run(stitchtest.Rect(mid, 92, 92), 2.5).Stop()
	b.Run(stitchtest.Rect(mid, 93, 93), 2.5).Stop()
	b.Run(stitchtest.Circle(mid, 32), 2.5).Run(stitchtest.Circle(mid, 40), 2.5)
	return b.Design()
}

func TestRolesOfABlock(t *testing.T) {
	want := []string{
		report.RoleClothOutline, report.RoleClothHoldDown, report.RolePlacementLine, report.RoleTackDown,
		report.RoleCoverSatin, report.RoleEdgeRun, report.RoleBattingHoldDown, report.RoleBackingHoldDown, report.RoleQuilting,
	}
	r := mustRun(block(), report.DefaultSettings())
	if len(r.Stops) != len(want) {
		t.Fatalf("%d stops, want %d", len(r.Stops), len(want))
	}
	for i, s := range r.Stops {
		if s.Role != want[i] {
			t.Errorf("stop %d: %s (%s), want %s", s.Number, s.Role, s.Reason, want[i])
		}
	}
	if len(r.Stops[3].Before) == 0 || len(r.Stops[3].After) != 3 {
		t.Errorf("tack-down: steps %q, %q", r.Stops[3].Before, r.Stops[3].After)
	}
}

// A design without applique must not be given steps.
func TestNoStepsWithoutApplique(t *testing.T) {
	var b stitchtest.Builder
	mid := stitchtest.Point{}
	b.Fill(stitchtest.Circle(mid, 20), 0.4, 4, 0).Stop()
	b.Satin(stitchtest.Circle(mid, 20), stitchtest.SatinAlong{Width: 3, Pitch: 0.4}).Stop()
	b.Run(stitchtest.Rect(mid, 60, 60), 2.5)
	for _, s := range mustRun(b.Design(), report.DefaultSettings()).Stops {
		if s.Role != report.RoleStitching || len(s.Before)+len(s.After) > 0 {
			t.Errorf("stop %d: %s %q %q", s.Number, s.Role, s.Before, s.After)
		}
	}
}

func TestCounts(t *testing.T) {
	moves := func(kinds ...stitchfile.Kind) []stitchfile.Move {
		var out []stitchfile.Move
		for i, k := range kinds {
			out = append(out, stitchfile.Move{X: int32(i), Kind: k})
		}
		return out
	}
	const S, J, T, C, E = stitchfile.Stitch, stitchfile.Jump, stitchfile.Trim, stitchfile.ColourStop, stitchfile.End
	for _, c := range []struct {
		name                           string
		moves                          []stitchfile.Move
		stitches, jumps, trims, colour int
	}{
		{"empty", nil, 0, 0, 0, 0},
		{"cut between parts", moves(S, S, T, J, S, E), 3, 1, 1, 1},
		{"cut beside the stop is the stop's own", moves(S, T, C, T, J, S, T, E), 2, 1, 0, 2},
		{"empty part is no stop", moves(J, C, S, C, C, S, E), 2, 1, 0, 2},
	} {
		r := mustRun(&stitchfile.Design{Moves: c.moves}, report.DefaultSettings())
		if r.Stitches != c.stitches || r.Jumps != c.jumps || r.Trims != c.trims || r.ColourStops != c.colour {
			t.Errorf("%s: %d stitches, %d jumps, %d trims, %d stops", c.name, r.Stitches, r.Jumps, r.Trims, r.ColourStops)
		}
	}
}

// 15 000 stitches at 650 a minute take 23.077 min; 8 stops of 20 s and 12 trims
// of 8 s make it 27.344 min (worked by hand).
func TestMinutes(t *testing.T) {
	d := &stitchfile.Design{}
	for i := range 15000 {
		if i > 0 && i%1875 == 0 {
			d.Moves = append(d.Moves, stitchfile.Move{Kind: stitchfile.ColourStop})
		} else if i%1000 == 600 && i < 12000 {
			d.Moves = append(d.Moves, stitchfile.Move{Kind: stitchfile.Trim})
		}
		d.Moves = append(d.Moves, stitchfile.Move{Kind: stitchfile.Stitch})
	}
	s := report.DefaultSettings()
	s.SpeedPerMinute, s.StopSeconds, s.TrimSeconds = 650, 20, 8
	r := mustRun(d, s)
	if r.ColourStops != 8 || r.Trims != 12 || math.Abs(r.Minutes-27.344) > 0.001 {
		t.Errorf("%d stops, %d trims, %.4f min; want 8, 12, 27.344", r.ColourStops, r.Trims, r.Minutes)
	}
}

// Thread makers give about 5 m of needle and 3 m of bobbin thread a thousand
// stitches of 4 to 5 mm (thread maker's glossary; within a quarter).
func TestThreadPerThousand(t *testing.T) {
	var b stitchtest.Builder
	b.Run(stitchtest.Line(stitchtest.Point{}, stitchtest.Point{X: 4000}), 4)
	s := report.DefaultSettings()
	s.TailMM = 0
	r := mustRun(b.Design(), s)
	if n, b := r.NeedleThreadM, r.BobbinThreadM; math.Abs(n/5-1) > 0.25 || math.Abs(b/3-1) > 0.25 {
		t.Errorf("needle %.2f m, bobbin %.2f m", n, b)
	}
}

func TestRules(t *testing.T) {
	red := color.RGBA{200, 0, 0, 255}
	var b stitchtest.Builder
	b.Thread(red, "").Run(stitchtest.Line(stitchtest.Point{}, stitchtest.Point{X: 100}), 12)
	long := b.Design()
	same := block()
	for range 9 {
		same.Threads = append(same.Threads, stitchfile.Thread{Colour: red})
	}
	wrong := block()
	wrong.Claims.ColourStops = 3
	var e stitchtest.Builder
	line := stitchtest.Line(stitchtest.Point{}, stitchtest.Point{X: 30})
	empty := e.Run(line, 2.5).Stop().Stop().Run(line, 2.5).Design()
	small := report.DefaultSettings()
	small.HoopWidthMM, small.HoopHeightMM = 80, 80
	for _, c := range []struct {
		rule     string
		design   *stitchfile.Design
		settings report.Settings
	}{
		{"long-stitch", long, report.DefaultSettings()},
		{"same-colour-pause", same, report.DefaultSettings()},
		{"header-disagrees", wrong, report.DefaultSettings()},
		{"outside-hoop", block(), small},
		{"empty-stop", empty, report.DefaultSettings()},
	} {
		found := false
		for _, f := range mustRun(c.design, c.settings).Findings {
			found = found || f.Rule == c.rule
		}
		if !found {
			t.Errorf("%s: not found", c.rule)
		}
		for _, f := range mustRun(block(), report.DefaultSettings()).Findings {
			if f.Severity.AtLeast(report.Caution) {
				t.Errorf("sound block: %s: %s", f.Rule, f.Message)
			}
		}
	}
}

func ExampleRun() {
	var b stitchtest.Builder
	b.Run(stitchtest.Rect(stitchtest.Point{}, 40, 20), 2)
	r := mustRun(b.Design(), report.DefaultSettings())
	fmt.Printf("%.0f x %.0f mm, %d stitches\n", r.WidthMM, r.HeightMM, r.Stitches)
	// Output: 40 x 20 mm, 61 stitches
}
