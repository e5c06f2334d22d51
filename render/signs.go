package render

import (
	"image/color"
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// sign draws a small picture of one thing the hands do, in a square of 24 units,
// Y down.
type sign func(*signPen)

var stepSigns = map[report.StepKind]sign{
	report.StepNote:         signNote,
	report.StepLay:          signLay,
	report.StepTrim:         signTrim,
	report.StepHoopOff:      signHoopOff,
	report.StepHoopOn:       signHoopOn,
	report.StepTurnOver:     signTurnOver,
	report.StepChangeThread: signSpool,
	report.StepMayEnd:       signFlag,
	report.StepTurnOut:      signTurnOver,
}

// drawSign draws a sign with its upper left corner at x, y, size mm wide.
func drawSign(cv canvas, x, y, size float64, c color.RGBA, s sign) {
	s(&signPen{cv: cv, x: x, y: y, k: size / 24, ink: c})
}

// signPen draws in the units of a sign.
type signPen struct {
	cv      canvas
	x, y, k float64
	ink     color.RGBA
}

func (p *signPen) points(coords []float64) []geom.Point {
	var out []geom.Point
	for i := 1; i < len(coords); i += 2 {
		out = append(out, geom.Point{X: p.x + coords[i-1]*p.k, Y: p.y + coords[i]*p.k})
	}
	return out
}

func (p *signPen) line(thick float64, coords ...float64) {
	p.cv.line(p.ink, thick*p.k, p.points(coords)...)
}

func (p *signPen) fill(c color.RGBA, coords ...float64) { p.cv.area(c, p.points(coords)...) }

// arc draws part of an ellipse, angles in degrees from the right, clockwise.
func (p *signPen) arc(thick, cx, cy, rx, ry, from, to float64) {
	var pts []float64
	for i := range 33 {
		s, c := math.Sincos((from + (to-from)*float64(i)/32) * math.Pi / 180)
		pts = append(pts, cx+rx*c, cy+ry*s)
	}
	p.line(thick, pts...)
}

// arrow draws a line with a filled head at its end.
func (p *signPen) arrow(x0, y0, x1, y1 float64) {
	l := math.Hypot(x1-x0, y1-y0)
	ux, uy := (x1-x0)/l, (y1-y0)/l
	p.line(2, x0, y0, x1-3*ux, y1-3*uy)
	p.fill(p.ink, x1, y1, x1-5*ux-3.2*uy, y1-5*uy+3.2*ux, x1-5*ux+3.2*uy, y1-5*uy-3.2*ux)
}

func signNote(p *signPen) {
	p.arc(2, 12, 12, 9, 9, 0, 360)
	p.line(2.6, 12, 11, 12, 17)
	p.line(2.8, 12, 6.5, 12, 7.3)
}

// signLay is a cloth with an arrow down to it.
func signLay(p *signPen) {
	p.fill(mix(p.ink, white, 0.7), 1, 22, 6, 14, 23, 14, 18, 22)
	p.line(1.6, 1, 22, 6, 14, 23, 14, 18, 22, 1, 22)
	p.arrow(12, 1, 12, 17)
}

// signTrim is a pair of scissors, half open.
func signTrim(p *signPen) {
	p.arc(2, 6, 19, 3.4, 3.4, 0, 360)
	p.arc(2, 18, 19, 3.4, 3.4, 0, 360)
	p.fill(p.ink, 7, 16.6, 8.8, 15.6, 17.5, 2, 14, 3)
	p.fill(p.ink, 17, 16.6, 15.2, 15.6, 6.5, 2, 10, 3)
}

// signHoopOff is a hoop that leaves the machine's arm.
func signHoopOff(p *signPen) {
	p.fill(p.ink, 0, 2, 3, 2, 3, 22, 0, 22)
	p.arc(2, 15.5, 12, 7, 9.5, 0, 360)
	p.arrow(3.5, 12, 20, 12)
}

// signHoopOn is a hoop on its way back to the arm.
func signHoopOn(p *signPen) {
	p.fill(p.ink, 0, 2, 3, 2, 3, 22, 0, 22)
	p.arc(2, 15.5, 12, 7, 9.5, 0, 360)
	p.arrow(20, 12, 4, 12)
}

// signTurnOver is a hoop seen from the side with an arrow over it.
func signTurnOver(p *signPen) {
	p.arc(2, 12, 18, 11, 4.2, 0, 360)
	p.arc(2, 12, 11, 7, 7.5, 185, 330)
	p.fill(p.ink, 20.5, 12.5, 15.4, 8.6, 21.4, 5.6)
}

// signSpool is a spool of thread.
func signSpool(p *signPen) {
	p.fill(p.ink, 5, 2, 19, 2, 19, 5, 5, 5)
	p.fill(p.ink, 5, 19, 19, 19, 19, 22, 5, 22)
	p.fill(mix(p.ink, white, 0.6), 7, 5, 17, 5, 17, 19, 7, 19)
	for y := 7.0; y < 18; y += 3.4 {
		p.line(1.4, 7, y+2, 17, y)
	}
}

// signFlag marks an end.
func signFlag(p *signPen) {
	p.line(2.2, 5, 2, 5, 23)
	p.fill(p.ink, 6, 2, 21, 7, 6, 12)
}

// signWarning is an open triangle with a mark of exclamation.
func signWarning(p *signPen) {
	p.fill(white, 12, 1, 24, 22, 0, 22)
	p.line(2.2, 12, 2, 23, 21, 1, 21, 12, 2)
	p.line(2.8, 12, 9, 12, 14.6)
	p.line(2.8, 12, 17.6, 12, 18.2)
}

// signFault is a full octagon with a cross.
func signFault(p *signPen) {
	p.fill(p.ink, 7, 0, 17, 0, 24, 7, 24, 17, 17, 24, 7, 24, 0, 17, 0, 7)
	w := *p
	w.ink = white
	w.line(3.2, 7.5, 7.5, 16.5, 16.5)
	w.line(3.2, 16.5, 7.5, 7.5, 16.5)
}
