package stitchtest

import (
	"math"

	"github.com/stopcard/stopcard/stitchfile"
)

// Rails sews satin between two rails that run the same way, with the given
// pitch in mm along the mean of the two. A crossing longer than split is sewn in
// several stitches; 0 means never.
func (b *Builder) Rails(left, right Path, pitch, split float64) *Builder {
	b.label = Satin
	ll, rl := left.Length(), right.Length()
	n := max(1, int(math.Round((ll+rl)/2/pitch)))
	lw, rw := walker{p: left}, walker{p: right}
	for i := range n {
		l, _ := lw.at(ll * float64(i) / float64(n))
		r, _ := rw.at(rl * (float64(i) + 0.5) / float64(n))
		if i == 0 {
			b.start(l)
		} else {
			b.cross(l, split, 2*i)
		}
		b.label = Satin
		b.cross(r, split, 2*i+1)
	}
	end, _ := lw.at(ll)
	b.cross(end, split, 2*n)
	return b
}

// Mitred sews satin along a path of straight legs whose corners are mitred: the
// crossings of each leg stand square to it and end on the line from the inner
// to the outer corner. Legs must be longer than the column is wide.
func (b *Builder) Mitred(p Path, width, pitch float64) *Builder {
	b.label = Satin
	closed := p.Closed()
	left, right := p.Offset(width/2), p.Offset(-width/2)
	first := true
	for leg := 0; leg+1 < len(p); leg++ {
		dir := p[leg+1].sub(p[leg]).unit()
		along := func(q Point) float64 { d := q.sub(p[leg]); return d.X*dir.X + d.Y*dir.Y }
		// The rails of the leg end in its mitres, so one is longer than the other.
		l0, l1 := along(left[leg]), along(left[leg+1])
		r0, r1 := along(right[leg]), along(right[leg+1])
		if leg == 0 && !closed {
			l0, r0 = 0, 0
		}
		lo, hi := min(l0, r0), max(l1, r1)
		// cut keeps a crossing within the mitres at both ends of the leg.
		cut := func(s, side float64) Point {
			u := side * width / 2
			if d := (l0 - r0) / width; s < max(l0, r0) && d != 0 {
				if v := (s - (l0+r0)/2) / d; (d > 0) == (u > v) {
					u = v
				}
			}
			if d := (l1 - r1) / width; s > min(l1, r1) && d != 0 {
				if v := (s - (l1+r1)/2) / d; (d < 0) == (u > v) {
					u = v
				}
			}
			return p[leg].add(dir.scale(s)).add(dir.left().scale(u))
		}
		n := max(1, int(math.Round((hi-lo)/pitch)))
		step := (hi - lo) / float64(n)
		for i := range n {
			q := cut(lo+step*(float64(i)+0.25), 1)
			if first {
				b.start(q)
				b.label = Satin
				first = false
			} else {
				b.put(stitchfile.Stitch, q)
			}
			b.put(stitchfile.Stitch, cut(lo+step*(float64(i)+0.75), -1))
		}
	}
	return b
}

// ShortStitches sews satin in which every other penetration on the inner rail
// of a bend stops short by the share pull of the width, so that the holes there
// do not crowd.
func (b *Builder) ShortStitches(p Path, s SatinAlong, pull float64) *Builder {
	b.label = Satin
	length := p.Length()
	n := max(1, int(math.Round(length/s.Pitch)))
	step := length / float64(n)
	at := func(d, side float64, k int) Point {
		c, dir := p.At(d)
		_, before := p.At(max(0, d-step))
		_, after := p.At(min(length, d+step))
		turn := before.X*after.Y - before.Y*after.X // above 0: to the left
		half := s.Width / 2
		if turn*side > 1e-4 && k%2 == 1 {
			half -= pull * s.Width
		}
		return c.add(dir.left().scale(side * half))
	}
	for i := range n {
		q := at(step*float64(i), 1, i)
		if i == 0 {
			b.start(q)
			b.label = Satin
		} else {
			b.put(stitchfile.Stitch, q)
		}
		b.put(stitchfile.Stitch, at(step*(float64(i)+0.5), -1, i))
	}
	b.put(stitchfile.Stitch, at(length, 1, 0))
	return b
}

// EStitch sews a blanket stitch along p: at every pitch a stitch out to the left
// by reach and back, then on along p.
func (b *Builder) EStitch(p Path, reach, pitch float64) *Builder {
	b.label = OpenZigzag
	length := p.Length()
	n := max(1, int(math.Round(length/pitch)))
	w := walker{p: p}
	for i := range n + 1 {
		c, dir := w.at(length * float64(i) / float64(n))
		if i == 0 {
			b.start(c)
			b.label = OpenZigzag
		} else {
			b.put(stitchfile.Stitch, c)
		}
		b.put(stitchfile.Stitch, c.add(dir.left().scale(reach)))
		b.put(stitchfile.Stitch, c)
	}
	return b
}

// EdgeRun sews the underlay of a column of the given width along p: there
// inside one rail and back inside the other, inset mm from each.
func (b *Builder) EdgeRun(p Path, width, inset, length float64) *Builder {
	b.label = Run
	left, right := p.Offset(width/2-inset), p.Offset(inset-width/2)
	b.start(left[0])
	b.label = Run
	b.along(left, length)
	if !p.Closed() {
		right = right.Reverse()
	}
	b.put(stitchfile.Stitch, right[0])
	b.along(right, length)
	return b
}

// Lock sews n lock stitches of the given length to and fro at p.
func (b *Builder) Lock(p, dir Point, length float64, n int) *Builder {
	b.label = Tie
	b.start(p)
	b.label = Tie
	for i := range n {
		q := p
		if i%2 == 0 {
			q = p.add(dir.unit().scale(length))
		}
		b.put(stitchfile.Stitch, q)
	}
	return b
}
