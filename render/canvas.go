package render

import (
	"image"
	"image/color"

	"github.com/stopcard/stopcard/analyse/geom"
)

// canvas is a sheet of paper that is drawn on, either pixels or a page of a PDF.
// Lengths are in millimetres from the sheet's upper left corner, Y down.
type canvas interface {
	// area fills the inside of a closed line.
	area(c color.RGBA, corners ...geom.Point)
	// line draws a line of even width with round ends.
	line(c color.RGBA, wide float64, points ...geom.Point)
	// dashed is line with gaps.
	dashed(c color.RGBA, wide, on, off float64, points ...geom.Point)
	// write puts one line of letters with its baseline at y.
	write(l lettering, c color.RGBA, x, y float64, text string)
	// picture fits a picture into a rectangle.
	picture(at rect, img image.Image)
	// clip keeps what draw draws within a rectangle.
	clip(at rect, draw func())
}

// rect is a rectangle on a sheet, in mm.
type rect struct{ x, y, w, h float64 }

func (r rect) right() float64  { return r.x + r.w }
func (r rect) bottom() float64 { return r.y + r.h }

func (r rect) corners() []geom.Point {
	return []geom.Point{{X: r.x, Y: r.y}, {X: r.right(), Y: r.y}, {X: r.right(), Y: r.bottom()}, {X: r.x, Y: r.bottom()}}
}

// overlaps reports whether two rectangles share ground.
func (r rect) overlaps(q rect) bool {
	return r.x < q.right() && q.x < r.right() && r.y < q.bottom() && q.y < r.bottom()
}

// zoomed is a canvas drawn k times as large, with its corner at a place on another.
type zoomed struct {
	cv   canvas
	k    float64
	x, y float64
}

func (z zoomed) point(q geom.Point) geom.Point {
	return geom.Point{X: z.x + q.X*z.k, Y: z.y + q.Y*z.k}
}

func (z zoomed) points(line []geom.Point) []geom.Point {
	out := make([]geom.Point, len(line))
	for i, q := range line {
		out[i] = z.point(q)
	}
	return out
}

func (z zoomed) rect(r rect) rect {
	p := z.point(geom.Point{X: r.x, Y: r.y})
	return rect{p.X, p.Y, r.w * z.k, r.h * z.k}
}

func (z zoomed) area(c color.RGBA, corners ...geom.Point) { z.cv.area(c, z.points(corners)...) }
func (z zoomed) line(c color.RGBA, wide float64, points ...geom.Point) {
	z.cv.line(c, wide*z.k, z.points(points)...)
}
func (z zoomed) dashed(c color.RGBA, wide, on, off float64, points ...geom.Point) {
	z.cv.dashed(c, wide*z.k, on*z.k, off*z.k, z.points(points)...)
}
func (z zoomed) write(l lettering, c color.RGBA, x, y float64, text string) {
	p := z.point(geom.Point{X: x, Y: y})
	l.em *= z.k
	z.cv.write(l, c, p.X, p.Y, text)
}
func (z zoomed) picture(at rect, img image.Image) { z.cv.picture(z.rect(at), img) }
func (z zoomed) clip(at rect, draw func())        { z.cv.clip(z.rect(at), draw) }

func fillRect(cv canvas, r rect, c color.RGBA) { cv.area(c, r.corners()...) }

// frameRect draws a rectangle's outline inside it.
func frameRect(cv canvas, r rect, wide float64, c color.RGBA) {
	fillRect(cv, rect{r.x, r.y, r.w, wide}, c)
	fillRect(cv, rect{r.x, r.bottom() - wide, r.w, wide}, c)
	fillRect(cv, rect{r.x, r.y, wide, r.h}, c)
	fillRect(cv, rect{r.right() - wide, r.y, wide, r.h}, c)
}
