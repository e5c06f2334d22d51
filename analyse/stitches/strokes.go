package stitches

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
)

// stroke is stitches that go on in one direction, from pts[from] to pts[to].
type stroke struct {
	from, to int32
	length   float32    // mm along its stitches
	dir      geom.Point // unit vector from its first point to its last
	chord    float32    // mm from its first point to its last
	step     bool       // only leads from one crossing or row to the next
}

func (s *stroke) stitches() int32 { return s.to - s.from }

const (
	strokeBend = 0.866 // cosine of 30 degrees: a stitch that bends less goes on
	turnBack   = -0.5  // cosine: strokes that turn by more than 120 degrees turn back
	zigzagTurn = 0.5   // cosine: a zigzag turns by more than 60 degrees, left and right in turn

	longestStep   = 1.3 // mm along the edge between two rows or rungs
	slantStep     = 2.2 // mm along a slanting edge, between rows at least twice as long
	toothStep     = 4.5 // mm between the teeth of a blanket stitch
	SatinAdvance  = 1.1 // mm: crossings further apart show the cloth and are an open zigzag
	zigzagAdvance = 8.0 // mm: and further than this they are no surface at all
	splitSpacing  = 0.33
	splitLongest  = 16.0 // mm from rail to rail of a split satin column
	fillSpacing   = 1.5  // mm between rows; wider rows are lines
	window        = 4    // crossings looked at to either side
	straightRow   = 0.93 // chord over length of a crossing or row
	fewest        = 4    // crossings that make a surface
	retracing     = 0.12 // mm between rows; closer ones are a line sewn over itself

	barSpacing  = 0.6  // mm between bars that are satin split in the middle; rows of a wider fill are open ground
	barLongest  = 5.0  // mm; longer bars are rows of a fill, whose stitches are 2.5 mm and more
	barHalf     = 0.15 // share of a bar by which the hole between its two stitches may miss the middle
	barSlender  = 3.0  // times as long together as one is across; less is a small fill
	leastAcross = 0.5  // mm: crossings shorter than a needle is thick are a line that wavers, not satin
)

// surfaces labels the stitches after point from and before point to, wherever
// they form satin, open zigzag or fill.
func (c *classifier) surfaces(from, to int) {
	c.makeStrokes(from, to)
	c.markSteps()
	for i := 0; i < len(c.main); {
		j := i + 1
		for j < len(c.main) && c.joined(j) {
			j++
		}
		if j-i >= fewest {
			c.chain(i, j)
		}
		i = j
	}
}

func (c *classifier) makeStrokes(from, to int) {
	c.watch.Step(max(0, to-from-1))
	pts, strokes := c.t.Pts, c.strokes[:0]
	var last geom.Point
	lastLength := 0.0
	for i := from + 1; i < to; i++ {
		v := pts[i].Sub(pts[i-1])
		l := v.Norm()
		if n := len(strokes); n > 0 && (l < 0.05 || last.Dot(v) > strokeBend*lastLength*l) {
			strokes[n-1].to = int32(i)
			strokes[n-1].length += float32(l)
		} else {
			s := stroke{from: int32(i - 1), to: int32(i), length: float32(l), chord: float32(l), dir: v}
			if l > 0 {
				s.dir = v.Times(1 / l)
			}
			strokes = append(strokes, s)
		}
		if l >= 0.05 {
			last, lastLength = v, l
		}
	}
	for i := range strokes {
		s := &strokes[i]
		if s.stitches() == 1 {
			continue
		}
		v := pts[s.to].Sub(pts[s.from])
		chord := v.Norm()
		if s.chord, s.dir = float32(chord), v; chord > 0 {
			s.dir = v.Times(1 / chord)
		}
	}
	c.strokes = strokes
}

// markSteps tells the crossings and rows from the short strokes that lead along
// the edge from one to the next, as in ladders, rows and blanket stitches.
func (c *classifier) markSteps() {
	s := c.strokes
	c.main = c.main[:0]
	for i := range s {
		if i > 0 && i+1 < len(s) && !s[i-1].step {
			a, b, l := &s[i-1], &s[i+1], s[i].length
			short := l <= longestStep && a.length >= 1.5*l && b.length >= 1.5*l ||
				l <= slantStep && a.length >= 2*l && b.length >= 2*l
			if !short && i > 1 && l <= min(toothStep, 3*a.length) && math.Abs(s[i].dir.Dot(a.dir)) < 0.85 {
				short = c.tooth(i-2, i-1)
			}
			if short && a.dir.Dot(b.dir) < turnBack {
				s[i].step = true
			}
		}
		if !s[i].step {
			c.main = append(c.main, int32(i))
		}
	}
}

// tooth reports whether stroke j goes back over stroke i to the very hole it
// came from.
func (c *classifier) tooth(i, j int) bool {
	a, b := &c.strokes[i], &c.strokes[j]
	return !a.step && a.dir.Dot(b.dir) < -0.95 && geom.Distance(c.t.Pts[a.from], c.t.Pts[b.to]) < 0.2
}

// joined reports whether main stroke j turns back on the one before.
func (c *classifier) joined(j int) bool {
	a, b := &c.strokes[c.main[j-1]], &c.strokes[c.main[j]]
	if a.chord < straightRow*a.length || b.chord < straightRow*b.length {
		return false // a crossing or a row is nearly straight
	}
	cos := a.dir.Dot(b.dir)
	if cos < turnBack {
		// A line that leads away from satin may happen to leave it backwards.
		leads := (a.stitches() > 1) != (b.stitches() > 1) &&
			geom.Distance(c.t.Pts[a.from], c.t.Pts[b.to]) > 1+1.5*float64(min(a.length, b.length))
		return !leads
	}
	if cos > zigzagTurn || a.stitches() > 1 || b.stitches() > 1 {
		return false
	}
	turn := a.dir.Cross(b.dir)
	if j >= 2 {
		z := &c.strokes[c.main[j-2]]
		if z.stitches() == 1 && z.dir.Cross(a.dir)*turn < 0 && z.dir.Dot(a.dir) < zigzagTurn {
			return true
		}
	}
	if j+1 < len(c.main) {
		d := &c.strokes[c.main[j+1]]
		if d.stitches() == 1 && b.dir.Cross(d.dir)*turn < 0 && b.dir.Dot(d.dir) < zigzagTurn {
			return true
		}
	}
	return false
}
