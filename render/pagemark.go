package render

import "math"

// pageMark is a number on a picture, in 0.1 mm with Y down: a disc that may stand
// beside its place, so that no two cover each other.
type pageMark struct {
	Number   string
	Grave    string // severity, for its colour
	X, Y     int    // the place
	DX, DY   int    // the disc, or the square of a fault
	R        int
	TextSize int

	Left, Top, Wide int // the square of a fault, which tells it from the discs
	Ring            int // radius of the ring round the place itself
	EdgeX, EdgeY    int // where the leader leaves that ring
}

// settle works out what follows from where the disc is.
func (m *pageMark) settle() {
	m.Left, m.Top, m.Wide, m.Ring = m.DX-m.R, m.DY-m.R, 2*m.R, m.R/3
	edge := func(d int) int {
		return int(math.Round(float64(d*m.Ring) / max(1, math.Hypot(float64(m.DX-m.X), float64(m.DY-m.Y)))))
	}
	m.EdgeX, m.EdgeY = m.X+edge(m.DX-m.X), m.Y+edge(m.DY-m.Y)
}

// spreadMarks moves discs off one another, within half the sides of the picture.
func spreadMarks(marks []pageMark, halfW, halfH float64) {
	for i := range marks {
		m := &marks[i]
		// Where no place is free, towards the middle.
		m.DX, m.DY = m.X+2*m.R, m.Y
		if m.X > 0 {
			m.DX = m.X - 2*m.R
		}
		x, y := float64(m.X), float64(m.Y)
		for k := range 400 {
			// An even spiral of places beside the true one: a disc on it would hide
			// what it marks.
			turn, far := float64(k)*2.4-math.Pi/4, float64(m.R)*(1.7+0.5*math.Sqrt(float64(k)))
			cx, cy := x+far*math.Cos(turn), y+far*math.Sin(turn)
			if math.Abs(cx) > halfW-float64(m.R) || math.Abs(cy) > halfH-float64(m.R) || crowdsMarks(marks[:i], cx, cy) {
				continue
			}
			m.DX, m.DY = int(math.Round(cx)), int(math.Round(cy))
			break
		}
		m.settle()
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
