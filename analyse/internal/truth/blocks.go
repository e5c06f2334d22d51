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
