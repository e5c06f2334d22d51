package render

import (
	"context"
	"image"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// plane places report coordinates, in mm with Y up, on a picture's pixels.
type plane struct {
	perMM float64
	x, y  float64 // pixel of the report's origin

	ctx context.Context // when it has ended no more stitches are given; nil: it never does
}

// ended gives the error of a context that has ended; nil never has.
func ended(ctx context.Context) error {
	if ctx == nil {
		return nil
	}
	return ctx.Err()
}

// movesBetweenLooks is how many stitches are drawn between two looks at the context: some
// milliseconds of work.
const movesBetweenLooks = 1 << 12

// stop reports whether the drawing is to end at a move.
func (p plane) stop(move, first int) bool {
	return (move-first)%movesBetweenLooks == 0 && ended(p.ctx) != nil
}

// planeIn puts the origin in the middle of a field.
func planeIn(field image.Rectangle, perMM float64) plane {
	return plane{perMM: perMM, x: float64(field.Min.X+field.Max.X) / 2, y: float64(field.Min.Y+field.Max.Y) / 2}
}

func (p plane) at(q geom.Point) (x, y float64) { return p.x + q.X*p.perMM, p.y - q.Y*p.perMM }

// stitches calls f for each sewn stitch of a stop, with the index of its move.
func (p plane) stitches(d *stitchfile.Design, r *report.Report, s *report.Stop, f func(i int, x0, y0, x1, y1 float64)) {
	down := false
	var x0, y0 float64
	k := p.perMM / 10
	for i := s.First; i < s.Last; i++ {
		if p.stop(i, s.First) {
			return
		}
		m := d.Moves[i]
		if m.Kind != stitchfile.Stitch {
			down = false
			continue
		}
		x, y := p.x+(float64(m.X)-r.CentreX)*k, p.y-(float64(m.Y)-r.CentreY)*k
		if down {
			f(i, x0, y0, x, y)
		}
		x0, y0, down = x, y, true
	}
}

// threads calls f for all of a stop's thread on the face, sewn or loose, in its
// order.
func (p plane) threads(d *stitchfile.Design, r *report.Report, s *report.Stop, f func(x0, y0, x1, y1 float64)) {
	sewn := false
	var x0, y0 float64
	k := p.perMM / 10
	for i := s.First; i < s.Last; i++ {
		if p.stop(i, s.First) {
			return
		}
		m := d.Moves[i]
		switch m.Kind {
		case stitchfile.Trim:
			sewn = false
		case stitchfile.Stitch:
			x, y := p.x+(float64(m.X)-r.CentreX)*k, p.y-(float64(m.Y)-r.CentreY)*k
			if sewn {
				f(x0, y0, x, y)
			}
			x0, y0, sewn = x, y, true
		}
	}
}

// loose calls f for each thread that lies over the cloth between two sewn parts of
// a stop, neither sewn down nor cut, with the index of the move that ends it.
func (p plane) loose(d *stitchfile.Design, r *report.Report, s *report.Stop, f func(i int, x0, y0, x1, y1 float64)) {
	sewn, up := false, false
	var x0, y0 float64
	k := p.perMM / 10
	for i := s.First; i < s.Last; i++ {
		if p.stop(i, s.First) {
			return
		}
		m := d.Moves[i]
		switch m.Kind {
		case stitchfile.Jump:
			up = true
		case stitchfile.Trim:
			sewn = false
		case stitchfile.Stitch:
			x, y := p.x+(float64(m.X)-r.CentreX)*k, p.y-(float64(m.Y)-r.CentreY)*k
			if sewn && up {
				f(i, x0, y0, x, y)
			}
			x0, y0, sewn, up = x, y, true, false
		}
	}
}

// start is where a stop's needle first goes down.
func start(d *stitchfile.Design, r *report.Report, s *report.Stop) geom.Point {
	for _, m := range d.Moves[s.First:s.Last] {
		if m.Kind == stitchfile.Stitch {
			return geom.Point{X: (float64(m.X) - r.CentreX) / 10, Y: (float64(m.Y) - r.CentreY) / 10}
		}
	}
	return geom.Point{}
}
