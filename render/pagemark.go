package render

import "math"

// mark is a number on a picture, in 0.1 mm with Y down: a disc that may stand
// beside its place, so that no two cover each other.
type mark struct {
	Number   string
	Grave    string // severity, for its colour
	X, Y     int    // the place
	DX, DY   int    // the disc
	R        int
	Moved    bool
	TextSize int
}

// spread moves discs off one another, within half the sides of the picture.
func spread(marks []mark, halfW, halfH float64) {
	for i := range marks {
		m := &marks[i]
		m.DX, m.DY = m.X, m.Y
		x, y := float64(m.X), float64(m.Y)
		for k := range 400 {
			// An even spiral of candidate places, the true one first.
			turn, far := float64(k)*2.4, float64(m.R)*0.5*math.Sqrt(float64(k))
			cx, cy := x+far*math.Cos(turn), y+far*math.Sin(turn)
			if math.Abs(cx) > halfW-float64(m.R) || math.Abs(cy) > halfH-float64(m.R) || crowds(marks[:i], cx, cy) {
				continue
			}
			m.DX, m.DY = int(math.Round(cx)), int(math.Round(cy))
			m.Moved = k > 0
			break
		}
	}
}

func crowds(placed []mark, x, y float64) bool {
	for _, p := range placed {
		if math.Hypot(x-float64(p.DX), y-float64(p.DY)) < 2.1*float64(p.R) {
			return true
		}
	}
	return false
}
