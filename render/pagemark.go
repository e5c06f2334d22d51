package render

import "math"

// pageMark is a number on a picture, in 0.1 mm with Y down: a disc that may stand
// beside its place, so that no two cover each other.
type pageMark struct {
	Number   string
	Grave    string // severity, for its colour
	X, Y     int    // the place
	DX, DY   int    // the disc
	R        int
	Moved    bool
	TextSize int
}

// spreadMarks moves discs off one another, within half the sides of the picture.
func spreadMarks(marks []pageMark, halfW, halfH float64) {
	for i := range marks {
		m := &marks[i]
		m.DX, m.DY = m.X, m.Y
		x, y := float64(m.X), float64(m.Y)
		for k := range 400 {
			// An even spiral of candidate places, the true one first.
			turn, far := float64(k)*2.4, float64(m.R)*0.5*math.Sqrt(float64(k))
			cx, cy := x+far*math.Cos(turn), y+far*math.Sin(turn)
			if math.Abs(cx) > halfW-float64(m.R) || math.Abs(cy) > halfH-float64(m.R) || crowdsMarks(marks[:i], cx, cy) {
				continue
			}
			m.DX, m.DY = int(math.Round(cx)), int(math.Round(cy))
			m.Moved = k > 0
			break
		}
	}
}

func crowdsMarks(placed []pageMark, x, y float64) bool {
	for _, p := range placed {
		if math.Hypot(x-float64(p.DX), y-float64(p.DY)) < 2.1*float64(p.R) {
			return true
		}
	}
	return false
}
