package applique

import (
	"math"
	"testing"

	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// bananaPath is a bent strip, so many times as large and turned by so many degrees.
func bananaPath(size, degrees float64) st.Path {
	var p st.Path
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	add := func(r, a float64) {
		x, y := r*math.Cos(a), r*math.Sin(a)-26
		p = append(p, st.Point{X: size * (x*cos - y*sin), Y: size * (x*sin + y*cos)})
	}
	for k := range 41 {
		add(34, math.Pi*(0.15+0.7*float64(k)/40))
	}
	for k := range 41 {
		add(18, math.Pi*(0.85-0.7*float64(k)/40))
	}
	return append(p, p[0])
}

// ovalPath is an oval of 70 by 54 mm, so many times as large.
func ovalPath(size float64) st.Path {
	p := st.Circle(st.Point{}, size)
	for i := range p {
		p[i].X, p[i].Y = 35*p[i].X, 27*p[i].Y
	}
	return p
}

// A cover that is turned, or of another size, lies over no line; it is known by its shape where
// the machine stops between line, tack-down and satin, and sews nothing else there.
func TestCoverTurnedOrOfAnotherSize(t *testing.T) {
	satin := st.SatinAlong{Width: 3.6, Pitch: 0.4}
	line := bananaPath(1, 0)
	block := st.Rect(st.Point{}, 100, 90)
	wave := st.Path{{X: -45, Y: -40}, {X: 45, Y: -40}, {X: 45, Y: -36}, {X: -45, Y: -36}, {X: -45, Y: -32}, {X: 45, Y: -32}}
	for _, c := range []struct {
		name     string
		size, by float64
		outline  bool // of the block
		inStop   int  // that sews a wave beside; 0 for none
		oval     bool // the piece is an oval, and broad
		want     bool
	}{
		{"turned by 20 degrees", 1, 20, true, 0, false, true},
		{"turned by 33 degrees", 1, 33, true, 0, false, true},
		{"turned by 36 degrees", 1, 36, true, 0, false, false},
		{"turned by 180 degrees and 20", 1, 200, true, 0, false, false},
		{"1.27 times as large", 1.27, 0, true, 0, false, true},
		{"1.34 times as large", 1.34, 0, true, 0, false, false},
		{"0.78 times as large", 0.78, 0, true, 0, true, true},
		{"0.74 times as large", 0.74, 0, true, 0, true, false},
		{"0.78 times as large, with no outline round it", 0.78, 0, false, 0, true, false},
		{"1.27 times as large, with no outline round it", 1.27, 0, false, 0, false, true},
		{"with much else in the stop of the line", 1, 20, true, 1, false, false},
		{"with much else in the stop of the tack-down", 1, 20, true, 2, false, false},
	} {
		b := new(st.Builder)
		if c.outline {
			b.Run(block, 2.5).TieOff().Stop()
		}
		line, cover := line, bananaPath(c.size, c.by)
		if c.oval {
			line, cover = ovalPath(1), ovalPath(c.size)
		}
		for k := range 2 {
			b.Run(line, 2.4).TieOff()
			if c.inStop == k+1 {
				b.Trim().Run(wave, 2.4).TieOff()
			}
			b.Stop()
		}
		b.Satin(cover, satin).TieOff()
		w := recognised(t, b.Design()).Pieces
		if got := len(w) == 1 && w[0].LostTurned && w[0].LostBy > lostLeast; got != c.want {
			t.Errorf("satin %s: %d pieces, its cover: %v, want %v", c.name, len(w), got, c.want)
		}
	}
}

// What else the stop of a satin sews tells that it is no cover put elsewhere.
func TestCoverTurnedAmongOtherStitching(t *testing.T) {
	line := bananaPath(1, 0)
	for _, c := range []struct {
		mm   float64 // of running stitches in the stop of the satin, which takes 3,200 mm
		want bool
	}{{1500, true}, {3500, false}} {
		b := new(st.Builder).Run(st.Rect(st.Point{}, 100, 90), 2.5).TieOff().Stop()
		b.Run(line, 2.4).TieOff().Stop().Run(line, 2.4).TieOff().Stop()
		b.Satin(bananaPath(1, 20), st.SatinAlong{Width: 3.6, Pitch: 0.4}).TieOff().Trim()
		for y := 0.0; y < c.mm/90; y++ {
			b.Run(st.Line(st.Point{X: -45, Y: -40 + y/4}, st.Point{X: 45, Y: -40 + y/4}), 2.5).Trim()
		}
		w := recognised(t, b.Design()).Pieces
		if got := len(w) == 1 && w[0].LostTurned; got != c.want {
			t.Errorf("with %.0f mm of lines: %d pieces, its cover: %v, want %v", c.mm, len(w), got, c.want)
		}
	}
}

// A satin with its own underlay is a cover put elsewhere as well.
func TestCoverMovedWithItsUnderlay(t *testing.T) {
	ring, moved := st.Circle(st.Point{}, 25), st.Circle(st.Point{X: 5}, 25)
	for _, c := range []struct {
		name string
		lay  func(b *st.Builder)
	}{
		{"none", func(b *st.Builder) {}},
		{"a line", func(b *st.Builder) { b.Run(moved, 2.5) }},
		{"a zigzag", func(b *st.Builder) { b.OpenZigzag(moved, 2.4, 2.2) }},
	} {
		b := new(st.Builder).Run(ring, 2.5).TieOff().Stop().Run(ring, 2.2).TieOff().Stop()
		c.lay(b)
		b.Satin(moved, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
		w := recognised(t, b.Design()).Pieces
		if len(w) != 1 || math.Abs(w[0].LostBy-5) > 0.3 || w[0].LostTurned {
			t.Errorf("underlay %s: %d pieces, want one whose cover lies 5 mm aside", c.name, len(w))
		}
	}
}
