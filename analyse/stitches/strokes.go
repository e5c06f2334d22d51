package stitches

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
)

// stroke is stitches that go on in one direction, from pts[from] to pts[to].
type stroke struct {
	from, to int32
	chord    float64 // mm from its first point to its last
	length   float32 // mm along its stitches
	step     bool    // only leads from one crossing or row to the next
}

func (s *stroke) stitches() int32 { return s.to - s.from }

// straight tells crossings and rows from lines that bend on their way.
func (s *stroke) straight() bool { return float32(s.chord) >= straightRow*s.length }

// way is the vector from the first point of a stroke to its last.
func (c *classifier) way(s *stroke) geom.Point { return c.t.Pts[s.to].Sub(c.t.Pts[s.from]) }

const (
	leastStitch = 0.05 // mm: what is shorter goes nowhere, the needle is in its hole again

	strokeBend = 0.866 // cosine of 30 degrees: a stitch that bends less goes on
	turnBack   = -0.5  // cosine: strokes that turn by more than 120 degrees turn back
	zigzagTurn = 0.5   // cosine: a zigzag turns by more than 60 degrees, left and right in turn

	longestStep   = 1.3  // mm along the edge between two rows or rungs
	slantStep     = 2.2  // mm along a slanting edge, between rows at least twice as long
	toothStep     = 4.5  // mm between the teeth of a blanket stitch
	toothBack     = 0.2  // mm: a tooth comes back to the very hole that it went out from
	toothAcross   = 0.85 // cosine: and away from the tooth before
	SatinAdvance  = 1.1  // mm: crossings further apart show the cloth and are an open zigzag
	zigzagAdvance = 8.0  // mm: and further than this they are no surface at all
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

// strokesAtOnce is for how many strokes there is room before it is known how many there
// are: most lines that are sewn without a break have fewer stitches.
const strokesAtOnce = 1 << 14

// A straight line of leadFewest stitches or more is no crossing where it is leadLonger times
// as long as the one beside it: it leads into a surface, or away from it.
const (
	leadFewest = 3
	leadLonger = 2.5
)

// hopLonger is how many times as long as either neighbour a stroke is that hops from one
// surface to the next.
const hopLonger = 2.0

// leads reports whether a main stroke at the end of a chain leads to the one beside it.
func (c *classifier) leads(main, beside int) bool {
	s, n := &c.strokes[c.main[main]], &c.strokes[c.main[beside]]
	return s.stitches() >= leadFewest && s.length > leadLonger*n.length
}

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
		lo, hi := i, j
		for hi-lo >= fewest && c.leads(lo, lo+1) {
			lo++
		}
		for hi-lo >= fewest && c.leads(hi-1, hi-2) {
			hi--
		}
		if hi-lo >= fewest {
			c.chain(lo, hi)
		}
		i = j
	}
}

func (c *classifier) makeStrokes(from, to int) {
	c.watch.Step(max(0, to-from-1))
	if to-from < 2 {
		c.strokes = c.strokes[:0]
		return
	}
	pts, strokes := c.t.Pts, slices.Grow(c.strokes[:0], min(to-from, strokesAtOnce))
	last := pts[from+1].Sub(pts[from])
	lastLength := last.Norm()
	begin, chord, length := from, lastLength, float32(lastLength)
	if lastLength < leastStitch {
		last, lastLength = geom.Point{}, 0
	}
	for i := from + 2; i < to; i++ {
		v := pts[i].Sub(pts[i-1])
		l := v.Norm()
		if l < leastStitch {
			length += float32(l)
			continue
		}
		if last.Dot(v) > strokeBend*lastLength*l {
			length += float32(l)
		} else {
			if begin+1 < i-1 {
				chord = geom.Distance(pts[begin], pts[i-1])
			}
			strokes = append(strokes, stroke{from: int32(begin), to: int32(i - 1), chord: chord, length: length})
			begin, chord, length = i-1, l, float32(l)
		}
		last, lastLength = v, l
	}
	if begin+1 < to-1 {
		chord = geom.Distance(pts[begin], pts[to-1])
	}
	c.strokes = append(strokes, stroke{from: int32(begin), to: int32(to - 1), chord: chord, length: length})
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
			if !short && i > 1 && l <= min(toothStep, 3*a.length) && within(c.t.Pts[s[i-2].from], c.t.Pts[a.to], toothBack) && math.Abs(c.way(&s[i]).Dot(c.way(a))) <= toothAcross*s[i].chord*a.chord {
				short = c.tooth(i-2, i-1)
			}
			if short && c.way(a).Dot(c.way(b)) < turnBack*a.chord*b.chord {
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
	return !a.step && geom.Distance(c.t.Pts[a.from], c.t.Pts[b.to]) < toothBack && c.way(a).Dot(c.way(b)) < -0.95*a.chord*b.chord
}

// hops reports whether main stroke j leads from one surface to another, as from pearl to pearl:
// it is one stitch, more than twice as long as the strokes before and after it. The crossings
// of a column come back from where a long one went.
func (c *classifier) hops(j int) bool {
	if j == 0 || j+1 == len(c.main) {
		return false
	}
	a, s, b := &c.strokes[c.main[j-1]], &c.strokes[c.main[j]], &c.strokes[c.main[j+1]]
	return s.stitches() == 1 && s.chord > hopLonger*a.chord && s.chord > hopLonger*b.chord
}

// joined reports whether main stroke j turns back on the one before.
func (c *classifier) joined(j int) bool {
	a, b := &c.strokes[c.main[j-1]], &c.strokes[c.main[j]]
	if !a.straight() || !b.straight() {
		return false // a crossing or a row is nearly straight
	}
	if b.chord > hopLonger*a.chord && c.hops(j) || a.chord > hopLonger*b.chord && c.hops(j-1) {
		return false
	}
	u, v := c.way(a), c.way(b)
	dot, far := u.Dot(v), a.chord*b.chord
	if dot < turnBack*far {
		// A line that leads away from satin may happen to leave it backwards.
		leads := (a.stitches() > 1) != (b.stitches() > 1) &&
			geom.Distance(c.t.Pts[a.from], c.t.Pts[b.to]) > 1+1.5*float64(min(a.length, b.length))
		return !leads
	}
	if dot > zigzagTurn*far || a.stitches() > 1 || b.stitches() > 1 {
		return false
	}
	turn := u.Cross(v)
	if j >= 2 {
		z := &c.strokes[c.main[j-2]]
		if way := c.way(z); z.stitches() == 1 && way.Cross(u)*turn < 0 && way.Dot(u) < zigzagTurn*z.chord*a.chord {
			return true
		}
	}
	if j+1 < len(c.main) {
		d := &c.strokes[c.main[j+1]]
		if way := c.way(d); d.stitches() == 1 && v.Cross(way)*turn < 0 && v.Dot(way) < zigzagTurn*b.chord*d.chord {
			return true
		}
	}
	return false
}
