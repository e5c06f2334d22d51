package render

import (
	"fmt"
	"image/color"
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
)

// planTiles are the sheets of the plan: the whole design, and the hoop where one
// is known.
func (t *template) planTiles() tiles {
	all := geom.BoxAround(geom.Point{}, t.r.WidthMM, t.r.HeightMM)
	for _, s := range t.shapes {
		for _, l := range s.placement {
			all = all.With(geom.BoxOf(l))
		}
	}
	alone := t.tilesFor(all)
	if t.hoopW > 0 && t.hoopH > 0 {
		all = all.With(geom.BoxAround(geom.Point{}, t.hoopW, t.hoopH))
	}
	// The hoop is worth no sheet of its own: what of it lies off the paper is cut off.
	if k := t.tilesFor(all); k.count() == alone.count() {
		return k
	}
	return alone
}

// planWords tell what is on the plan.
func (t *template) planWords(sheets int, cut bool) string {
	if len(t.shapes) == 0 {
		return titleOf(t.r) + ". No placement line was found; the faint lines are the whole design, the cross in the ring is its centre."
	}
	text := titleOf(t.r) + ". Plan: solid lines are placement lines, faint ones the rest of the design; the cross in the ring is its centre, where the hoop's centre goes."
	if t.hoopW > 0 && t.hoopH > 0 {
		text += " Dashes: your hoop's field, " + unitsOf(t.r).Field(t.hoopW, t.hoopH) + "."
	}
	if sheets > 1 {
		text += " Lay the crosses of sheets that meet on one another."
	}
	if cut {
		text += " The sheets \"pieces\" are to cut from."
	}
	return text
}

// planDrawing draws the plan.
func (t *template) planDrawing() drawing {
	taken := newFreeGround(t)
	var names []planName
	l := capitals(3, true)
	for _, s := range t.shapes {
		if len(s.placement) == 0 {
			continue
		}
		b := geom.BoxOf(s.placement[0])
		text := fmt.Sprintf("piece %d", s.number)
		if at, ok := taken.find(b.Middle(), l.width(text)+1.6, l.cap()+1.8); ok {
			names = append(names, planName{at, text, s})
		}
	}
	return func(cv canvas, o geom.Point) {
		place := plane{perMM: 1, x: o.X, y: o.Y, ctx: t.ctx}
		for i := range t.r.Stops {
			var line []geom.Point
			flush := func() {
				cv.line(color.RGBA{200, 200, 200, 255}, templateFaint, line...)
				line = nil
			}
			place.stitches(t.d, t.r, &t.r.Stops[i], func(_ int, x0, y0, x1, y1 float64) {
				if n := len(line); n == 0 || line[n-1] != (geom.Point{X: x0, Y: y0}) {
					flush()
					line = append(line, geom.Point{X: x0, Y: y0})
				}
				line = append(line, geom.Point{X: x1, Y: y1})
			})
			flush()
		}
		for _, s := range t.shapes {
			for _, line := range s.placement {
				cv.line(ink, templateLine, move(line, o)...)
			}
		}
		t.hoopMarks(cv, o)
		centreMark(cv, o)
		for _, n := range names {
			q := geom.Point{X: o.X + n.at.X, Y: o.Y - n.at.Y}
			if end, far := n.nearest(); far {
				e := geom.Point{X: o.X + end.X, Y: o.Y - end.Y}
				cv.line(ink, 0.2, q, e)
				cv.line(ink, 1.1, e, geom.Point{X: e.X + 0.01, Y: e.Y})
			}
			w := l.width(n.text)
			fillRect(cv, rect{q.X - w/2 - 0.6, q.Y - l.cap()/2 - 0.7, w + 1.2, l.cap() + 1.4}, white)
			cv.write(l, ink, q.X-w/2, q.Y+l.cap()/2, n.text)
		}
	}
}

// planName is the name of a piece on the plan.
type planName struct {
	at   geom.Point
	text string
	s    shape
}

// nearest is the place of the piece's line nearest to its name; far where the name
// lies outside the piece, and needs a leader.
func (n planName) nearest() (at geom.Point, far bool) {
	best := math.Inf(1)
	inside := false
	for _, line := range n.s.placement {
		inside = inside || geom.InsidePolygon(n.at, line)
		for _, q := range line {
			if d := geom.Distance(q, n.at); d < best {
				best, at = d, q
			}
		}
	}
	return at, !inside
}

// The centre mark: a cross of this half length with a ring round it, in mm.
const (
	crossArm   = 8.0
	crossRing  = 3.0
	centreTick = 6.0
)

// centreMark draws the cross at the design's centre, on white, so that no line of
// the design is taken for a part of it.
func centreMark(cv canvas, o geom.Point) {
	arms := [][2]geom.Point{
		{{X: o.X - crossArm, Y: o.Y}, {X: o.X + crossArm, Y: o.Y}},
		{{X: o.X, Y: o.Y - crossArm}, {X: o.X, Y: o.Y + crossArm}},
	}
	ring := make([]geom.Point, 49)
	for i := range ring {
		s, c := math.Sincos(float64(i) / 48 * 2 * math.Pi)
		ring[i] = geom.Point{X: o.X + crossRing*c, Y: o.Y + crossRing*s}
	}
	for _, a := range arms {
		cv.line(white, 1.6, a[:]...)
	}
	cv.line(white, 1.6, ring...)
	for _, a := range arms {
		cv.line(ink, 0.3, a[:]...)
	}
	cv.line(ink, 0.3, ring...)
}

// hoopMarks draws short ticks where the design's middle meets its edges, and the
// field of the hoop with ticks of its own.
func (t *template) hoopMarks(cv canvas, o geom.Point) {
	ticks := func(w, h, in, out float64) {
		for _, s := range []float64{-1, 1} {
			for _, a := range [][2]geom.Point{
				{{X: o.X + s*(w-in), Y: o.Y}, {X: o.X + s*(w+out), Y: o.Y}},
				{{X: o.X, Y: o.Y + s*(h-in)}, {X: o.X, Y: o.Y + s*(h+out)}},
			} {
				cv.line(white, 1.6, a[:]...)
				cv.line(ink, 0.4, a[:]...)
			}
		}
	}
	ticks(t.r.WidthMM/2, t.r.HeightMM/2, centreTick/2, 1.5)
	if t.hoopW <= 0 || t.hoopH <= 0 {
		return
	}
	w, h := t.hoopW/2, t.hoopH/2
	field := rect{o.X - w, o.Y - h, 2 * w, 2 * h}
	corners := field.corners()
	cv.dashed(ink, 0.3, 6, 1.5, append(corners, corners[0])...)
	ticks(w, h, centreTick, 0)
}
