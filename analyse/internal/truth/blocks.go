package truth

import (
	"image/color"
	"math"
	"sync"

	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// Roles of colour stops, as package analyse spells them.
const (
	outline    = "cloth outline"
	holdDown   = "cloth hold-down"
	placement  = "placement line"
	tackDown   = "tack-down"
	cover      = "cover satin"
	edgeRun    = "edge run"
	decoration = "decoration"
	batting    = "batting hold-down"
	backing    = "backing hold-down"
	quilting   = "quilting"
	stitching  = "stitching"
)

// Block is a design with the truth about its colour stops.
type Block struct {
	Name     string
	Design   *stitchfile.Design
	Stops    []Stop
	Pieces   int // pieces of applique cloth
	Holes    int // holes in them, in all
	Applique bool
}

// Stop is the truth about one colour stop.
type Stop struct {
	Roles []string // each of these is right
	Parts []string // roles that must be among its parts, where it has several
	Lay   bool     // cloth must be laid before it
	Trim  bool     // cloth must be trimmed after it and before the next
}

// quilt is a block being laid.
type quilt struct {
	sheet
	size    float64 // scale of outlines
	colours int     // 0: none in the file, 1: all different, 2: all the same
	stops   []Stop
	pieces  int
	holes   int
}

// Blocks are built blocks: pieces, whole blocks, and designs without applique,
// each as drawn; turned, with no colours in the file; turned and resized; and
// mirrored and resized, in one colour. All calls give the same designs, which must not be
// changed.
func Blocks() []Block { return madeBlocks() }

var madeBlocks = sync.OnceValue(func() []Block {
	var out []Block
	for k, list := range [][]blockRecipe{appliques, wholeBlocks, withoutApplique} {
		for _, r := range list {
			for i, as := range []struct {
				name string
				place
				size    float64
				colours int
			}{
				{"", place{scale: 1}, 1, 1},
				{", turned by a fourth", place{scale: 1, turn: math.Pi / 2, dx: 12}, 1, 0},
				{", turned", place{scale: 1, turn: 0.35, dx: -31.3, dy: 8}, r.small, 1},
				{", mirrored", place{scale: 1, turn: -math.Pi / 2, mirror: true, dy: -50}, r.large, 2},
			} {
				// A whole block is hooped square.
				if k == 1 && i == 2 {
					as.turn = math.Pi
				}
				q := &quilt{sheet: sheet{place: as.place}, size: as.size, colours: as.colours}
				q.Name = r.name
				r.lay(q)
				out = append(out, Block{
					Name: r.name + as.name, Design: q.Design(), Stops: q.stops,
					Pieces: q.pieces, Holes: q.holes, Applique: k < 2,
				})
			}
		}
	}
	return out
})

type blockRecipe struct {
	name         string
	small, large float64 // scales it also comes in
	lay          func(q *quilt)
}

var hues = []color.RGBA{
	{180, 30, 40, 255}, {20, 90, 160, 255}, {230, 180, 40, 255}, {40, 130, 70, 255}, {120, 60, 140, 255},
	{240, 120, 40, 255}, {30, 30, 30, 255}, {150, 200, 220, 255}, {110, 70, 40, 255}, {220, 130, 170, 255},
}

// stop begins a colour stop with the roles that are right for it.
func (q *quilt) stop(roles ...string) *Stop {
	if len(q.stops) > 0 {
		q.Stop()
	}
	return q.begin(roles)
}

// halt begins a stop after a plain halt.
func (q *quilt) halt(roles ...string) *Stop {
	q.Halt()
	return q.begin(roles)
}

func (q *quilt) begin(roles []string) *Stop {
	switch q.colours {
	case 1:
		q.Thread(hues[len(q.stops)%len(hues)], "")
	case 2:
		q.Thread(hues[1], "")
	}
	q.stops = append(q.stops, Stop{Roles: roles})
	return &q.stops[len(q.stops)-1]
}

// big scales an outline to the size of the block.
func (q *quilt) big(p st.Path) st.Path {
	return p.Map(func(v st.Point) st.Point { return xy(v.X*q.size, v.Y*q.size) })
}

// run sews outlines as single lines, cut between.
func (q *quilt) run(paths ...st.Path) {
	for i, p := range paths {
		if i > 0 {
			q.Trim()
		}
		p = q.path(p)
		q.TieIn(p[0], xy(p[1].X-p[0].X, p[1].Y-p[0].Y))
		q.Run(p, 2.5).TieOff()
	}
}

func (q *quilt) double(paths ...st.Path) {
	for i, p := range paths {
		if i > 0 {
			q.Trim()
		}
		q.DoubleRun(q.path(p), 2.2).TieOff()
	}
}

func (q *quilt) triple(paths ...st.Path) {
	for _, p := range paths {
		q.TripleRun(q.path(p), 2.5).TieOff().Trim()
	}
}

// satinOver sews covers, cut between, mitred where the outline has few corners.
func (q *quilt) satinOver(width float64, paths ...st.Path) {
	for i, p := range paths {
		if i > 0 {
			q.Trim()
		}
		p = q.path(p)
		if len(p) <= 16 && len(p) > 2 {
			q.Mitred(p, width, 0.4).TieOff()
		} else {
			q.Satin(p, st.SatinAlong{Width: width, Pitch: 0.4}).TieOff()
		}
	}
}

// inside is a closed counter-clockwise outline drawn in by d.
func inside(p st.Path, d float64) st.Path { return p.Offset(d) }

func insideAll(ps []st.Path, d float64) []st.Path {
	var out []st.Path
	for _, p := range ps {
		out = append(out, inside(p, d))
	}
	return out
}

// piecesOf sews placement, tack-down and cover of the outlines in three stops.
func (q *quilt) piecesOf(paths ...st.Path) {
	q.laidAndTacked(paths...)
	q.stop(cover)
	q.satinOver(3.5, paths...)
}

func (q *quilt) laidAndTacked(paths ...st.Path) {
	q.stop(placement)
	q.run(paths...)
	s := q.stop(tackDown)
	s.Lay, s.Trim = true, true
	q.double(insideAll(paths, 0.5)...)
	q.pieces += len(paths)
}

func (q *quilt) tacked() { s := q.stop(tackDown); s.Lay, s.Trim = true, true }

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
