package match

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/measure"
)

// ringed is the signature of a ring of so many stitches of 2.5 mm, made larger, each needle
// point moved outwards by so much of a stitch.
func ringed(stitches int, factor float64, out func(at float64, i int) float64) *Signature {
	const stitch = 25 // tenths of a mm
	s := &Signature{stops: make([]stopSign, 1), Stitches: stitches, Spacing: measure.Spacing{RunStitchMM: 2.5 * factor}}
	r := factor * stitch * 400 / (2 * math.Pi)
	for i := range stitches {
		at := 2 * math.Pi * float64(i) / float64(stitches)
		sin, cos := math.Sincos(at)
		far := r + factor*stitch*out(at, i)
		s.points = append(s.points, needlePoint{int32(math.Round(far * cos)), int32(math.Round(far * sin))})
	}
	return s
}

// The needle points of a copy may stray from where they were, and its stitches turn, by so
// much; where some are missing lines may, spacing must have gone with the size, and the
// size must be another.
func TestHowCopiesStray(t *testing.T) {
	plain := func(float64, int) float64 { return 0 }
	waves := func(rms float64) func(float64, int) float64 {
		return func(at float64, _ int) float64 { return rms * math.Sqrt2 * math.Sin(2*at) }
	}
	toAndFro := func(by float64) func(float64, int) float64 {
		return func(_ float64, i int) float64 { return by * float64(1-2*(i%2)) }
	}
	spaced := func(s *Signature, times float64) *Signature {
		s.Spacing.RunStitchMM *= times
		return s
	}
	const radius = 400 / (2 * math.Pi) // in stitches
	for _, c := range []struct {
		name string
		copy *Signature
		want bool
	}{
		{"waves of 0.33 of a stitch", ringed(400, 1.2, waves(0.33)), true},
		{"waves of 0.38 of a stitch", ringed(400, 1.2, waves(0.38)), false},
		{"stitches to and fro that are 0.92 alike", ringed(400, 1.2, toAndFro(math.Sqrt(1/(0.92*0.92)-1)/2)), true},
		{"stitches to and fro that are 0.88 alike", ringed(400, 1.2, toAndFro(math.Sqrt(1/(0.88*0.88)-1)/2)), false},
		{"ten stitches missing", ringed(390, 1.2, plain), true},
		{"ten missing, waves of 0.018 of the size", ringed(390, 1.2, waves(0.018*2*radius)), true},
		{"ten missing, waves of 0.022 of the size", ringed(390, 1.2, waves(0.022*2*radius)), false},
		{"ten missing, 1.06 times as large", ringed(390, 1.06, plain), false},
		{"ten missing, 1.08 times as large", ringed(390, 1.08, plain), true},
		{"ten missing, spacing 5.4 % past the size", spaced(ringed(390, 1.2, plain), 1.054), true},
		{"ten missing, spacing 6.6 % past the size", spaced(ringed(390, 1.2, plain), 1.066), false},
	} {
		if l, got := layOver(ringed(400, 1, plain), c.copy, []int{0}); got != c.want {
			t.Errorf("%s: a copy: %v (%+v)", c.name, got, l)
		}
	}
}
