package applique

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// knots sews knots in a row along a line, stars of six stitches of a length out and back,
// and the travel between them.
func knots(b *st.Builder, p st.Path, apart, size float64) {
	for s := 0.0; s < p.Length(); s += apart {
		c, way := p.At(s)
		b.Run(st.Path{b.At(), c}, 2.2)
		for k := range 6 {
			side := 1 - 2*float64(k%2)
			b.StitchTo(st.Point{X: c.X + side*size*(way.X-way.Y)/1.42, Y: c.Y + side*size*(way.X+way.Y)/1.42})
			b.StitchTo(c)
		}
	}
}

// Knots and figures in a row round a block adorn it; a line holds a layer down.
func TestFiguresHoldNoLayer(t *testing.T) {
	wave := func(high float64) st.Path {
		p := inBlock(1)
		var out st.Path
		for s := 0.0; s <= p.Length(); s += 0.5 {
			c, way := p.At(s)
			up := high * math.Sin(s*2*math.Pi/8)
			out = append(out, st.Point{X: c.X - up*way.Y, Y: c.Y + up*way.X})
		}
		return append(out, out[0])
	}
	for _, c := range []struct {
		name string
		sew  func(b *st.Builder)
		want string
	}{
		{"knots 8 mm apart", func(b *st.Builder) { b.JumpTo(st.Point{X: -59, Y: -59}); knots(b, inBlock(1), 8, 0.7) }, report.RoleDecoration},
		{"a line in stitches of 1.1 mm", func(b *st.Builder) { b.Run(inBlock(1), 1.1) }, report.RoleDecoration},
		{"a line in stitches of 1.3 mm", func(b *st.Builder) { b.Run(inBlock(1), 1.3) }, report.RoleBackingHoldDown},
		{"a line in waves 1.6 mm high", func(b *st.Builder) { b.Run(wave(1.6), 2.6) }, report.RoleBackingHoldDown},
		{"a line in waves 2.3 mm high", func(b *st.Builder) { b.Run(wave(2.3), 2.6) }, report.RoleDecoration},
	} {
		roles := blockOf(t, nil, func(b *st.Builder) { c.sew(b); b.TieOff() })
		if got := roles[len(roles)-1].Role; got != c.want {
			t.Errorf("%s after the cover is %s, want %s", c.name, got, c.want)
		}
	}
}

// A line round the block that is sewn twice without a cut holds one layer, and what is
// cut between holds two.
func TestHoldDownSewnTwice(t *testing.T) {
	for _, c := range []struct {
		name  string
		again func(b *st.Builder)
		lays  int
	}{
		{"sewn on", func(b *st.Builder) { b.Run(inBlock(-0.5), 2.5) }, 1},
		{"cut between", func(b *st.Builder) { b.TieOff().Trim().Run(inBlock(-0.5), 2.5) }, 2},
		{"0.5 mm off", func(b *st.Builder) { b.Run(inBlock(-1), 2.5) }, 2},
	} {
		rec := recognisedBlock(t, func(b *st.Builder) { c.again(b.Run(inBlock(-0.5), 2.5)) })
		lays := 0
		for _, s := range rec.Rehearsal.Steps {
			if s.Kind == report.StepLay && s.Stop == len(rec.Roles)-1 {
				lays++
			}
		}
		if lays != c.lays {
			t.Errorf("a last line round the block, %s: %d layers laid, want %d", c.name, lays, c.lays)
		}
	}
}

// A zigzag round the block whose middle ends a tooth or two short of where it began goes
// all round it.
func TestZigzagRoundTheBlockCloses(t *testing.T) {
	for _, c := range []struct {
		open float64
		want string
	}{{5, report.RoleBattingHoldDown}, {12, report.RoleDecoration}} {
		b := new(st.Builder).Run(inBlock(0), 2.5).TieOff().Stop()
		p := inBlock(0.5)
		b.OpenZigzag(p.Sample(int(p.Length()))[:int(p.Length()-c.open)], 2, 2).TieOff().Stop()
		b.Run(inBlock(0), 2.5).TieOff().Stop()
		ring := st.Circle(st.Point{}, 20)
		b.Run(ring, 2.5).TieOff().Stop().DoubleRun(ring.Offset(0.5), 2.2).TieOff().Stop()
		b.Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
		if got := recognised(t, b.Design()).Roles[1].Role; got != c.want {
			t.Errorf("a zigzag that leaves %.0f mm open is %s, want %s", c.open, got, c.want)
		}
	}
}

// Pieces that reach past the outline of their block, into its seam, lie on the cloth that
// two lines are for.
func TestPieceThatReachesIntoTheSeam(t *testing.T) {
	for _, c := range []struct {
		name string
		past float64 // mm
		hold bool    // the outline is gone round again, in a stop of its own
		want string
	}{
		{"8 mm past two lines", 8, true, report.RoleClothOutline},
		{"9 mm past two lines", 9, true, report.RoleDecoration},
		{"4 mm past one line", 4, false, report.RoleDecoration},
	} {
		b := new(st.Builder).Run(inBlock(0), 2.5).TieOff().Stop()
		if c.hold {
			b.Run(inBlock(0.5), 2.5).TieOff().Stop()
		}
		ring := st.Circle(st.Point{X: 60 + c.past - 29.5}, 30)
		b.Run(ring, 2.5).TieOff().Stop().DoubleRun(ring.Offset(0.5), 2.2).TieOff().Stop()
		b.Satin(ring, st.SatinAlong{Width: 3, Pitch: 0.4}).TieOff()
		if got := recognised(t, b.Design()).Roles[0].Role; got != c.want {
			t.Errorf("under a piece that reaches %s, the first line is %s, want %s", c.name, got, c.want)
		}
	}
}
