package render

import (
	"math"
	"testing"
)

// A disc never covers the place it is for, nor another disc, in the middle or at an
// edge; with too many for the picture it still keeps off its own place.
func TestMarksKeepOffTheirPlaces(t *testing.T) {
	for _, n := range []int{1, 8, 30, 300} {
		var marks []pageMark
		for i := range n {
			marks = append(marks, pageMark{R: 40, X: (i*97)%1000 - 500, Y: (i*53)%1000 - 500})
		}
		marks = append(marks, pageMark{R: 40}, pageMark{R: 40, X: 3})
		spreadMarks(marks, 530, 530)
		for i, m := range marks {
			if d := math.Hypot(float64(m.DX-m.X), float64(m.DY-m.Y)); d < 1.5*float64(m.R) {
				t.Errorf("%d marks: the disc of %v is %.0f from its place", n, m, d)
			}
			if n > 30 {
				continue
			}
			for _, o := range marks[i+1:] {
				if d := math.Hypot(float64(m.DX-o.DX), float64(m.DY-o.DY)); d < 2*float64(m.R) {
					t.Errorf("%d marks: discs at %v and %v meet", n, m, o)
				}
			}
		}
	}
}
