package report

import (
	"math"
	"testing"
)

// Peirce's relation, J. Textile Inst. 28 (1937) T45: Ne 25 is 1/140 inch, and
// Ne 590.54/25 (40 wt) is 0.1866 mm.
func TestDiameter(t *testing.T) {
	for _, c := range []struct{ weight, want float64 }{
		{25 * 1000 / 590.5412, 25.4 / 140},
		{12, 0.3408}, {30, 0.2155}, {40, 0.1866}, {50, 0.1669}, {60, 0.1524}, {100, 0.1180},
		{0, 0}, {-1, 0},
	} {
		if got := Diameter(c.weight); math.Abs(got-c.want) > 0.0001 {
			t.Errorf("weight %v: %.4f mm, want %.4f", c.weight, got, c.want)
		}
	}
}
