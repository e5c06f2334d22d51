package truth

import (
	"math"

	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// shapes are outlines that pieces are cut to.
var shapes = []struct {
	name string
	path st.Path
}{
	{"round", circle(0, 0, 30)},
	{"square", rect(0, 0, 60, 60)},
	{"star", star(0, 0, 45, 20, 5)},
	{"heart", heart(0, 0, 70)},
	{"thin strip", rect(0, 0, 90, 9)},
	{"irregular", blob(0, 0, 30)},
}

var appliques = func() []blockRecipe {
	var out []blockRecipe
	add := func(name string, small, large float64, lay func(q *quilt)) {
		out = append(out, blockRecipe{name, small, large, lay})
	}
	for _, s := range shapes {
		small := 0.7
		if s.name == "thin strip" {
			small = 1
		}
		add("one piece, "+s.name, small, 3, func(q *quilt) { q.piecesOf(q.big(s.path)) })
	}
	one := circle(0, 0, 25)
	for _, tack := range []struct {
		name string
		sew  func(q *quilt, p st.Path)
	}{
		{"single run", func(q *quilt, p st.Path) { q.run(p) }},
		{"open zigzag", func(q *quilt, p st.Path) { q.OpenZigzag(q.path(p), 2, 1.5).TieOff() }},
		{"blanket stitch", func(q *quilt, p st.Path) { q.EStitch(q.path(p), 2, 2).TieOff() }},
		{"run and open zigzag", func(q *quilt, p st.Path) {
			q.Run(q.path(p), 2.5).OpenZigzag(q.path(p), 1.8, 1.5).TieOff()
		}},
	} {
		add("tack-down as "+tack.name, 0.8, 2.5, func(q *quilt) {
			p := q.big(heart(0, 0, 70))
			q.stop(placement)
			q.run(p)
			q.tacked()
			tack.sew(q, inside(p, 0.6))
			q.stop(cover)
			q.satinOver(4, p)
			q.pieces = 1
		})
	}
	add("tack-down on the placement line", 0.8, 2, func(q *quilt) {
		p := q.big(blob(0, 0, 30))
		q.stop(placement)
		q.run(p)
		q.tacked()
		q.run(p)
		q.stop(cover)
		q.satinOver(4, p)
		q.pieces = 1
	})
	add("halts between", 0.8, 2, func(q *quilt) {
		p := q.big(one)
		q.stop(placement)
		q.run(p)
		s := q.halt(tackDown)
		s.Lay, s.Trim = true, true
		q.double(inside(p, 0.5))
		q.halt(cover)
		q.satinOver(4, p)
		q.pieces = 1
	})
	add("cover over an underlay", 0.8, 2, func(q *quilt) {
		p := q.big(one)
		q.laidAndTacked(p)
		q.stop(cover)
		q.EdgeRun(q.path(p), 4, 0.7, 2.5)
		q.satinOver(4, p)
	})
	add("cover over a zigzag underlay", 0.8, 2, func(q *quilt) {
		p := q.big(heart(0, 0, 60))
		q.laidAndTacked(p)
		q.stop(cover)
		q.OpenZigzag(q.path(p), 2.6, 2)
		q.satinOver(4, p)
	})
	add("three pieces, stop by stop", 0.7, 1.5, func(q *quilt) {
		q.piecesOf(q.big(circle(-60, 0, 22)))
		q.piecesOf(q.big(rect(0, 0, 45, 45)))
		q.piecesOf(q.big(heart(65, 0, 50)))
	})
	three := func(q *quilt) []st.Path {
		return []st.Path{q.big(circle(-60, 0, 22)), q.big(rect(0, 0, 45, 45)), q.big(blob(62, 0, 22))}
	}
	add("three pieces in the same stops", 0.7, 1.5, func(q *quilt) { q.piecesOf(three(q)...) })
	add("three pieces laid apart, covered in one stop", 0.7, 1.5, func(q *quilt) {
		for _, p := range three(q) {
			q.laidAndTacked(p)
		}
		q.stop(cover)
		q.satinOver(3.5, three(q)...)
	})
	add("three covers and their triple lines in one stop", 0.7, 1.5, func(q *quilt) {
		for _, p := range three(q) {
			q.laidAndTacked(p)
		}
		q.stop(cover).Parts = []string{cover, edgeRun}
		for _, p := range three(q) {
			q.satinOver(3.5, p)
			q.Trim()
			q.triple(inside(p, -2.3), inside(p, 2.3))
		}
	})
	add("edge runs in their own stop", 0.7, 2, func(q *quilt) {
		p := q.big(circle(0, 0, 35))
		q.piecesOf(p)
		q.stop(edgeRun)
		q.triple(inside(p, -2.2), inside(p, 2.2))
	})
	add("a piece with a hole", 0.8, 2, func(q *quilt) {
		q.holes = 1
		outer, hole := q.big(circle(0, 0, 40)), q.big(circle(3, 0, 16))
		q.stop(placement)
		q.run(outer, hole)
		q.tacked()
		q.double(inside(outer, 0.5), inside(hole, -0.5))
		q.stop(cover)
		q.satinOver(3.5, outer, hole)
		q.pieces = 1
	})
	add("overlapping pieces", 0.8, 1.8, func(q *quilt) {
		q.laidAndTacked(q.big(circle(0, 0, 30)))
		q.laidAndTacked(q.big(circle(38, 6, 25)))
		q.stop(cover)
		q.satinOver(3.5, q.big(circle(0, 0, 30)), q.big(circle(38, 6, 25)))
	})
	add("a piece on a piece", 0.8, 1.8, func(q *quilt) {
		q.piecesOf(q.big(circle(0, 0, 45)))
		q.piecesOf(q.big(star(0, 0, 26, 12, 5)))
	})
	add("a piece partly covered by the next", 0.8, 1.8, func(q *quilt) {
		// The first piece's satin leaves out what the second hides.
		q.laidAndTacked(q.big(circle(0, 0, 30)))
		q.stop(cover)
		q.satinOver(3.5, q.big(st.Arc(xy(0, 0), 30, 0.8, 2*math.Pi-0.48)))
		q.piecesOf(q.big(circle(38, 6, 25)))
	})
	add("an open placement line that ends under a piece", 0.8, 1.8, func(q *quilt) {
		open := q.big(st.Path{xy(-8, -18), xy(-8, -70), xy(8, -70), xy(8, -18)})
		q.stop(placement)
		q.run(open)
		q.tacked()
		q.double(open.Offset(0.5))
		q.stop(cover)
		q.satinOver(3.5, open)
		q.pieces++
		q.piecesOf(q.big(circle(0, 0, 26)))
	})
	add("no tack-down", 0.8, 2, func(q *quilt) {
		p := q.big(heart(0, 0, 60))
		q.stop(placement)
		q.run(p)
		q.stop(cover).Lay = true
		q.satinOver(4, p)
		q.pieces = 1
	})
	add("tack-down and cover without a pause", 0.8, 2, func(q *quilt) {
		p := q.big(circle(0, 0, 30))
		q.stop(placement)
		q.run(p)
		q.stop(cover, tackDown).Lay = true
		q.double(inside(p, 0.5))
		q.satinOver(4, p)
		q.pieces = 1
	})
	add("raw edge with a zigzag finish", 0.8, 2, func(q *quilt) {
		p := q.big(blob(0, 0, 30))
		q.stop(placement)
		q.run(p)
		q.tacked()
		q.double(inside(p, 0.5))
		q.stop(cover, edgeRun)
		q.OpenZigzag(q.path(p), 3, 1.5).TieOff()
		q.pieces = 1
	})
	add("decoration before, between and after", 0.8, 1.8, func(q *quilt) {
		p := q.big(circle(0, 0, 32))
		q.stop(decoration, stitching)
		q.Fill(q.path(q.big(rect(70, 0, 25, 40))), 0.4, 4, q.angle(0)).TieOff()
		q.laidAndTacked(p)
		q.stop(decoration)
		q.Fill(q.path(q.big(leaf(0, 0, 36, 16))), 0.4, 3.5, q.angle(0.6)).TieOff()
		q.stop(cover)
		q.satinOver(3.5, p)
		q.stop(decoration)
		q.Satin(q.path(q.big(line(-14, -14, 14, -14))), st.SatinAlong{Width: 3, Pitch: 0.4}).TieOff().Trim()
		q.Run(q.path(q.big(wave(-14, 14, 28, 3, 2))), 2).TieOff()
	})
	add("joined without cuts", 0.8, 1.8, func(q *quilt) {
		ps := []st.Path{q.big(circle(-30, 0, 20)), q.big(circle(30, 0, 20))}
		q.stop(placement)
		for _, p := range ps {
			q.Run(q.path(p), 2.5)
		}
		q.tacked()
		for _, p := range ps {
			q.DoubleRun(q.path(inside(p, 0.5)), 2.2)
		}
		q.stop(cover)
		for _, p := range ps {
			q.Satin(q.path(p), st.SatinAlong{Width: 3.5, Pitch: 0.4})
		}
		q.pieces = 2
	})
	add("placement lines first, tack-downs after", 0.8, 1.8, func(q *quilt) {
		ps := []st.Path{q.big(circle(-35, 0, 25)), q.big(heart(35, 0, 50))}
		for _, p := range ps {
			q.stop(placement)
			q.run(p)
		}
		for _, p := range ps {
			q.tacked()
			q.double(inside(p, 0.5))
		}
		q.stop(cover)
		q.satinOver(3.5, ps...)
		q.pieces = 2
	})
	add("cover in four lengths", 0.8, 2, func(q *quilt) {
		q.laidAndTacked(q.big(circle(0, 0, 30)))
		q.stop(cover)
		for i := range 4 {
			a := math.Pi / 2 * float64(i)
			q.satinOver(3.5, q.big(st.Arc(xy(0, 0), 30, a, a+math.Pi/2+0.02)))
			q.Trim()
		}
	})
	add("cover in two colours", 0.8, 2, func(q *quilt) {
		q.laidAndTacked(q.big(circle(0, 0, 30)))
		q.stop(cover)
		q.satinOver(3.5, q.big(st.Arc(xy(0, 0), 30, 0, math.Pi+0.02)))
		q.stop(cover)
		q.satinOver(3.5, q.big(st.Arc(xy(0, 0), 30, math.Pi, 2*math.Pi+0.02)))
	})
	add("pieces with nothing but jumps between", 0.8, 1.8, func(q *quilt) {
		ps := []st.Path{q.big(circle(-30, 0, 20)), q.big(rect(30, 0, 40, 36))}
		lay := func(sew func(p st.Path)) {
			for _, p := range ps {
				q.JumpTo(q.path(p)[0]).As(st.Run).StitchTo(q.path(p)[0])
				sew(p)
			}
		}
		q.stop(placement)
		lay(func(p st.Path) { q.Run(q.path(p), 2.5) })
		q.tacked()
		lay(func(p st.Path) { q.DoubleRun(q.path(inside(p, 0.5)), 2.2) })
		q.stop(cover)
		lay(func(p st.Path) { q.satinOver(3.5, p) })
		q.pieces = 2
	})
	add("badge with only a border", 1.2, 2.5, func(q *quilt) {
		p := q.big(circle(0, 0, 38))
		q.stop(placement, outline)
		q.run(p)
		s := q.stop(tackDown, holdDown)
		s.Lay, s.Trim = true, true
		q.double(inside(p, 0.8))
		q.stop(cover)
		q.EdgeRun(q.path(p), 5, 0.8, 2.5)
		q.satinOver(5, p)
		q.pieces = 1
	})
	return out
}()
