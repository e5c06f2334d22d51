package analyse_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// movedPath is a path moved by x and y mm.
func movedPath(p st.Path, x, y float64) st.Path {
	out := slices.Clone(p)
	for i := range out {
		out[i].X += x
		out[i].Y += y
	}
	return out
}

// starPath is a star of five points about a place, its outer points so many mm from it.
func starPath(at st.Point, r float64) st.Path {
	var p st.Path
	for k := range 11 {
		sin, cos := math.Sincos(math.Pi/2 + float64(k)*math.Pi/5)
		d := r * (1 - 0.45*float64(k%2))
		p = append(p, st.Point{X: at.X + d*cos, Y: at.Y + d*sin})
	}
	return p
}

// A cover that lies aside of its piece is a fault, and its cloth is laid and trimmed; satin that
// frames a line, or is another figure, is none.
func TestCoverMovedAside(t *testing.T) {
	satin := st.SatinAlong{Width: 3.6, Pitch: 0.4}
	block := func(lines int, pieces ...[2]st.Path) *stitchfile.Design { // each with the satin that is sewn for it
		b := new(st.Builder)
		for _, p := range pieces {
			for range lines {
				b.Run(p[0], 2.4).TieOff().Stop()
			}
		}
		for _, p := range pieces {
			b.Satin(p[1], satin).TieOff().Stop()
		}
		return b.Run(st.Line(st.Point{X: -90, Y: -60}, st.Point{X: -80, Y: -60}), 2.5).Design()
	}
	disc, star, oval := st.Circle(st.Point{}, 24), starPath(st.Point{}, 30), make(st.Path, 0, 73)
	for k := range 73 {
		sin, cos := math.Sincos(float64(k) * math.Pi / 36)
		oval = append(oval, st.Point{X: 27 * cos, Y: 21 * sin})
	}
	far := func(p st.Path, x float64) st.Path { return movedPath(p, x, 0) }
	for _, c := range []struct {
		name   string
		d      *stitchfile.Design
		pieces int // that are told
	}{
		{"a disc, 6 mm", block(2, [2]st.Path{disc, movedPath(disc, 4, 4.5)}), 1},
		{"a disc, 11 mm", block(2, [2]st.Path{disc, far(disc, 11)}), 1},
		{"a disc, 13 mm", block(2, [2]st.Path{disc, far(disc, 13)}), 0},
		{"a star, 7 mm", block(2, [2]st.Path{star, far(star, 7)}), 1},
		{"three pieces, 8 mm", block(2, [2]st.Path{disc, far(disc, 8)}, [2]st.Path{far(star, 70), far(star, 78)}, [2]st.Path{far(disc, -70), far(disc, -62)}), 3},
		{"one line, 8 mm", block(1, [2]st.Path{disc, far(disc, 8)}), 0},
		{"a frame", block(2, [2]st.Path{disc, disc.Offset(-8)}), 0},
		{"another figure", block(2, [2]st.Path{disc, far(oval, 8)}), 0},
		{"two pieces that overlap, each with its cover", block(2, [2]st.Path{disc, disc}, [2]st.Path{far(disc, 9), far(disc, 9)}), 0},
	} {
		r := mustRun(c.d, report.DefaultSettings())
		told := map[int]bool{}
		for _, f := range r.Each {
			if f.Rule == "edge-uncovered" && f.Severity == report.Fault {
				told[f.Piece] = true
			}
		}
		if len(told) != c.pieces {
			t.Errorf("%s: %d pieces are told, want %d: %+v", c.name, len(told), c.pieces, r.Findings)
		}
		if c.pieces > 0 && (!hasStep(r.Stops[1].BeforeSteps, report.StepLay) || !hasStep(r.Stops[1].AfterSteps, report.StepTrim)) {
			t.Errorf("%s: before stop 2 %v, after it %v", c.name, r.Stops[1].BeforeSteps, r.Stops[1].AfterSteps)
		}
	}
}
