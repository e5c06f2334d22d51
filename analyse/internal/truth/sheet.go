package truth

import (
	"math"

	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// Labelled is a design with the truth about each of its stitches.
type Labelled struct {
	Name   string
	Design *stitchfile.Design
	Labels []st.Label // one for each stitch, in order; Unlabelled is not judged
	Also   []st.Label // a second answer that is as right; Unlabelled where there is none

	// Columns is how many satin columns there are, or -1 where strokes run into
	// one another, so that they may be counted this way or that.
	Columns int
}

// place is where and how a recipe is laid: turned, mirrored, moved and scaled.
// Only paths scale; widths, pitches and stitch lengths stay.
type place struct {
	turn   float64 // radians, counter-clockwise, after mirroring
	mirror bool    // left becomes right
	scale  float64
	dx, dy float64
}

func (l place) pt(x, y float64) st.Point {
	x, y = x*l.scale, y*l.scale
	if l.mirror {
		x = -x
	}
	sin, cos := math.Sincos(l.turn)
	return st.Point{X: x*cos - y*sin + l.dx, Y: x*sin + y*cos + l.dy}
}

func (l place) path(p st.Path) st.Path {
	return p.Map(func(q st.Point) st.Point { return l.pt(q.X, q.Y) })
}

// angle is where a direction of a radians in the recipe ends up.
func (l place) angle(a float64) float64 {
	if l.mirror {
		a = math.Pi - a
	}
	return a + l.turn
}

func (l place) dir(x, y float64) st.Point {
	a := l.pt(x, y)
	o := l.pt(0, 0)
	return st.Point{X: a.X - o.X, Y: a.Y - o.Y}
}

// sheet is a builder that also keeps second answers.
type sheet struct {
	st.Builder
	place
	also []st.Label
	runs bool // satin strokes run into one another
}

// either marks the stitches that f lays as being l just as well.
func (s *sheet) either(l st.Label, f func()) {
	first := len(s.Labels)
	f()
	for len(s.also) < len(s.Labels) {
		s.also = append(s.also, st.Unlabelled)
	}
	for i := first; i < len(s.Labels); i++ {
		s.also[i] = l
	}
}

func (s *sheet) labelled(name string) Labelled {
	for len(s.also) < len(s.Labels) {
		s.also = append(s.also, st.Unlabelled)
	}
	l := Labelled{Name: name, Design: s.Design(), Labels: s.Labels, Also: s.also}
	l.markSingleRows()
	l.markTravel()
	l.Columns = l.satinRuns()
	if s.runs {
		l.Columns = -1
	}
	return l
}

// markTravel gives travel its second answers: where it leads on from a single
// line, or into one, the two are one line; and the hop from a column's middle to
// its rail lies in the column.
func (l *Labelled) markTravel() {
	var at []st.Point
	for _, m := range l.Design.Moves {
		if m.Kind == stitchfile.Stitch {
			at = append(at, xy(float64(m.X)/10, float64(m.Y)/10))
		}
	}
	for i := 0; i < len(at); i++ {
		if l.Labels[i] != st.Travel || i == 0 {
			continue
		}
		j, length := i, 0.0
		for ; j < len(at) && l.Labels[j] == st.Travel; j++ {
			length += math.Hypot(at[j].X-at[j-1].X, at[j].Y-at[j-1].Y)
		}
		before, after := l.Labels[i-1], st.Unlabelled
		if j < len(at) {
			after = l.Labels[j]
		}
		second := st.Unlabelled
		switch {
		case before == st.Run || after == st.Run:
			second = st.Run
		case length <= 3 && (after == st.Satin || after == st.OpenZigzag):
			second = after
		}
		for k := i; k < j; k++ {
			l.Also[k] = second
		}
		i = j
	}
}

// satinRuns counts the unbroken parts labelled satin.
func (l *Labelled) satinRuns() int {
	n, i, in := 0, 0, false
	for _, m := range l.Design.Moves {
		if m.Kind != stitchfile.Stitch {
			in = false
			continue
		}
		satin := l.Labels[i] == st.Satin
		if satin && !in {
			n++
		}
		in = satin
		i++
	}
	return n
}

// markSingleRows lets fill rows of one stitch, as in the tips of a leaf, be
// satin too: there the two are the same stitches.
func (l *Labelled) markSingleRows() {
	var at []st.Point
	for _, m := range l.Design.Moves {
		if m.Kind == stitchfile.Stitch {
			at = append(at, xy(float64(m.X)/10, float64(m.Y)/10))
		}
	}
	fill := func(i int) bool { return i > 0 && i < len(at) && l.Labels[i] == st.Fill }
	vec := func(i int) (x, y, length float64) {
		x, y = at[i].X-at[i-1].X, at[i].Y-at[i-1].Y
		return x, y, math.Hypot(x, y)
	}
	// ends reports whether stitch i ends a row where j follows or goes before.
	ends := func(i, j int) bool {
		if !fill(j) {
			return true
		}
		x, y, a := vec(i)
		u, v, b := vec(j)
		return b < 0.7 || x*u+y*v < -0.9*a*b
	}
	single := func(i int) bool { return fill(i) && ends(i, i-1) && ends(i, i+1) }
	for i := range at {
		if single(i) && (single(i-1) || single(i+1)) {
			l.Also[i] = st.Satin
		}
	}
}

func xy(x, y float64) st.Point { return st.Point{X: x, Y: y} }

func line(x0, y0, x1, y1 float64) st.Path { return st.Line(xy(x0, y0), xy(x1, y1)) }

// circle is closed and counter-clockwise.
func circle(x, y, r float64) st.Path { return st.Circle(xy(x, y), r) }

func rect(x, y, w, h float64) st.Path { return st.Rect(xy(x, y), w, h) }

// wave is a sine along X of the given length, height and number of waves.
func wave(x, y, length, height, waves float64) st.Path {
	n := int(length * 4)
	p := make(st.Path, n+1)
	for i := range p {
		t := float64(i) / float64(n)
		p[i] = xy(x+length*t, y+height*math.Sin(2*math.Pi*waves*t))
	}
	return p
}

// leaf is a closed pointed oval along X.
func leaf(x, y, length, width float64) st.Path {
	n := int(length * 3)
	var p st.Path
	for i := range n {
		t := float64(i) / float64(n)
		p = append(p, xy(x+length*(t-0.5), y-width/2*math.Sin(math.Pi*t)))
	}
	for i := range n {
		t := 1 - float64(i)/float64(n)
		p = append(p, xy(x+length*(t-0.5), y+width/2*math.Sin(math.Pi*t)))
	}
	return append(p, p[0])
}

// star is closed, with tips at radius r and inner corners at radius q.
func star(x, y, r, q float64, tips int) st.Path {
	var p st.Path
	for i := range 2 * tips {
		rad := r
		if i%2 == 1 {
			rad = q
		}
		sin, cos := math.Sincos(math.Pi*float64(i)/float64(tips) + math.Pi/2)
		p = append(p, xy(x+rad*cos, y+rad*sin))
	}
	return append(p, p[0])
}

// heart is closed, with a point below and a notch above, about size mm wide.
func heart(x, y, size float64) st.Path {
	const n = 180
	p := make(st.Path, n+1)
	k := size / 32
	for i := range p {
		a := -2 * math.Pi * float64(i%n) / n
		sin, cos := math.Sincos(a)
		p[i] = xy(x+k*16*sin*sin*sin, y+k*(13*cos-5*math.Cos(2*a)-2*math.Cos(3*a)-math.Cos(4*a)))
	}
	return p
}

// blob is an irregular closed outline around radius r.
func blob(x, y, r float64) st.Path {
	const n = 240
	p := make(st.Path, n+1)
	for i := range p {
		a := 2 * math.Pi * float64(i%n) / n
		sin, cos := math.Sincos(a)
		q := r * (1 + 0.14*math.Sin(3*a+0.7) + 0.07*math.Cos(5*a))
		p[i] = xy(x+q*cos, y+q*sin)
	}
	return p
}
