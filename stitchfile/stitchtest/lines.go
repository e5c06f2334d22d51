package stitchtest

import (
	"math"

	"github.com/stopcard/stopcard/stitchfile"
)

// Bean sews along p with each stitch made forward, back and forward again: three
// threads side by side, or five where times is 5. Times must be odd.
func (b *Builder) Bean(p Path, length float64, times int) *Builder {
	b.label = TripleRun
	b.start(p[0])
	b.label = TripleRun
	for _, part := range p.splitAtCorners(20) {
		q := part.Sample(max(1, int(math.Round(part.Length()/length))))
		for i := 1; i < len(q); i++ {
			for k := range times {
				b.put(stitchfile.Stitch, q[i-k%2])
			}
		}
	}
	return b
}

// Rounds sews a closed path the given number of times, one round after another.
func (b *Builder) Rounds(p Path, length float64, times int) *Builder {
	b.label = Run
	switch times {
	case 2:
		b.label = DoubleRun
	case 3:
		b.label = TripleRun
	}
	was := b.label
	b.start(p[0])
	b.label = was
	for range times {
		b.along(p, length)
	}
	return b
}

// Dashed sews p as dashes of a few stitches with the thread lying loose over
// the gaps between them: dash and gap in mm, stitches of the given length.
func (b *Builder) Dashed(p Path, length, dash, gap float64) *Builder {
	b.label = Run
	b.start(p[0])
	b.label = Run
	total := p.Length()
	n := max(1, int(math.Round((total+gap)/(dash+gap))))
	each := (total+gap)/float64(n) - gap
	w := walker{p: p}
	for i := range n {
		from := float64(i) * (each + gap)
		if i > 0 {
			q, _ := w.at(from)
			b.put(stitchfile.Jump, q)
			b.put(stitchfile.Stitch, q)
		}
		steps := max(1, int(math.Round(each/length)))
		for k := 1; k <= steps; k++ {
			q, _ := w.at(from + each*float64(k)/float64(steps))
			b.put(stitchfile.Stitch, q)
		}
	}
	return b
}

// Motif sews a figure again and again along p, each pitch mm wide. The figure
// is drawn with X along p from 0 to 1 of the pitch and Y in mm to its left; it
// should begin at 0, 0 and end at 1, 0.
func (b *Builder) Motif(p, figure Path, pitch float64) *Builder {
	b.label = Run
	total := p.Length()
	n := max(1, int(math.Round(total/pitch)))
	each := total / float64(n)
	for i := range n {
		for k, f := range figure {
			if k == 0 && i > 0 {
				continue
			}
			c, dir := p.At(min(total, each*(float64(i)+f.X)))
			q := c.add(dir.left().scale(f.Y))
			if i == 0 && k == 0 {
				b.start(q)
				b.label = Run
			} else {
				b.put(stitchfile.Stitch, q)
			}
		}
	}
	return b
}

// Rough is the path as a hand guides it: it wanders to either side by up to
// about amount mm, slowly. Each seed wanders another way; a closed path stays
// closed.
func (p Path) Rough(amount float64, seed int) Path {
	total := p.Length()
	n := max(8, int(total))
	q := make(Path, n+1)
	w := walker{p: p}
	f := func(k int) float64 { return math.Mod(float64(seed)*0.754877*float64(k)+float64(k)*0.569840, 1) }
	for i := range q {
		s := total * float64(i) / float64(n)
		c, dir := w.at(s)
		var d float64
		for k := 1; k <= 3; k++ {
			// Whole waves round the path, 12 to 40 mm long.
			waves := math.Max(1, math.Round(total/(12+14*float64(k-1)+6*f(k))))
			d += math.Sin(2*math.Pi*(waves*s/total+f(k+3))) / 2
		}
		q[i] = c.add(dir.left().scale(amount * d / 1.5))
	}
	if p.Closed() {
		q[n] = q[0]
	}
	return q
}
