package report

import (
	"math"
)

// Diameter is the diameter in mm of a thread of the given weight number (km per
// kg), by Peirce's relation d = 1/(28 sqrt(Ne)) inch with Ne = 590.54/tex and
// tex = 1000/weight (F. T. Peirce, J. Textile Inst. 28, 1937). It is 0 for a
// weight that is not positive.
func Diameter(weight float64) float64 {
	if weight <= 0 {
		return 0
	}
	ne := 590.5412 * weight / 1000
	return 25.4 / (28 * math.Sqrt(ne))
}

// LaidWidth is how wide in mm a thread lies on the cloth: its diameter times the
// flattening factor. A 40 wt thread at 1.6 lies 0.30 mm wide.
func (s Settings) LaidWidth() float64 { return Diameter(s.ThreadWeight) * s.Flattening }
