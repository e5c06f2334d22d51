package truth

import (
	"math"

	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// ground sews the outline for the block cloth and its hold-down.
func (q *quilt) ground(side float64) {
	q.stop(outline)
	q.run(q.big(rect(0, 0, side, side)))
	q.stop(holdDown).Lay = true
	q.run(inside(q.big(rect(0, 0, side, side)), -1))
}

// layers sews the hold-downs of batting and backing, a little further out.
func (q *quilt) layers(side float64) {
	q.stop(batting).Lay = true
	q.run(inside(q.big(rect(0, 0, side, side)), -1.5))
	q.stop(backing).Lay = true
	q.run(inside(q.big(rect(0, 0, side, side)), -2))
}

// echo quilts round the outlines.
func (q *quilt) echo(p st.Path, n int) {
	for i := range n {
		q.Run(q.path(inside(p, -5-6*float64(i))), 2.5)
	}
	q.TieOff()
}

// Sides are of 120 mm as drawn, so that blocks come in 70 to 350 mm.
var wholeBlocks = []blockRecipe{
	{"block with batting, backing and quilting", 0.8, 2.9, func(q *quilt) {
		p := q.big(heart(0, 0, 60))
		q.ground(120)
		q.piecesOf(p)
		q.layers(120)
		q.stop(quilting)
		q.echo(q.big(circle(0, 0, 36)), 3)
	}},
	{"block without batting", 0.6, 2.9, func(q *quilt) {
		q.ground(120)
		q.piecesOf(q.big(circle(0, 0, 40)))
	}},
	{"block with batting only", 0.7, 2, func(q *quilt) {
		q.ground(120)
		q.piecesOf(q.big(star(0, 0, 45, 20, 5)))
		q.stop(batting).Lay = true
		q.run(inside(q.big(rect(0, 0, 120, 120)), -1.5))
		q.stop(quilting)
		q.echo(q.big(circle(0, 0, 42)), 2)
	}},
	{"block with batting and backing, not quilted", 0.7, 2, func(q *quilt) {
		q.ground(120)
		q.piecesOf(q.big(blob(0, 0, 35)))
		q.layers(120)
	}},
	{"block of thirteen stops", 0.8, 2, func(q *quilt) {
		q.ground(130)
		pot, lid, spout := q.big(blob(0, -12, 28)), q.big(circle(0, 36, 12)), q.big(heart(45, 10, 24))
		q.laidAndTacked(pot)
		q.laidAndTacked(lid)
		q.laidAndTacked(spout)
		q.stop(cover).Parts = []string{cover, edgeRun}
		for _, p := range []st.Path{pot, lid, spout} {
			q.satinOver(3.5, p)
			q.Trim()
			q.triple(inside(p, -2.3))
		}
		q.stop(decoration)
		for i := range 3 {
			q.Satin(q.path(q.big(wave(-20+10*float64(i), -14, 9, 2, 1))), st.SatinAlong{Width: 2, Pitch: 0.4}).TieOff().Trim()
		}
		q.layers(130)
		q.stop(quilting)
		q.echo(q.big(circle(0, 0, 50)), 1)
	}},
	{"block with four pieces in the same stops", 0.8, 2, func(q *quilt) {
		q.ground(140)
		var ps []st.Path
		for i := range 4 {
			sin, cos := math.Sincos(math.Pi/4 + math.Pi/2*float64(i))
			ps = append(ps, q.big(blob(38*cos, 38*sin, 18)))
		}
		q.piecesOf(ps...)
		q.stop(edgeRun)
		for _, p := range ps {
			q.triple(inside(p, -2.2))
		}
		q.layers(140)
		q.stop(quilting)
		q.echo(q.big(circle(0, 0, 10)), 1)
		q.Run(q.path(q.big(circle(0, 0, 66))), 2.5).TieOff()
	}},
	{"block quilted all over", 0.8, 2, func(q *quilt) {
		q.ground(120)
		q.piecesOf(q.big(circle(0, 0, 30)))
		q.layers(120)
		q.stop(quilting)
		for i := range 8 {
			y := -50 + 14*float64(i)
			q.Run(q.path(q.big(wave(-55, y, 110, 3, 4))), 2.5).Trim()
		}
	}},
	{"block whose quilting is in two colours", 0.8, 2, func(q *quilt) {
		q.ground(120)
		q.piecesOf(q.big(heart(0, 0, 55)))
		q.layers(120)
		q.stop(quilting)
		q.echo(q.big(circle(0, 0, 34)), 2)
		q.stop(quilting)
		q.triple(q.big(star(0, 0, 56, 50, 8)))
	}},
	{"round block", 0.8, 2.5, func(q *quilt) {
		c := q.big(circle(0, 0, 60))
		q.stop(outline)
		q.run(c)
		q.stop(holdDown).Lay = true
		q.run(inside(c, -1))
		q.piecesOf(q.big(star(0, 0, 40, 18, 5)))
		q.stop(batting).Lay = true
		q.run(inside(c, -1.5))
		q.stop(backing).Lay = true
		q.run(inside(c, -2))
	}},
	{"block with a fill before the piece", 0.8, 1.8, func(q *quilt) {
		q.ground(120)
		q.stop(decoration)
		q.Fill(q.path(q.big(rect(0, -45, 100, 18))), 0.4, 4, q.angle(0)).TieOff()
		q.piecesOf(q.big(circle(0, 10, 30)))
		q.layers(120)
	}},
	{"block whose hold-downs lie on the first line", 0.8, 2, func(q *quilt) {
		p := q.big(rect(0, 0, 120, 120))
		q.stop(outline)
		q.run(p)
		q.stop(holdDown).Lay = true
		q.run(p)
		q.piecesOf(q.big(heart(0, 0, 60)))
		q.stop(batting).Lay = true
		q.run(p)
		q.stop(backing).Lay = true
		q.run(p)
	}},
	{"batting first", 0.8, 2, func(q *quilt) {
		p := q.big(rect(0, 0, 120, 120))
		q.stop(outline, batting)
		q.run(p)
		q.stop(batting, holdDown)
		q.run(inside(p, -0.5))
		q.stop(holdDown, batting)
		q.run(inside(p, -1))
		q.piecesOf(q.big(circle(0, 0, 35)))
	}},
}

var withoutApplique = []blockRecipe{
	{"fills", 0.5, 2, func(q *quilt) {
		q.stop(stitching, decoration)
		q.Fill(q.path(q.big(circle(0, 0, 25))), 0.4, 4, q.angle(0)).TieOff()
		q.stop(stitching, decoration)
		q.Fill(q.path(q.big(rect(50, 0, 30, 40))), 0.4, 4, q.angle(1)).TieOff()
	}},
	{"fill with a satin border", 0.5, 2, func(q *quilt) {
		p := q.big(heart(0, 0, 60))
		q.stop(stitching, decoration)
		q.Fill(q.path(inside(p, 1)), 0.4, 4, q.angle(0.3)).TieOff()
		q.stop(stitching, decoration)
		q.Run(q.path(p), 2.5)
		q.satinOver(3, p)
	}},
	{"badge with a filled ground", 0.7, 2, func(q *quilt) {
		p := q.big(circle(0, 0, 36))
		q.stop(stitching, decoration)
		q.Run(q.path(inside(p, 1.5)), 2.5)
		q.Fill(q.path(inside(p, 1)), 0.4, 4, q.angle(0)).TieOff()
		q.stop(stitching, decoration)
		q.letters("HOTEL", -28, -4, 8)
		q.stop(stitching, decoration)
		q.OpenZigzag(q.path(p), 2.6, 2)
		q.satinOver(4, p)
	}},
	{"satin letters", 1, 1, func(q *quilt) {
		q.stop(stitching, decoration)
		q.letters("HOLES", 0, 0, 6)
		q.stop(stitching, decoration)
		q.letters("TOTEL", 0, 20, 15)
	}},
	{"letters with outlines", 1, 1, func(q *quilt) {
		q.stop(stitching, decoration)
		q.letters("HOLE", 0, 0, 20)
		q.stop(stitching, decoration)
		for i := range 4 {
			q.Run(q.path(rect(6+17.4*float64(i), 10, 15, 23)), 2).TieOff().Trim()
		}
	}},
	{"single lines", 0.4, 3, func(q *quilt) {
		q.stop(stitching, decoration)
		q.run(q.big(blob(0, 0, 30)))
		q.stop(stitching, decoration)
		q.run(q.big(wave(-30, 0, 60, 5, 2)))
	}},
	{"redwork", 0.6, 2, func(q *quilt) {
		q.stop(stitching, decoration)
		q.triple(q.big(blob(0, 0, 30)), q.big(circle(10, 10, 4)), q.big(wave(-20, -8, 30, 3, 2)))
	}},
	{"redwork in two colours, line beside line", 0.8, 2, func(q *quilt) {
		q.stop(stitching, decoration)
		q.double(q.big(heart(0, 0, 60)))
		q.stop(stitching, decoration)
		q.double(inside(q.big(heart(0, 0, 60)), 0.8))
	}},
	{"a line sewn once more in another colour", 0.8, 2, func(q *quilt) {
		q.stop(stitching, decoration)
		q.run(q.big(circle(0, 0, 30)))
		q.stop(stitching, decoration)
		q.triple(q.big(circle(0, 0, 30)))
	}},
	{"flower of satin leaves", 0.6, 1.5, func(q *quilt) {
		q.stop(stitching, decoration)
		q.Fill(q.path(q.big(circle(0, 0, 9))), 0.4, 3, q.angle(0)).TieOff()
		q.stop(stitching, decoration)
		for i := range 7 {
			sin, cos := math.Sincos(2 * math.Pi / 7 * float64(i))
			p := q.path(q.big(line(11*cos, 11*sin, 34*cos, 34*sin)))
			q.Run(p, 2)
			q.Satin(p.Reverse(), st.SatinAlong{Width: 7, Pitch: 0.4, Shape: func(t float64) float64 { return 0.1 + 0.9*math.Sin(math.Pi*t) }})
			q.TieOff().Trim()
		}
		q.stop(stitching, decoration)
		q.triple(q.big(st.Path{xy(0, -36), xy(2, -60), xy(-4, -85)}))
	}},
	{"satin frame", 0.5, 2.5, func(q *quilt) {
		p := q.big(rect(0, 0, 100, 70))
		q.stop(stitching, decoration)
		q.Run(q.path(inside(p, 0.8)), 2.5)
		q.Run(q.path(inside(p, -0.8)), 2.5)
		q.satinOver(4, p)
		q.stop(stitching, decoration)
		q.triple(inside(p, 5))
	}},
	{"outline, fill and border in three stops", 0.7, 2, func(q *quilt) {
		p := q.big(circle(0, 0, 28))
		q.stop(stitching, decoration)
		q.run(p)
		q.stop(stitching, decoration)
		q.Fill(q.path(inside(p, 0.5)), 0.4, 4, q.angle(0.5)).TieOff()
		q.stop(stitching, decoration)
		q.satinOver(3, p)
	}},
	{"satin ring with lines beside it", 0.7, 2, func(q *quilt) {
		p := q.big(circle(0, 0, 30))
		q.stop(stitching, decoration)
		q.EdgeRun(q.path(p), 4, 0.7, 2.5)
		q.satinOver(4, p)
		q.stop(stitching, decoration, edgeRun)
		q.triple(inside(p, -2.5), inside(p, 2.5))
	}},
	{"line sewn twice, and satin leaves along it", 0.7, 2, func(q *quilt) {
		p := q.big(wave(-50, 0, 100, 10, 1))
		q.stop(stitching, decoration)
		q.run(p)
		q.stop(stitching, decoration)
		q.double(p)
		q.stop(stitching, decoration)
		for i := range 7 {
			c, _ := p.At(p.Length() * (float64(i) + 0.5) / 7)
			l := q.path(st.Line(c, xy(c.X+5, c.Y+11)))
			q.Satin(l, st.SatinAlong{Width: 5, Pitch: 0.4, Shape: func(t float64) float64 { return 0.1 + 0.9*math.Sin(math.Pi*t) }})
			q.TieOff().Trim()
		}
	}},
	{"lace: a net of lines under a satin border", 0.7, 2, func(q *quilt) {
		q.stop(stitching, decoration)
		q.Run(q.path(q.big(circle(0, 0, 30))), 2.5)
		for i := range 15 {
			y := -28 + 4*float64(i)
			x := math.Sqrt(30*30 - y*y)
			q.Run(q.path(q.big(line(-x, y, x, y))), 2.5).Trim()
			q.Run(q.path(q.big(line(y, -x, y, x))), 2.5).Trim()
		}
		q.stop(stitching, decoration)
		q.OpenZigzag(q.path(q.big(circle(0, 0, 30))), 2.4, 2)
		q.satinOver(4, q.big(circle(0, 0, 30)))
	}},
	{"monogram on a filled ground", 0.8, 2, func(q *quilt) {
		q.stop(stitching, decoration)
		q.Fill(q.path(q.big(circle(0, 0, 30))), 0.45, 4, q.angle(0.4)).TieOff()
		q.stop(stitching, decoration)
		q.letters("H", -8, -12, 25)
		q.stop(stitching, decoration)
		q.double(q.big(circle(0, 0, 31)))
	}},
	{"rings of satin within rings", 0.8, 2, func(q *quilt) {
		for i := range 3 {
			p := q.big(circle(0, 0, 14+9*float64(i)))
			q.stop(stitching, decoration)
			q.EdgeRun(q.path(p), 4, 0.7, 2.5)
			q.satinOver(4, p)
		}
	}},
	{"quilting only", 0.6, 2.4, func(q *quilt) {
		q.stop(stitching, decoration, quilting)
		q.echo(q.big(circle(0, 0, 12)), 6)
		q.stop(stitching, decoration, quilting)
		for i := range 6 {
			q.Run(q.path(q.big(wave(-60, -70+2*float64(i), 120, 3, 4))), 2.5).Trim()
		}
	}},
}

// letters sews a word of capitals of height h.
func (q *quilt) letters(word string, x, y, h float64) {
	for _, c := range word {
		x += q.letter(c, x, y, h) + 0.25*h
	}
}
