package applique

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// besideCovered sews two pieces with a satin, each tacked down with a line sewn twice 0.5 mm
// inside its line, and what is to be asked about round a circle to their right. The stops of
// covered pieces end with after, where there is one.
func besideCovered(after, sew func(b *st.Builder, ring st.Path)) *st.Builder {
	b := new(st.Builder)
	for x := range 2 {
		ring := st.Circle(st.Point{X: 60 * float64(x)}, 20)
		b.Run(ring, 2.5).TieOff().Stop().DoubleRun(ring.Offset(0.5), 2.2).TieOff().Stop()
		b.Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Stop()
		if after != nil {
			after(b, ring)
			b.TieOff().Stop()
		}
	}
	sew(b, st.Circle(st.Point{X: 120}, 20))
	return b.TieOff()
}

// third is the finish of the piece round the circle, "" where it is none.
func third(t *testing.T, b *st.Builder) report.Finish {
	t.Helper()
	for _, w := range recognised(t, b.Design()).Pieces {
		if w.Place.Box.Lo.X > 30 {
			return w.Finish
		}
	}
	return ""
}

// waved is a path that swings to both sides of another, high and long mm.
func waved(p st.Path, high, long float64) (out st.Path) {
	for s := 0.0; s <= p.Length(); s += 0.4 {
		c, way := p.At(s)
		up := high / 2 * math.Sin(s*2*math.Pi/long)
		out = append(out, st.Point{X: c.X - up*way.Y, Y: c.Y + up*way.X})
	}
	return append(out, out[0])
}

// A piece whose cover was forgotten is found though its tack-down is made otherwise than
// those of the others, where line and tack-down are all that two stops sew. Lines that may
// be sewn for their looks are none.
func TestForgottenCoverOfAPieceMadeOtherwise(t *testing.T) {
	pair := func(line, tack func(b *st.Builder, p st.Path)) func(b *st.Builder, ring st.Path) {
		return func(b *st.Builder, ring st.Path) {
			line(b, ring)
			b.TieOff().Stop()
			tack(b, ring)
		}
	}
	run := func(in float64) func(b *st.Builder, p st.Path) {
		return func(b *st.Builder, p st.Path) { b.Run(p.Offset(in), 2.3) }
	}
	bean := func(in float64) func(b *st.Builder, p st.Path) {
		return func(b *st.Builder, p st.Path) { b.TripleRun(p.Offset(in), 2.3) }
	}
	twice := func(b *st.Builder, p st.Path) { b.DoubleRun(p, 2.3) }
	zigzag := func(b *st.Builder, p st.Path) { b.OpenZigzag(p.Offset(0.6), 2, 2) }
	flower := func(b *st.Builder, p st.Path) {
		b.TieOff().Trim().JumpTo(st.Point{X: 120, Y: 40}).Run(st.Circle(st.Point{X: 120, Y: 45}, 5), 2)
	}
	for _, c := range []struct {
		name string
		sew  func(b *st.Builder, ring st.Path)
		want report.Finish
	}{
		{"a zigzag along a line sewn twice", pair(twice, zigzag), report.FinishZigzag},
		{"a single line 0.3 mm inside", pair(run(0), run(0.3)), report.FinishMissing},
		{"a bean line on the line", pair(run(0), bean(0)), report.FinishMissing},
		{"a single line 0.8 mm inside", pair(run(0), run(0.8)), report.FinishMissing},
		{"a single line on a bean line", pair(bean(0), run(0.3)), report.FinishMissing},
		{"a bean line 0.8 mm inside", pair(run(0), bean(0.8)), report.FinishMissing},
		{"a single line inside a bean line by 1.2 mm", pair(bean(0), run(1.2)), ""},
		{"a line sewn on in stitches of a line that wanders", pair(run(0), func(b *st.Builder, p st.Path) { b.Run(waved(p, 1, 20), 2.3) }), ""},
		{"a line of a stop that sews a flower as well", pair(func(b *st.Builder, p st.Path) { run(0)(b, p); flower(b, p) }, run(0.3)), ""},
		{"a zigzag of a stop that sews a flower as well", pair(twice, func(b *st.Builder, p st.Path) { zigzag(b, p); flower(b, p) }), ""},
		{"a zigzag three stops later", func(b *st.Builder, ring st.Path) {
			twice(b, ring)
			flower(b.TieOff().Stop(), ring)
			flower(b.TieOff().Stop(), ring)
			zigzag(b.TieOff().Stop(), ring)
		}, ""},
	} {
		if got := third(t, besideCovered(nil, c.sew)); got != c.want {
			t.Errorf("%s: the piece is finished with %q, want %q", c.name, got, c.want)
		}
	}
}

// Pieces sewn alike miss their cover wherever the points of a zigzag lie: half of its holes
// lie on either side of its middle.
func TestForgottenCoverOverAZigzag(t *testing.T) {
	for _, c := range []struct {
		from, in float64
		want     report.Finish
	}{{0, 0.6, report.FinishZigzag}, {7.3, 0.6, report.FinishZigzag}, {0, 1.0, report.FinishZigzag}} {
		b := new(st.Builder)
		for x := range 3 {
			ring := st.Circle(st.Point{X: 60 * float64(x)}, 20)
			b.DoubleRun(ring, 2.5).TieOff().Trim().Run(st.Circle(st.Point{X: 60 * float64(x), Y: 60}, 5), 2).TieOff().Stop()
			in := 0.6
			if x == 2 {
				in = c.in
			}
			zigzag := ring.Offset(in).Sample(400)
			b.OpenZigzag(append(zigzag[int(c.from*4):], zigzag[:int(c.from*4)]...), 2, 2).TieOff().Stop()
			if x < 2 {
				b.Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Stop()
			}
		}
		if got := third(t, b); got != c.want {
			t.Errorf("a zigzag %.1f mm inside from %.1f mm on: %q, want %q", c.in, c.from, got, c.want)
		}
	}
	for _, c := range []struct {
		name string
		in   float64
		want bool
	}{{"alike", 0.5, true}, {"0.4 mm further in", 0.9, true}, {"0.6 mm further in", 1.1, false}} {
		m := manner{stops: map[[2]int]int{}}
		m.count(ringChain(), &option{tack: at(1, zigzag, 0.5, 3), cover: []*round{at(2, satinMade, 0, 3.5)}}, 1)
		tack := at(3, zigzag, c.in, 3)
		if got := m.like(ringChain(), &option{tack: tack, bare: true}) > 0; got != c.want {
			t.Errorf("a zigzag %s: its cover is missing: %v", c.name, got)
		}
		if m.like(ringChain(), &option{tack: tack}) > 0 {
			t.Errorf("a zigzag %s that something covers: its cover is missing", c.name)
		}
	}
}

// Cloth whose cover was forgotten is cut close, and has room beside another.
func TestForgottenCoverBesideAnotherPiece(t *testing.T) {
	b := new(st.Builder)
	rings := []st.Path{st.Circle(st.Point{}, 15), st.Circle(st.Point{X: 34}, 15), st.Circle(st.Point{X: 68}, 15)}
	for _, ring := range rings {
		b.Run(ring, 2.5).TieOff().Trim()
	}
	for i, ring := range rings {
		b.Stop().Run(ring.Offset(0.3), 2.2).TieOff()
		if i < 2 {
			b.Stop().Satin(ring, st.SatinAlong{Width: 3, Pitch: 0.4}).TieOff()
		}
	}
	w := recognised(t, b.Design()).Pieces
	if len(w) != 3 || w[2].Finish != report.FinishMissing {
		t.Errorf("%d pieces, want 3, the last without its cover", len(w))
	}
}

// A raw edge beside covered ones is meant where it is finished otherwise, or its tack-down
// is one to be seen.
func TestRawEdgeThatIsMeantBesideCoveredOnes(t *testing.T) {
	tacked := func(sew func(b *st.Builder, p st.Path)) func(b *st.Builder, ring st.Path) {
		return func(b *st.Builder, ring st.Path) {
			b.Run(ring, 2.5).TieOff().Stop()
			sew(b, ring)
		}
	}
	finished := func(sew func(b *st.Builder, p st.Path)) func(b *st.Builder, ring st.Path) {
		return tacked(func(b *st.Builder, p st.Path) {
			b.DoubleRun(p.Offset(0.5), 2.2).TieOff().Stop()
			sew(b, p)
		})
	}
	bean := func(in float64) func(b *st.Builder, p st.Path) {
		return func(b *st.Builder, p st.Path) { b.TripleRun(p.Offset(in), 2.3) }
	}
	for _, c := range []struct {
		name  string
		after func(b *st.Builder, ring st.Path)
		sew   func(b *st.Builder, ring st.Path)
		want  report.Finish
	}{
		{"nothing over its tack-down", nil, finished(func(b *st.Builder, p st.Path) { b.Run(st.Circle(st.Point{X: 120}, 8), 2) }), report.FinishMissing},
		{"a bean line inside", nil, finished(bean(1.5)), report.FinishRaw},
		{"a bean line inside, and all have one", bean(1.5), finished(bean(1.5)), report.FinishMissing},
		{"a bean line 1 mm outside", nil, finished(bean(-1)), report.FinishMissing},
		{"a bean line on either side of its edge", nil, finished(func(b *st.Builder, p st.Path) {
			bean(-2)(b, p)
			b.TieOff().Trim()
			bean(2)(b, p)
		}), report.FinishMissing},
		{"a shallow motif line", nil, finished(func(b *st.Builder, p st.Path) { b.Run(waved(p.Offset(1), 1.4, 7), 1.8) }), report.FinishRaw},
		{"a bean line along nine tenths of it", nil, finished(func(b *st.Builder, p st.Path) {
			q := p.Offset(1.5).Sample(200)
			b.TripleRun(q[:180], 2.3)
		}), report.FinishMissing},
		{"held by a line sewn twice 1.5 mm inside", nil, tacked(func(b *st.Builder, p st.Path) { b.DoubleRun(p.Offset(1.5), 2.2) }), report.FinishRaw},
		{"held by a bean line 1.5 mm inside", nil, tacked(bean(1.5)), report.FinishRaw},
		{"held by a line sewn twice 0.95 mm inside, as the others nearly", nil, tacked(func(b *st.Builder, p st.Path) { b.DoubleRun(p.Offset(0.95), 2.2) }), report.FinishMissing},
		{"held by a single line 1.5 mm inside", nil, tacked(func(b *st.Builder, p st.Path) { b.Run(p.Offset(1.5), 2.2) }), report.FinishMissing},
	} {
		if got := third(t, besideCovered(c.after, c.sew)); got != c.want {
			t.Errorf("%s: the piece is finished with %q, want %q", c.name, got, c.want)
		}
	}
}

// A line and its tack-down are all that their stops sew where that is nine tenths of them.
func TestWhatIsAllThatAStopSews(t *testing.T) {
	for _, c := range []struct {
		line, tack float64
		want       bool
	}{{91, 91, true}, {89, 100, false}, {100, 89, false}} {
		p := apart()
		p.lineMM[0], p.followMM[1] = c.line, c.tack
		tack := at(1, single, 0.3, 0)
		if got := p.pairAlone(ringChain(tack), tack); got != c.want {
			t.Errorf("%.0f and %.0f percent: alone %v", c.line, c.tack, got)
		}
	}
	for _, c := range []struct {
		name string
		tack *round
		want bool
	}{
		{"a line that wanders by 0.4 mm", at(1, single, 0.3, 0.4), true},
		{"a line that wanders by 0.6 mm", at(1, single, 0.3, 0.6), false},
		{"a line 0.85 mm inside", at(1, double, 0.85, 0), true},
		{"a line 0.95 mm inside", at(1, double, 0.95, 0), false},
		{"a zigzag 2 mm inside", at(1, zigzag, 2, 2), true},
		{"satin", at(1, satinMade, 0, 2), false},
		{"a line of the same stop", at(0, single, 0.3, 0), false},
	} {
		p := apart()
		p.followMM[1] = 100
		if got := p.pairAlone(ringChain(c.tack), c.tack); got != c.want {
			t.Errorf("%s: alone %v", c.name, got)
		}
	}
}

// Two pieces whose covers were forgotten are both found: neither is a sign that edges are
// left raw on purpose. One that is made as raw edges are is.
func TestTwoForgottenCovers(t *testing.T) {
	b := besideCovered(nil, func(b *st.Builder, ring st.Path) {
		b.Run(ring, 2.5).TieOff().Stop().Run(ring.Offset(0.3), 2.3).TieOff().Stop()
		low := st.Circle(st.Point{X: 120, Y: 60}, 20)
		b.DoubleRun(low, 2.5).TieOff().Stop().OpenZigzag(low.Offset(0.6), 2, 2)
	})
	missing := 0
	for _, w := range recognised(t, b.Design()).Pieces {
		if w.Finish == report.FinishMissing || w.Finish == report.FinishZigzag {
			missing++
		}
	}
	if missing != 2 {
		t.Errorf("%d pieces without their cover, want 2", missing)
	}
	m := manner{stops: map[[2]int]int{}, raw: map[[2]int]int{}}
	count := func(score float64, cover ...*round) {
		m.count(ringChain(), &option{tack: at(1, double, 0.5, 0), cover: cover, score: score}, 1)
	}
	for _, c := range []struct {
		name  string
		score float64
		cover []*round
		want  int
	}{
		{"a raw edge that stands for itself", 0.1, nil, 1},
		{"one that does not", -0.1, nil, 0},
		{"a covered piece that does not", -0.1, []*round{at(2, satinMade, 0, 3.5)}, 1},
	} {
		before := m.n
		if count(c.score, c.cover...); m.n-before != c.want {
			t.Errorf("%s: a witness for others %d times, want %d", c.name, m.n-before, c.want)
		}
	}
}

// The centre of a flower lies across the satin of its petals, and its cover may be missing.
// Lines along satin are the edges of that.
func TestForgottenCoverOverSatin(t *testing.T) {
	pair := func(b *st.Builder, p st.Path) { b.Run(p, 2.5).TieOff().Stop().DoubleRun(p.Offset(0.5), 2.2) }
	flower := func(b *st.Builder, ring st.Path) {
		for i := range 6 {
			sin, cos := math.Sincos(float64(i) * math.Pi / 3)
			b.Satin(st.Circle(st.Point{X: 120 + 15*cos, Y: 15 * sin}, 7), st.SatinAlong{Width: 3, Pitch: 0.4}).TieOff().Trim()
		}
		b.Stop()
		pair(b, st.Circle(st.Point{X: 120}, 10))
	}
	edged := func(b *st.Builder, ring st.Path) {
		b.Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Stop()
		pair(b, ring.Offset(1.8))
	}
	parted := func(b *st.Builder, ring st.Path) { // satin in parts
		q := ring.Sample(120)
		for i := range 4 {
			b.Satin(append(q[30*i:30*i+30:30*i+30], q[(30*i+30)%120]), st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Trim()
		}
		b.Stop()
		pair(b, ring.Offset(1.8))
	}
	spokes := func(share float64) func(b *st.Builder, ring st.Path) { // satin along a share of the line, and across the rest
		return func(b *st.Builder, ring st.Path) {
			end := 2 * math.Pi * share
			b.Satin(st.Arc(st.Point{X: 120}, 20, 0, end), st.SatinAlong{Width: 2, Pitch: 0.4}).TieOff().Trim()
			for a := end + 0.08; a < 2*math.Pi-0.05; a += 0.17 {
				sin, cos := math.Sincos(a)
				b.Satin(st.Line(st.Point{X: 120 + 10*cos, Y: 10 * sin}, st.Point{X: 120 + 30*cos, Y: 30 * sin}), st.SatinAlong{Width: 1.5, Pitch: 0.4}).TieOff().Trim()
			}
			b.Stop()
			pair(b, ring)
		}
	}
	for _, c := range []struct {
		name string
		sew  func(b *st.Builder, ring st.Path)
		want report.Finish
	}{
		{"a flower", flower, report.FinishMissing}, {"a ring", edged, ""}, {"a ring in parts", parted, ""},
		{"a wheel, along 0.46 of it", spokes(0.46), report.FinishMissing}, {"a wheel, along 0.56 of it", spokes(0.56), ""},
	} {
		if got := third(t, besideCovered(nil, c.sew)); got != c.want {
			t.Errorf("two lines on the satin of %s: finished with %q, want %q", c.name, got, c.want)
		}
	}
}
