package words

// Hoop is the field of a hoop in mm: what the needle can reach in it. The zero Hoop is
// none, and holds nothing.
type Hoop struct{ WidthMM, HeightMM float64 }

// hoopRounding is what a size may lie over the field through rounding alone: files
// count in 0.1 mm.
const hoopRounding = 0.05

// Given reports whether there is a hoop.
func (h Hoop) Given() bool { return h.WidthMM > 0 && h.HeightMM > 0 }

// Holds reports whether a design of that size in mm fits into the field, and whether
// only when it is turned by a quarter.
func (h Hoop) Holds(width, height float64) (ok, turned bool) {
	fits := func(w, t float64) bool { return width <= w+hoopRounding && height <= t+hoopRounding }
	if !h.Given() {
		return false, false
	}
	if fits(h.WidthMM, h.HeightMM) {
		return true, false
	}
	turned = fits(h.HeightMM, h.WidthMM)
	return turned, turned
}

// Room is the factor by which a design of that size may still grow in the field, the
// better way round: 1 or more where Holds says so. It is 0 without a hoop or a size.
func (h Hoop) Room(width, height float64) float64 {
	if !h.Given() || width <= 0 && height <= 0 {
		return 0
	}
	least := func(w, t float64) float64 { // a line has no width to hold
		switch {
		case width <= 0:
			return (t + hoopRounding) / height
		case height <= 0:
			return (w + hoopRounding) / width
		}
		return min((w+hoopRounding)/width, (t+hoopRounding)/height)
	}
	return max(least(h.WidthMM, h.HeightMM), least(h.HeightMM, h.WidthMM))
}
