package render

import (
	"fmt"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
)

// cutPage is a sheet of pieces to cut, or several for one that no sheet holds.
type cutPage struct {
	tiles tiles
	draw  drawing
}

// placed is a piece on its sheet: shift moves its lines, in mm, Y up.
type placed struct {
	s     shape
	shift geom.Point
	at    rect // what it takes up, from the field's upper left, Y down
}

// cutSheets sets the pieces side by side, so that none lies on another. Each keeps
// the way it lies in the design: up is up.
func (t *template) cutSheets() []cutPage {
	var pages []cutPage
	var row []placed
	x, y, tall := 0.0, 0.0, 0.0
	flush := func() {
		if len(row) > 0 {
			pages = append(pages, t.shelfPage(row))
		}
		row, x, y, tall = nil, 0, 0, 0
	}
	for _, s := range t.shapes {
		lines := append(append([][]geom.Point{}, s.cut...), s.placement...)
		if len(s.cut) == 0 {
			continue // an open line encloses nothing to cut
		}
		var all []geom.Point
		for _, l := range lines {
			all = append(all, l...)
		}
		if len(all) == 0 {
			continue
		}
		b := geom.BoxOf(all)
		w := max(b.Width(), capitals(2.4, true).width(t.caption(s))) + pieceAir
		h := b.Height() + captionMM + pieceAir
		if w > t.fieldW || h > t.fieldH {
			k := t.tilesFor(geom.Box{Lo: geom.Point{X: b.Lo.X, Y: b.Lo.Y - captionMM}, Hi: b.Hi})
			pages = append(pages, cutPage{k, func(cv canvas, o geom.Point) { t.drawPiece(cv, s, o, b) }})
			continue
		}
		if x+w > t.fieldW {
			x, y, tall = 0, y+tall, 0
		}
		if y+h > t.fieldH {
			flush()
		}
		row = append(row, placed{s, geom.Point{X: x + pieceAir/2 - b.Lo.X, Y: -(y + pieceAir/2 + b.Hi.Y)}, rect{x, y, w, h}})
		x, tall = x+w, max(tall, h)
	}
	flush()
	return pages
}

// shelfPage is a sheet of pieces side by side.
func (t *template) shelfPage(row []placed) cutPage {
	f := t.field()
	half := geom.Point{X: f.w / 2, Y: f.h / 2}
	k := tiles{lo: geom.Point{X: -half.X, Y: -half.Y}, hi: half, cols: 1, rows: 1}
	return cutPage{k, func(cv canvas, o geom.Point) {
		for _, p := range row {
			var all []geom.Point
			for _, l := range append(append([][]geom.Point{}, p.s.cut...), p.s.placement...) {
				all = append(all, l...)
			}
			t.drawPiece(cv, p.s, geom.Point{X: f.x + p.shift.X, Y: f.y - p.shift.Y}, geom.BoxOf(all))
		}
	}}
}

func (t *template) caption(s shape) string {
	return fmt.Sprintf("piece %d, stop %d", s.number, s.stop)
}

// drawPiece draws a piece with its name below it; b is the box round its lines.
func (t *template) drawPiece(cv canvas, s shape, o geom.Point, b geom.Box) {
	for _, l := range s.placement {
		cv.line(ink, templateLine, move(l, o)...)
	}
	for _, l := range s.cut {
		cv.dashed(alarm, templateLine*1.3, 4, 1.6, move(l, o)...)
	}
	l := capitals(2.4, true)
	text := t.caption(s)
	cv.write(l, ink, o.X+b.Middle().X-l.width(text)/2, o.Y-b.Lo.Y+captionMM-2.4, text)
}

// cutWords tell what is on a sheet of pieces.
func (t *template) cutWords(sheets int) string {
	larger := unitsOf(t.r).Length(t.margin) + " larger on every side"
	onLine := func(s shape) bool { return s.margin == 0 }
	switch {
	case t.margin == 0:
		larger = "which is the line itself"
	case slices.ContainsFunc(t.shapes, onLine):
		larger += ", or on the line itself where no tack-down holds the piece"
	}
	text := fmt.Sprintf("%s. Solid line: placement line. Dashed line: cut along it, %s. Right side of the cloth up; the pieces lie as in the hoop. Scissors and knives: keep fingers clear.", titleOf(t.r), larger)
	if sheets > 1 {
		text += " Lay the crosses of sheets that meet on one another."
	}
	return text
}
