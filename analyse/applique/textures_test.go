package applique

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// stars sews knots in a row along a line, each of so many spokes out of one hole and back.
func stars(b *st.Builder, p st.Path, apart float64, spokes int) {
	for s := 0.0; s < p.Length(); s += apart {
		c, _ := p.At(s)
		b.StitchTo(c)
		for k := range spokes {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(spokes))
			b.StitchTo(st.Point{X: c.X + 1.1*cos, Y: c.Y + 1.1*sin}).StitchTo(c)
		}
	}
}

// Knots in a row mark, hold and hide nothing, whatever lies along them.
func TestKnotsAreNoPartOfAPiece(t *testing.T) {
	ring := st.Circle(st.Point{}, 30)
	for _, c := range []struct {
		name string
		sew  func(b *st.Builder)
		want int
	}{
		{"knots over a line", func(b *st.Builder) { b.Run(ring, 2.5).TieOff().Stop(); stars(b, ring, 5, 8) }, 0},
		{"a line over knots", func(b *st.Builder) { stars(b, ring, 5, 8); b.TieOff().Stop().Run(ring.Offset(0.3), 2.5) }, 0},
		{"knots over a line and a tack-down, satin over all", func(b *st.Builder) {
			b.Run(ring, 2.5).TieOff().Stop().Run(ring.Offset(0.3), 2.2).TieOff().Stop()
			stars(b, ring.Offset(8), 5, 8)
			b.TieOff().Stop().Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4})
		}, 1},
	} {
		b := new(st.Builder)
		c.sew(b)
		w := recognised(t, b.TieOff().Design()).Pieces
		if len(w) != c.want {
			t.Errorf("%s: %d pieces, want %d", c.name, len(w), c.want)
		}
	}
}

// Of a trace more than half of whose stitches are spokes is it said that it is knots.
func TestHowManySpokesMakeKnots(t *testing.T) {
	for _, c := range []struct {
		apart float64
		want  bool
	}{{30, true}, {46, false}} {
		line := st.Line(st.Point{}, st.Point{X: 240})
		b := new(st.Builder)
		for s := 0.0; s < line.Length(); s += c.apart {
			q, _ := line.At(s)
			b.Run(st.Path{b.At(), q}, 2)
			for k := range 8 {
				sin, cos := math.Sincos(2 * math.Pi * float64(k) / 8)
				b.StitchTo(st.Point{X: q.X + 1.5*cos, Y: q.Y + 1.5*sin}).StitchTo(q)
			}
		}
		n := 0
		for _, tr := range recognised(t, b.TieOff().Design()).Traces {
			if tr.Length > 100 && tr.knots {
				n++
			}
		}
		if (n > 0) != c.want {
			t.Errorf("knots of 16 stitches with %.0f of travel between: knots: %v, want %v", c.apart/2, n > 0, c.want)
		}
	}
}

// A line round a texture that was sewn before and ends at it is its outline; a texture that goes
// on beyond is a ground that cloth may be laid on.
func TestOutlineOfATexture(t *testing.T) {
	ring := st.Circle(st.Point{}, 30)
	for _, c := range []struct {
		name   string
		reach  float64 // of the texture from the middle, mm
		told   bool
		firmly bool
	}{
		{"a texture up to the line", 29, false, false},
		{"one that goes on beyond it", 45, true, true},
		{"one that leaves out half of it", 20, true, true},
	} {
		b := new(st.Builder)
		for y := -c.reach; y <= c.reach; y += 2.5 {
			half := math.Sqrt(max(0, c.reach*c.reach-y*y))
			b.Run(st.Line(st.Point{X: -half, Y: y}, st.Point{X: half, Y: y}), 2.2).Trim()
		}
		b.TieOff().Stop().Run(ring, 2.5).TieOff().Stop().Run(ring.Offset(0.3), 2.2).TieOff().Stop()
		b.Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4})
		w := recognised(t, b.TieOff().Design()).Pieces
		if told := len(w) == 1; told != c.told && c.told || told && w[0].Next == "" && !c.firmly {
			t.Errorf("%s: %d pieces, want told %v, firmly %v", c.name, len(w), c.told, c.firmly)
		}
	}
}

// A raw edge's tack-down may have a second row inside it; with a third they are rings that fill
// a shape.
func TestRingsThatFillAShape(t *testing.T) {
	raw := func(rings int) int {
		ring := st.Circle(st.Point{}, 30)
		b := new(st.Builder).Run(ring, 2.5).TieOff().Stop()
		for k := range rings {
			b.Run(ring.Offset(2+2.5*float64(k)), 2.2).Trim()
		}
		return len(recognised(t, b.TieOff().Design()).Pieces)
	}
	for rings, want := range map[int]int{1: 1, 2: 1, 3: 0, 4: 0} {
		if got := raw(rings); got != want {
			t.Errorf("%d rings inside a line: %d pieces, want %d", rings, got, want)
		}
	}
}

// A blanket stitch marks no place for cloth, and a raw edge least of all; a zigzag may.
func TestBlanketStitchMarksNoPlace(t *testing.T) {
	line := func(kind report.Kind, teeth bool) *chain {
		c := ringChain(at(1, single, 2, 0))
		c.line.Kind, c.line.blanket = kind, teeth
		return c
	}
	weighsMore(t, "a line of zigzag", line(report.KindOpenZigzag, false).lineEvidence(), line(report.KindOpenZigzag, true).lineEvidence(), true)
	raw := func(teeth bool) evidence {
		c := line(report.KindOpenZigzag, teeth)
		return apart().rawEvidence(c, &option{tack: c.rounds[0]})
	}
	weighsMore(t, "a raw edge along a zigzag", raw(false), raw(true), true)
	ring := st.Circle(st.Point{}, 30)
	for _, c := range []struct {
		teeth bool
		sew   func(b *st.Builder)
	}{
		{true, func(b *st.Builder) { b.EStitch(ring, 3, 3) }},
		{false, func(b *st.Builder) { b.OpenZigzag(ring, 3, 3) }},
	} {
		b := new(st.Builder)
		c.sew(b)
		b.TieOff().Stop().Run(ring.Offset(0.5), 2.2)
		rec := recognised(t, b.TieOff().Design())
		if len(rec.chains) == 0 || rec.chains[0].line.Kind != report.KindOpenZigzag || rec.chains[0].line.blanket != c.teeth {
			t.Errorf("%d chains, want one along a line that is a blanket stitch: %v", len(rec.chains), c.teeth)
		}
	}
}

// Rings that fill a shape hold no cloth under a cover, and mark no place for any; a second row
// of a tack-down does, and so does a line with another beside it.
func TestRingsUnderACover(t *testing.T) {
	confidence := func(lines, tacks int) float64 {
		ring := st.Circle(st.Point{}, 30)
		b := new(st.Builder)
		for k := range lines {
			b.Run(ring.Offset(2.5*float64(k)), 2.2).Trim()
		}
		b.TieOff().Stop()
		for k := range tacks {
			b.Run(ring.Offset(0.5+2.5*float64(k)), 2.2).Trim()
		}
		b.TieOff().Stop().Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4})
		for _, w := range recognised(t, b.TieOff().Design()).Pieces {
			return w.Confidence
		}
		return 0
	}
	for _, c := range []struct{ lines, tacks, fewer, less int }{{1, 3, 1, 2}, {3, 1, 2, 1}} {
		more, few := confidence(c.lines, c.tacks), confidence(c.fewer, c.less)
		if more > few-0.02 {
			t.Errorf("%d lines and %d rounds of a tack-down: confidence %.3f, with %d and %d %.3f: want less", c.lines, c.tacks, more, c.fewer, c.less, few)
		}
	}
}

// Of cloth that nothing but its finish holds, a motif line is the least likely finish.
func TestWhatHoldsClothAlone(t *testing.T) {
	weighsMore(t, "satin and a blanket stitch", preCutBy(satinMade), preCutBy(blanket), true)
	weighsMore(t, "a zigzag and a blanket stitch", preCutBy(zigzag), preCutBy(blanket), false)
	weighsMore(t, "a blanket stitch and a motif line", preCutBy(blanket), preCutBy(motif), true)
}

// Lines beside lines are one pattern, in whatever stops: they do not vouch for one another. One
// that a heavier line finishes in a third stop does, and so does one with a cover.
func TestLinesThatVouchForNoOther(t *testing.T) {
	for _, c := range []struct {
		name       string
		line, tack int
		more       *round
		cover      []*round
		want       bool
	}{
		{"in the same stops", 2, 3, nil, nil, false},
		{"in the next", 3, 4, nil, nil, false},
		{"in others", 4, 5, nil, nil, false},
		{"finished by a bean line", 4, 5, at(6, triple, 2.5, 0), nil, true},
		{"a zigzag", 4, 5, nil, nil, true},
		{"a tack-down sewn twice", 4, 5, nil, nil, true},
		{"covered", 4, 5, nil, []*round{at(6, satinMade, 0, 4)}, true},
	} {
		m := manner{stops: map[[2]int]int{}, raw: map[[2]int]int{}, beside: map[[2]int]int{}}
		tack := at(c.tack, single, 2, 0)
		if c.name == "a zigzag" {
			tack = at(c.tack, zigzag, 2, 2)
		}
		if c.name == "a tack-down sewn twice" {
			tack.made = double
		}
		other := ringChain(tack)
		if c.more != nil {
			other = ringChain(tack, c.more)
		}
		other.line.Stop = c.line
		m.count(other, &option{tack: tack, cover: c.cover, score: 1}, 1)
		own := ringChain()
		own.line.Stop = 2
		if got := m.like(own, &option{tack: at(3, single, 2, 0), bare: true}) != 0; got != c.want {
			t.Errorf("%s: it vouches: %v, want %v", c.name, got, c.want)
		}
	}
}

// Zigzags along lines of several shapes, with nothing between, do not make one another covers of
// cloth cut beforehand, unless none would be told else; satin so sewn does.
func TestZigzagsVouchForNoCover(t *testing.T) {
	for _, c := range []struct {
		made  sewing
		score float64
		want  bool
	}{{zigzag, 0, false}, {zigzag, -0.45, false}, {zigzag, -0.55, true}, {satinMade, 0, true}} {
		m := manner{stops: map[[2]int]int{}, raw: map[[2]int]int{}, beside: map[[2]int]int{}}
		o := option{cover: []*round{at(1, c.made, 0, 3)}, score: c.score}
		m.count(ringChain(), &o, 1)
		m.count(ringChain(), &o, 1)
		if got := m.like(ringChain(), &o) != 0; got != c.want {
			t.Errorf("%v along lines, %.2f likely alone, vouches for more: %v, want %v", c.made, c.score, got, c.want)
		}
	}
}

// What is sewn over with lines after a line and a tack-down that no pause parts is lace; where a
// pause parts them, it may be cloth that is embroidered.
func TestLaceIsNoLostPause(t *testing.T) {
	weight := func(tack int, share float64) evidence {
		c := ringChain(at(tack, single, 0.5, 0), at(2, satinMade, 0, 4))
		c.line.Spans = [][2]int{{0, 40}}
		o := &option{tack: c.rounds[0], cover: c.rounds[1:]}
		end, first, last := 40, o.tack.first(), o.cover[0].first()
		c.known = []known{{'f', end, last, 0}, {'b', 0, c.line.first, 0}, {'x', 0, c.line.first, 0}, {'n', end, first, 0}, {'y', end, last, share}}
		return apart().insideEvidence(c, o)
	}
	weighsMore(t, "lines over 0.55 of the inside", weight(0, 0), weight(0, 0.55), false)
	weighsMore(t, "lines over 0.65 of it", weight(0, 0), weight(0, 0.65), true)
	weighsMore(t, "lines over 0.65 of it after a pause", weight(1, 0), weight(1, 0.65), false)
}
