package rules

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// mitredN is a letter N of so many mm, its satin mitred at all corners: some have 31 degrees.
func mitredN(tall, width, pitch float64) *stitchfile.Design {
	var p st.Path
	for _, q := range []st.Point{{}, {X: 0.24}, {X: 0.24, Y: 0.6}, {X: 0.6}, {X: 0.84}, {X: 0.84, Y: 1}, {X: 0.6, Y: 1}, {X: 0.6, Y: 0.4}, {X: 0.24, Y: 1}, {Y: 1}, {}} {
		p = append(p, st.Point{X: q.X * tall, Y: q.Y * tall})
	}
	return new(st.Builder).Mitred(p, width, pitch).Design()
}

// Two tips that meet at a mitre are no narrow satin, however sharp it is; narrow legs are.
func TestSharpMitre(t *testing.T) {
	for _, pitch := range []float64{0.35, 0.4, 0.43} {
		for _, width := range []float64{3, 3.4, 3.8, 4} {
			if f := says(t, NarrowSatinRule, mitredN(50, width, pitch), 1); len(f) > 0 {
				t.Errorf("%.1f mm wide, %.2f mm apart: %+v", width, pitch, f)
			}
		}
		if f := says(t, NarrowSatinRule, mitredN(50, 0.7, pitch), 1); len(f) != 1 {
			t.Errorf("0.7 mm wide, %.2f mm apart: %+v", pitch, f)
		}
	}
}

// What narrows to less than 0.15 of its width at a turn of 45 degrees and more is mitred; a
// neck is not, nor what narrows where the column goes on as it did.
func TestWhatIsMitred(t *testing.T) {
	const width = 4.0
	column := func(turn float64) st.Path {
		sin, cos := math.Sincos(turn * math.Pi / 180)
		return st.Path{{X: -30}, {}, {X: 30 * cos, Y: 30 * sin}}
	}
	for _, c := range []struct {
		name           string
		turn, to, flat float64 // degrees; share of the width; mm that are so narrow
		want           int
	}{
		{"a taper to 0.1 at 60 degrees", 60, 0.1, 0, 0},
		{"a taper to 0.1 at 50 degrees", 50, 0.1, 0, 0},
		{"a taper to 0.1 at 40 degrees", 40, 0.1, 0, 1},
		{"a taper to 0.1 where it is straight", 0, 0.1, 0, 1},
		{"a neck to 0.17 at 60 degrees", 60, 0.17, 9, 1},
		{"a neck to 0.1 of 12 mm at 60 degrees", 60, 0.1, 12, 1},
	} {
		shape := func(at float64) float64 {
			d := math.Abs(at-0.5)*60 - c.flat/2
			return min(1, c.to+max(0, d)/40) // so slowly that some 3 mm are narrow
		}
		d := new(st.Builder).Satin(column(c.turn), st.SatinAlong{Width: width, Pitch: 0.4, Shape: shape}).Design()
		if f := says(t, NarrowSatinRule, d, 1); len(f) != c.want {
			t.Errorf("%s: %+v, want %d", c.name, f, c.want)
		}
	}
}
