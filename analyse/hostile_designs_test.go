package analyse

import (
	"image/color"
	"math"
	"math/rand/v2"

	"github.com/stopcard/stopcard/stitchfile"
)

// pen draws designs stitch by stitch, in mm, up to about most moves.
type pen struct {
	d    *stitchfile.Design
	most int
}

func newPen(most int) *pen {
	return &pen{&stitchfile.Design{Claims: stitchfile.NoClaims}, most}
}

func (p *pen) left() bool { return len(p.d.Moves) < p.most }

func (p *pen) move(x, y float64, kind stitchfile.Kind) {
	p.d.Moves = append(p.d.Moves, stitchfile.Move{X: int32(math.Round(x * 10)), Y: int32(math.Round(y * 10)), Kind: kind})
}

func (p *pen) to(x, y float64) { p.move(x, y, stitchfile.Stitch) }

func (p *pen) then(kind stitchfile.Kind) {
	if n := len(p.d.Moves); n > 0 {
		p.d.Moves = append(p.d.Moves, stitchfile.Move{X: p.d.Moves[n-1].X, Y: p.d.Moves[n-1].Y, Kind: kind})
	}
}

func (p *pen) trim() { p.then(stitchfile.Trim) }
func (p *pen) stop() { p.then(stitchfile.ColourStop) }

// ring is a line round a place, closed and cut.
func (p *pen) ring(x, y, r float64) {
	n := max(8, int(2*math.Pi*r/2.5))
	for i := range n + 1 {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		p.to(x+r*c, y+r*s)
	}
	p.trim()
}

// satinRing is satin round a place, so many times.
func (p *pen) satinRing(x, y, r, width, pitch float64, rounds int) {
	n := max(8, int(2*math.Pi*r/pitch*2))
	for i := range n*rounds + 2 {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		q := r + width*(float64(i%2)-0.5)
		p.to(x+q*c, y+q*s)
	}
	p.trim()
}

// pieces sews one piece of applique at each place, all lines in one stop, then all
// tack-downs, then all covers.
func (p *pen) pieces(at [][3]float64) {
	for range 2 {
		for _, q := range at {
			p.ring(q[0], q[1], q[2])
		}
		p.stop()
	}
	for _, q := range at {
		p.satinRing(q[0], q[1], q[2], 4, 0.4, 1)
	}
	p.stop()
}

// places are n places in rows, so far apart.
func places(n int, apart, r float64) (at [][3]float64) {
	row := int(math.Ceil(math.Sqrt(float64(n))))
	for i := range n {
		at = append(at, [3]float64{float64(i%row) * apart, float64(i/row) * apart, r})
	}
	return at
}

// crowds are designs that would make each step that holds things against one another
// look at every pair.
func crowds(n int) map[string]*stitchfile.Design {
	rnd := rand.New(rand.NewPCG(3, 4))
	out := map[string]*stitchfile.Design{}
	draw := func(name string, f func(p *pen)) {
		p := newPen(n)
		f(p)
		out[name] = p.d
	}
	until := func(f func(p *pen)) func(p *pen) {
		return func(p *pen) {
			for p.left() {
				f(p)
			}
		}
	}
	draw("stacked pieces", func(p *pen) { p.pieces(make3(n/150, func(int) [3]float64 { return [3]float64{0, 0, 4} })) })
	draw("nested pieces", func(p *pen) {
		k := int(math.Sqrt(float64(n) / 20))
		p.pieces(make3(k, func(i int) [3]float64 { return [3]float64{0, 0, 4 + float64(i)*80/float64(k)} }))
	})
	draw("piece by piece", func(p *pen) { p.pieces(places(n/200, 11, 4)) })
	draw("pieces among scraps", func(p *pen) {
		for range 2 {
			for _, q := range places(25, 40, 15) {
				p.ring(q[0], q[1], q[2])
			}
			for range n / 10 {
				x, y := rnd.Float64()*200, rnd.Float64()*200
				p.to(x, y)
				p.to(x+1, y+1)
				p.trim()
			}
			p.stop()
		}
		for _, q := range places(25, 40, 15) {
			p.satinRing(q[0], q[1], q[2], 4, 0.4, 1)
		}
	})
	draw("pieces and idle stops", func(p *pen) {
		p.pieces(places(min(300, n/300), 11, 4))
		for p.left() {
			p.to(rnd.Float64()*200, 0)
			p.stop()
		}
	})
	draw("cover of scraps", func(p *pen) {
		at := places(100, 20, 8)
		for range 2 {
			for _, q := range at {
				p.ring(q[0], q[1], q[2])
			}
			p.stop()
		}
		for i := 0; p.left(); i++ {
			q := at[i%len(at)]
			for k := range 8 {
				s, c := math.Sincos(float64(i) + float64(k)*0.03)
				r := q[2] + 4*(float64(k%2)-0.5)
				p.to(q[0]+r*c, q[1]+r*s)
			}
			p.trim()
		}
	})
	draw("pieces moved aside", func(p *pen) {
		// Lines that others are, moved aside: near to one another, and no cover over most.
		for i := 0; p.left(); i++ {
			x, y := 6*float64(i%40), 6*float64(i/40%40)
			p.ring(x, y, 10)
			if p.stop(); i%4 == 3 {
				p.satinRing(x, y, 10, 4, 1, 1)
				p.stop()
			}
		}
	})
	draw("dashes round and round", func(p *pen) {
		p.ring(0, 0, 40)
		p.stop()
		for a := 0.0; p.left(); a += 0.08 {
			for k := range 3 {
				s, c := math.Sincos(a + 0.02*float64(k))
				p.to(40*c, 40*s)
			}
			p.trim()
		}
	})
	seams := func(p *pen, most int) {
		for len(p.d.Moves) < most {
			p.ring(0, 0, 60)
			p.stop()
		}
	}
	draw("seams after pieces", func(p *pen) { p.pieces(places(4, 20, 6)); seams(p, n) })
	draw("seams before pieces", func(p *pen) { seams(p, n-3000); p.pieces(places(4, 20, 6)) })
	draw("long stitches over pieces", func(p *pen) {
		p.pieces(places(25, 20, 8))
		for p.left() {
			p.to(rnd.Float64()*100, 0)
			p.to(rnd.Float64()*100, 45)
		}
	})
	draw("crossed columns", until(func(p *pen) {
		at, across := rnd.Float64()*100, len(p.d.Moves)/501%2
		for i := range 500 {
			x, y := float64(i)*0.2, at+4*float64(i%2)
			if across == 1 {
				x, y = y, x
			}
			p.to(x, y)
		}
		p.trim()
	}))
	draw("satin round and round", func(p *pen) { p.satinRing(0, 0, 20, 4, 0.4, n/630) })
	draw("open satin round and round", func(p *pen) { p.satinRing(0, 0, 20, 5, 1.0, n/250) })
	draw("satin round a piece again and again", func(p *pen) {
		p.pieces(places(1, 0, 20))
		p.satinRing(0, 0, 20, 4, 0.4, n/630)
	})
	draw("rows upon rows", until(func(p *pen) {
		for row := range 125 {
			for i := range 21 {
				x := float64(i) * 2.5
				if row%2 == 1 {
					x = 50 - x
				}
				p.to(x, float64(row)*0.4)
			}
		}
	}))
	draw("a long column and many short", func(p *pen) {
		for i := 0; len(p.d.Moves) < n/2; i++ {
			p.to(float64(i%2)*4, float64(i)*0.5)
		}
		for p.left() {
			at := float64(len(p.d.Moves))
			p.trim()
			for i := range 12 {
				p.to(at+float64(i)*0.2, 4*float64(i%2))
			}
		}
	})
	draw("pieces past all measure", func(p *pen) {
		for stop := range 3 {
			for i := range min(300, n/60) {
				r := 4e4 + 100*float64(i) + 5*float64(stop)
				for range 2 {
					for _, c := range [][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}, {-1, -1}} {
						p.to(r*c[0], r*c[1])
					}
				}
				p.trim()
			}
			p.stop()
		}
		for p.left() {
			p.to(rnd.Float64()*100, 0)
		}
	})
	draw("loops", until(func(p *pen) {
		s, c := math.Sincos(float64(len(p.d.Moves)) * 0.7)
		t := float64(len(p.d.Moves)) * 0.5
		p.to(math.Mod(t, 100)+2*c, math.Mod(t/50, 100)+2*s)
	}))
	draw("few across and many tiny", until(func(p *pen) {
		switch i := len(p.d.Moves); {
		case float64(i) < 2*math.Sqrt(float64(n)):
			p.to(1e5*float64(i%2), 1e5*float64(i%2))
		default:
			p.to(float64(i%1000)*100, float64(i/1000)*300)
			p.to(float64(i%1000)*100+0.3, float64(i/1000)*300)
			p.trim()
		}
	}))
	draw("there and back", until(func(p *pen) { p.to(1e5*float64(len(p.d.Moves)%2), rnd.Float64()) }))
	draw("a colour to every stop", until(func(p *pen) {
		i := len(p.d.Moves) / 3
		p.to(float64(i%100), float64(i/100))
		p.to(float64(i%100)+2, float64(i/100))
		p.stop()
		p.d.Threads = append(p.d.Threads, stitchfile.Thread{Colour: color.RGBA{byte(i), byte(i >> 8), byte(i >> 16), 255}})
	}))
	return out
}

func make3(n int, f func(i int) [3]float64) (at [][3]float64) {
	for i := range n {
		at = append(at, f(i))
	}
	return at
}
