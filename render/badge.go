package render

import (
	"image"
	"image/color"
	"math"
)

// badges are numbers on small plates that keep clear of one another.
type badges struct {
	taken []image.Rectangle
}

// maxBadges bounds the plates of one picture: more would hide what they mark.
const maxBadges = 200

// add puts a plate near a place, on the nearest free spot round it, with a leader to
// a ring round the place itself.
func (b *badges) add(s *sheet, img *image.RGBA, x, y float64, text string, c color.RGBA) {
	if len(b.taken) >= maxBadges {
		return
	}
	// Text on a plate of any colour could not be held to 7:1, so the plate is
	// white with a band of the colour; only colours that bear white text fill it.
	ground, band := white, max(2, int(s.em/4))
	if contrast(c, white) >= 7 && c != ink {
		ground, band = c, 1
	}
	p := newPen(img, s.em, true, readable(ground))
	w, h := p.width(text)+int(s.em*0.4)+2*band, int(s.em*1.15)+2*band
	gap := int(s.em / 6)
	spot := func(dx, dy float64) image.Rectangle {
		left, top := int(x+dx)-w/2, int(y+dy)-h/2
		left = max(s.field.Min.X+gap, min(left, s.field.Max.X-w-gap))
		top = max(s.field.Min.Y+gap, min(top, s.field.Max.Y-h-gap))
		return image.Rect(left, top, left+w, top+h)
	}
	// A ring stands round the place, and nothing on it: what is marked stays to be
	// seen.
	ring := s.em * 0.55
	free := func(r image.Rectangle) bool {
		if image.Pt(int(x), int(y)).In(r.Inset(-int(ring) - gap)) {
			return false
		}
		for _, t := range b.taken {
			if r.Inset(-gap).Overlaps(t) {
				return false
			}
		}
		return true
	}
	best := spot(0, -s.em*1.6)
search:
	for far := 1.8; far < 14; far += 0.8 {
		for k := range 12 {
			// Above the place first, then to either side of that.
			turn := float64((k+1)/2) * math.Pi / 6
			if k%2 == 1 {
				turn = -turn
			}
			if r := spot(math.Sin(turn)*far*s.em*1.2, -math.Cos(turn)*far*s.em); free(r) {
				best = r
				break search
			}
		}
	}
	b.taken = append(b.taken, best)
	cx, cy := float64(best.Min.X+w/2), float64(best.Min.Y+h/2)
	fx, fy := x, y // where the leader leaves the ring
	if d := math.Hypot(cx-x, cy-y); d > ring {
		fx, fy = x+(cx-x)/d*ring, y+(cy-y)/d*ring
	}
	l := threadPainter{img: img}
	for _, pass := range []struct {
		c     color.RGBA
		thick float64
	}{{white, s.em / 3}, {ink, s.em / 8}} {
		l.line(pass.c, pass.thick)
		l.stitch(fx, fy, cx, cy)
		for k := range 24 {
			s0, c0 := math.Sincos(float64(k) / 24 * 2 * math.Pi)
			s1, c1 := math.Sincos(float64(k+1) / 24 * 2 * math.Pi)
			l.stitch(x+ring*c0, y+ring*s0, x+ring*c1, y+ring*s1)
		}
	}
	edge := max(1, int(s.em/12))
	box(img, best.Inset(-edge), white)
	box(img, best, ink)
	box(img, best.Inset(edge), c)
	box(img, best.Inset(edge+band), ground)
	p.write(best.Min.X+(w-p.width(text))/2, best.Max.Y-band-int(s.em/4), text)
}
