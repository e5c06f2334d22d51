package stitchtest

import (
	"image/color"
	"math"
	"slices"

	"github.com/stopcard/stopcard/stitchfile"
)

// Label is the truth about one stitch, as its maker intended it.
type Label uint8

const (
	Unlabelled Label = iota
	Run              // single line
	DoubleRun        // there and back, or twice round
	TripleRun        // each stitch forward, back, forward
	Satin
	OpenZigzag
	Fill
	Tie
	Travel
)

// Builder lays stitches. The zero value is ready to use and starts at the
// origin; positions are rounded to 0.1 mm, as every format does. Each method
// first brings the needle to its start: by a jump when nothing has been sewn
// since the last trim or stop, by running stitches along a straight line
// otherwise.
type Builder struct {
	Name   string
	Labels []Label // one for each stitch laid so far

	moves   []stitchfile.Move
	threads []stitchfile.Thread
	at      Point
	sewing  bool // a stitch was laid since the last cut
	label   Label
}

func tenth(v float64) int32 { return int32(math.Round(v * 10)) }

func (b *Builder) put(k stitchfile.Kind, p Point) {
	b.moves = append(b.moves, stitchfile.Move{X: tenth(p.X), Y: tenth(p.Y), Kind: k})
	b.at = p
	if k == stitchfile.Stitch {
		b.Labels = append(b.Labels, b.label)
		b.sewing = true
	}
}

// Thread sets the colour of the block being sewn.
func (b *Builder) Thread(c color.RGBA, name string) *Builder {
	block := 0
	for _, m := range b.moves {
		if m.Kind == stitchfile.ColourStop {
			block++
		}
	}
	for len(b.threads) <= block {
		b.threads = append(b.threads, stitchfile.Thread{})
	}
	b.threads[block] = stitchfile.Thread{Colour: c, Name: name}
	return b
}

// JumpTo moves to p with the needle up and does not cut.
func (b *Builder) JumpTo(p Point) *Builder {
	b.put(stitchfile.Jump, p)
	return b
}

// StitchTo sews one stitch to p.
func (b *Builder) StitchTo(p Point) *Builder {
	b.put(stitchfile.Stitch, p)
	return b
}

// As sets the label of the stitches that StitchTo lays; the other methods set
// their own.
func (b *Builder) As(l Label) *Builder {
	b.label = l
	return b
}

// start brings the needle to p, and down.
func (b *Builder) start(p Point) {
	if !b.sewing {
		b.put(stitchfile.Jump, p)
		b.put(stitchfile.Stitch, p)
		return
	}
	d := p.sub(b.at).length()
	if d < 0.05 {
		return
	}
	was := b.label
	if d > 1 {
		b.label = Travel
	}
	n := max(1, int(math.Ceil(d/2.5)))
	from := b.at
	for i := 1; i <= n; i++ {
		b.put(stitchfile.Stitch, lerp(from, p, float64(i)/float64(n)))
	}
	b.label = was
}

// along sews from where the needle is along p in steps of about length, keeping
// the corners of p that turn by more than 20 degrees.
func (b *Builder) along(p Path, length float64) {
	for _, part := range p.splitAtCorners(20) {
		n := max(1, int(math.Round(part.Length()/length)))
		for _, q := range part.Sample(n)[1:] {
			b.put(stitchfile.Stitch, q)
		}
	}
}

// splitAtCorners cuts the path wherever it turns by more than the given angle.
func (p Path) splitAtCorners(degrees float64) []Path {
	var parts []Path
	start := 0
	limit := math.Cos(degrees * math.Pi / 180)
	for i := 1; i < len(p)-1; i++ {
		u, v := p[i].sub(p[i-1]).unit(), p[i+1].sub(p[i]).unit()
		if u.X*v.X+u.Y*v.Y < limit {
			parts = append(parts, p[start:i+1])
			start = i
		}
	}
	return append(parts, p[start:])
}

// Run sews a single line along p with stitches of the given length in mm.
func (b *Builder) Run(p Path, length float64) *Builder {
	b.label = Run
	b.start(p[0])
	b.along(p, length)
	return b
}

// DoubleRun sews along p and back, or twice round when p is closed.
func (b *Builder) DoubleRun(p Path, length float64) *Builder {
	b.label = DoubleRun
	b.start(p[0])
	b.along(p, length)
	if p.Closed() {
		b.along(p, length)
	} else {
		b.along(p.Reverse(), length)
	}
	return b
}

// TripleRun sews along p with each stitch made forward, back and forward.
func (b *Builder) TripleRun(p Path, length float64) *Builder {
	b.label = TripleRun
	b.start(p[0])
	for _, part := range p.splitAtCorners(20) {
		q := part.Sample(max(1, int(math.Round(part.Length()/length))))
		for i := 1; i < len(q); i++ {
			b.put(stitchfile.Stitch, q[i])
			b.put(stitchfile.Stitch, q[i-1])
			b.put(stitchfile.Stitch, q[i])
		}
	}
	return b
}

// SatinAlong is how to lay satin along a path.
type SatinAlong struct {
	Width float64                 // mm, rail to rail
	Pitch float64                 // mm along the centre line between stitches on one rail
	Shape func(t float64) float64 // factor of the width at t from 0 to 1; nil means 1
	Split float64                 // longest stitch in mm before it is split by staggered inner penetrations; 0 means never
	Slant bool                    // stitches go straight across and slant back, instead of leaning evenly
	Label Label                   // Satin if left zero
}

// Satin sews satin centred on p. A closed path gives a ring without a seam.
func (b *Builder) Satin(p Path, s SatinAlong) *Builder {
	b.label = s.Label
	if b.label == Unlabelled {
		b.label = Satin
	}
	length := p.Length()
	n := max(1, int(math.Round(length/s.Pitch)))
	w := walker{p: p}
	rail := func(at float64, side float64) Point {
		c, dir := w.at(at)
		width := s.Width
		if s.Shape != nil {
			width *= s.Shape(at / length)
		}
		return c.add(dir.left().scale(side * width / 2))
	}
	half := 0.5
	if s.Slant {
		half = 0
	}
	started := false
	lay := func(q Point, k int) {
		if !started {
			b.start(q)
			started = true
			return
		}
		b.cross(q, s.Split, k)
	}
	for i := range n {
		lay(rail(length*float64(i)/float64(n), 1), 2*i)
		lay(rail(length*(float64(i)+half)/float64(n), -1), 2*i+1)
	}
	lay(rail(length, 1), 2*n)
	return b
}

// cross sews one crossing to q, split when longer than split.
func (b *Builder) cross(q Point, split float64, k int) {
	from := b.at
	l := q.sub(from).length()
	if split > 0 && l > split {
		n := int(math.Ceil(l / split))
		// A third of a step this way and that keeps the inner points from lining up.
		shift := []float64{0, 1.0 / 3, -1.0 / 3}[k%3]
		for i := 1; i < n; i++ {
			b.put(stitchfile.Stitch, lerp(from, q, (float64(i)+shift)/float64(n)))
		}
	}
	b.put(stitchfile.Stitch, q)
}

// Ladder sews satin as a ladder: across, along the rail, across, so that every
// stitch stands square to the path.
func (b *Builder) Ladder(p Path, width, pitch float64) *Builder {
	b.label = Satin
	length := p.Length()
	n := max(1, int(math.Round(length/pitch)))
	w := walker{p: p}
	for i := range n + 1 {
		c, dir := w.at(length * float64(i) / float64(n))
		side := 1.0
		if i%2 == 1 {
			side = -1
		}
		first := c.add(dir.left().scale(side * width / 2))
		if i == 0 {
			b.start(first)
		} else {
			b.put(stitchfile.Stitch, first)
		}
		b.put(stitchfile.Stitch, c.add(dir.left().scale(-side*width/2)))
	}
	return b
}

// OpenZigzag sews a zigzag of the given width centred on p, with so wide a pitch
// that cloth shows between.
func (b *Builder) OpenZigzag(p Path, width, pitch float64) *Builder {
	return b.Satin(p, SatinAlong{Width: width, Pitch: pitch, Label: OpenZigzag})
}

// Fill sews rows of running stitches inside the closed outline, rows spacing mm
// apart and stitches of the given length, the rows turned by angle radians.
// Where the outline is not convex each row is cut into its inner parts, and
// the parts are sewn region by region.
func (b *Builder) Fill(outline Path, spacing, length, angle float64) *Builder {
	b.label = Fill
	sin, cos := math.Sincos(-angle)
	turn := func(p Point) Point { return Point{p.X*cos - p.Y*sin, p.X*sin + p.Y*cos} }
	back := func(p Point) Point { return Point{p.X*cos + p.Y*sin, -p.X*sin + p.Y*cos} }
	o := outline.Map(turn)
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range o {
		lo, hi = min(lo, p.Y), max(hi, p.Y)
	}
	type span struct {
		y, x0, x1 float64
		row       int
	}
	var regions [][]span
	var open []int // regions that may go on in the next row
	for row, y := 0, lo+spacing/2; y < hi; row, y = row+1, y+spacing {
		var xs []float64
		for i := 1; i < len(o); i++ {
			p, q := o[i-1], o[i]
			if (p.Y <= y) != (q.Y <= y) {
				xs = append(xs, p.X+(y-p.Y)/(q.Y-p.Y)*(q.X-p.X))
			}
		}
		slices.Sort(xs)
		var next []int
		for i := 0; i+1 < len(xs); i += 2 {
			s := span{y, xs[i], xs[i+1], row}
			into := -1
			for _, r := range open {
				last := regions[r][len(regions[r])-1]
				if last.row == row-1 && last.x0 < s.x1 && s.x0 < last.x1 && !slices.Contains(next, r) {
					into = r
					break
				}
			}
			if into < 0 {
				regions = append(regions, nil)
				into = len(regions) - 1
			}
			regions[into] = append(regions[into], s)
			next = append(next, into)
		}
		open = next
	}
	for _, region := range regions {
		for k, s := range region {
			from, to := Point{s.x0, s.y}, Point{s.x1, s.y}
			if k%2 == 1 {
				from, to = to, from
			}
			b.label = Fill
			if k == 0 {
				b.start(back(from))
			} else {
				b.put(stitchfile.Stitch, back(from))
			}
			// Penetrations of neighbouring rows are staggered by thirds.
			shift := length * float64(s.row%3) / 3
			l := to.sub(from).length()
			for d := length - shift; d < l-0.3; d += length {
				if d > 0.3 {
					b.put(stitchfile.Stitch, back(lerp(from, to, d/l)))
				}
			}
			b.put(stitchfile.Stitch, back(to))
		}
	}
	return b
}

// TieIn sews lock stitches at p before a thread path, leading towards dir.
func (b *Builder) TieIn(p, dir Point) *Builder { return b.tie(p, dir) }

// TieOff sews lock stitches where the needle is.
func (b *Builder) TieOff() *Builder { return b.tie(b.at, Point{1, 0}) }

func (b *Builder) tie(p, dir Point) *Builder {
	b.label = Tie
	b.start(p)
	b.label = Tie
	step := dir.unit().scale(0.6)
	for _, k := range []float64{1, 0, 1, 0} {
		b.put(stitchfile.Stitch, p.add(step.scale(k)))
	}
	return b
}

// Trim cuts the thread.
func (b *Builder) Trim() *Builder {
	b.put(stitchfile.Trim, b.at)
	b.sewing = false
	return b
}

// Stop makes a colour stop.
func (b *Builder) Stop() *Builder {
	b.put(stitchfile.ColourStop, b.at)
	b.sewing = false
	return b
}

// Halt makes a plain halt: the same thread goes on.
func (b *Builder) Halt() *Builder {
	b.put(stitchfile.ColourStop, b.at)
	b.moves[len(b.moves)-1].Mark = stitchfile.MarkHalt
	b.sewing = false
	return b
}

// At is where the needle is, in mm.
func (b *Builder) At() Point { return b.at }

// Design is the design laid so far, closed with an End move.
func (b *Builder) Design() *stitchfile.Design {
	moves := append(slices.Clone(b.moves), stitchfile.Move{X: tenth(b.at.X), Y: tenth(b.at.Y), Kind: stitchfile.End})
	return &stitchfile.Design{
		Format:  "built",
		Name:    b.Name,
		Threads: slices.Clone(b.threads),
		Moves:   moves,
		Claims:  stitchfile.NoClaims,
	}
}
