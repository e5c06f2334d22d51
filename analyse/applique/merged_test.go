package applique

import (
	"math"
	"testing"

	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// What looks like a piece all in one stop is told where the thread is cut or tied off between
// its lines, and not where a satin goes on from its underlay, over a fill, or alone.
func TestPausesLost(t *testing.T) {
	ring := st.Circle(st.Point{}, 30)
	satin := st.SatinAlong{Width: 4, Pitch: 0.4}
	sew := func(f func(b *st.Builder)) int {
		var b st.Builder
		f(&b)
		return len(recognised(t, b.Design()).Merged)
	}
	mesh := func(b *st.Builder, wide float64) {
		b.Run(ring, 2.5).Trim()
		for x := -27.0; x <= 27; x += wide {
			half := math.Sqrt(27*27 - x*x)
			if half > 1 {
				b.Run(st.Line(st.Point{X: x, Y: -half}, st.Point{X: x, Y: half}), 2).Trim()
			}
		}
		b.DoubleRun(ring.Offset(0.5), 2.2).Trim().Satin(ring, satin)
	}
	arc := func(share float64) st.Path { return ring[:int(share*float64(len(ring)))] }
	for _, c := range []struct {
		name string
		lay  func(b *st.Builder)
		want int
	}{
		{"cut twice", func(b *st.Builder) {
			b.Run(ring, 2.5).Trim().DoubleRun(ring.Offset(0.5), 2.2).Trim().Satin(ring, satin)
		}, 1},
		{"a zigzag", func(b *st.Builder) {
			b.Run(ring, 2.5).Trim().OpenZigzag(ring.Offset(0.5), 1.5, 2).Trim().Satin(ring, satin)
		}, 1},
		{"a second line 1.4 mm inside", func(b *st.Builder) {
			b.Run(ring, 2.5).Trim().DoubleRun(ring.Offset(1.4), 2.2).Trim().Satin(ring, satin)
		}, 0},
		{"a second line 1 mm inside", func(b *st.Builder) { b.Run(ring, 2.5).Trim().DoubleRun(ring.Offset(1), 2.2).Trim().Satin(ring, satin) }, 1},
		{"satin of 0.95 of the way", func(b *st.Builder) {
			b.Run(ring, 2.5).Trim().DoubleRun(ring.Offset(0.5), 2.2).Trim().Satin(arc(0.95), satin)
		}, 1},
		{"satin of 0.8 of the way", func(b *st.Builder) {
			b.Run(ring, 2.5).Trim().DoubleRun(ring.Offset(0.5), 2.2).Trim().Satin(arc(0.8), satin)
		}, 0},
		{"no cut before the satin", func(b *st.Builder) { b.Run(ring, 2.5).Trim().DoubleRun(ring.Offset(0.5), 2.2).Satin(ring, satin) }, 0},
		{"no cut after the line", func(b *st.Builder) { b.Run(ring, 2.5).DoubleRun(ring.Offset(1), 2.2).Trim().Satin(ring, satin) }, 0},
		{"tied off twice", func(b *st.Builder) {
			b.Run(ring, 2.5).TieOff().DoubleRun(ring.Offset(0.5), 2.2).TieOff().Satin(ring, satin)
		}, 1},
		{"tied off and cut", func(b *st.Builder) {
			b.Run(ring, 2.5).TieOff().DoubleRun(ring.Offset(0.5), 2.2).Trim().Satin(ring, satin)
		}, 1},
		{"tied off after the line alone", func(b *st.Builder) {
			b.Run(ring, 2.5).TieOff().DoubleRun(ring.Offset(0.5), 2.2).Satin(ring, satin)
		}, 0},
		{"tied off before the satin alone", func(b *st.Builder) {
			b.Run(ring, 2.5).DoubleRun(ring.Offset(1), 2.2).TieOff().Satin(ring, satin)
		}, 0},
		{"one line", func(b *st.Builder) { b.Run(ring, 2.5).Trim().Satin(ring, satin) }, 0},
		{"filled", func(b *st.Builder) {
			b.Fill(ring, 0.4, 4, 0.5).Trim().Run(ring, 2.5).Trim().DoubleRun(ring.Offset(0.5), 2.2).Trim().Satin(ring, satin)
		}, 0},
		{"over a mesh 3 mm wide", func(b *st.Builder) { mesh(b, 3) }, 0},
		{"over a mesh 9 mm wide", func(b *st.Builder) { mesh(b, 9) }, 1},
		{"with pauses", func(b *st.Builder) {
			b.Run(ring, 2.5).Stop().DoubleRun(ring.Offset(0.5), 2.2).Stop().Satin(ring, satin)
		}, 0},
		{"underlay cut from the satin of a piece", func(b *st.Builder) {
			b.Run(ring, 2.5).Stop().DoubleRun(ring.Offset(0.5), 2.2).Stop()
			b.Run(ring.Offset(-1), 2.5).Trim().Run(ring.Offset(0.9), 2.5).Trim().OpenZigzag(ring, 2.5, 2.5).Trim().Satin(ring, satin)
		}, 0},
		{"two of them", func(b *st.Builder) {
			for _, r := range []st.Path{ring, st.Circle(st.Point{X: 90}, 25)} {
				b.Run(r, 2.5).Trim().DoubleRun(r.Offset(0.5), 2.2).Trim().Satin(r, satin).Trim()
			}
		}, 2},
	} {
		if got := sew(c.lay); got != c.want {
			t.Errorf("%s: %d sets whose pauses may be lost, want %d", c.name, got, c.want)
		}
	}
}

// A line that is sewn there and back along an open way is that line, sewn twice.
func TestLineSewnThereAndBack(t *testing.T) {
	way := st.Arc(st.Point{}, 30, 0.4, 5.6)
	back := way.Reverse()
	for _, c := range []struct {
		name string
		lay  func(b *st.Builder)
		want int
	}{
		{"all the way", func(b *st.Builder) { b.Run(way, 2.5).Run(back, 2.5) }, 2},
		{"0.85 of the way back", func(b *st.Builder) { b.Run(way, 2.5).Run(back[:len(back)*85/100], 2.5) }, 2},
		{"0.7 of the way back", func(b *st.Builder) { b.Run(way, 2.5).Run(back[:len(back)*70/100], 2.5) }, 1},
	} {
		var b st.Builder
		c.lay(&b)
		traces := recognised(t, b.Design()).Traces
		if len(traces) == 0 || traces[0].times != c.want {
			t.Errorf("a line %s: %d lines, the first sewn %d times, want %d", c.name, len(traces), traces[0].times, c.want)
		}
	}
}
